// Pictures: what is kept of an honest one, and what is said of each that is not.
import { createHash } from "node:crypto";
import { deflateSync, crc32 } from "node:zlib";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { LARGEST_PHOTO_BYTES } from "#contract/photo-limits.ts";
import { createPhotoMaker } from "../../server/record/photo.ts";

const make = createPhotoMaker();
const sha = (bytes: Uint8Array) => createHash("sha256").update(bytes).digest("hex");
const picture = (width: number, height: number) =>
  sharp({ create: { width, height, channels: 3, background: { r: 40, g: 90, b: 60 } } });

async function made(bytes: Uint8Array) {
  const answer = await make(bytes);
  if (!answer.ok) expect.fail(JSON.stringify(answer.faults));
  return answer.value;
}

async function reasonFor(bytes: Uint8Array): Promise<string> {
  const answer = await make(bytes);
  if (answer.ok) expect.fail("was taken");
  expect(answer.faults).toHaveLength(1);
  expect(answer.faults[0]?.field).toBe("/");
  return answer.faults[0]?.reason ?? "";
}

/** A PNG of one chunk of header that claims any size, over a few bytes of real data (chunks: RFC 2083, 3.2 and 4.1). */
function pngOf(width: number, height: number): Buffer {
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
    const ends = Buffer.alloc(8);
    ends.writeUInt32BE(data.length, 0);
    ends.writeUInt32BE(crc32(body) >>> 0, 4);
    return Buffer.concat([ends.subarray(0, 4), body, ends.subarray(4)]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 0, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from("\x89PNG\r\n\x1a\n", "latin1"),
    chunk("IHDR", head),
    chunk("IDAT", deflateSync(Buffer.alloc(64))),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

describe("an honest picture", () => {
  it("is turned upright, made smaller, and carries nothing that the camera wrote", async () => {
    const place = { IFD0: { Copyright: "somebody" }, IFD3: { GPSLatitudeRef: "N", GPSLatitude: "60/1 1/1 1/1" } };
    const sent = await picture(3000, 1000)
      .withExif(place)
      .withMetadata({ orientation: 6, exif: place })
      .jpeg()
      .toBuffer();
    expect((await sharp(sent).metadata()).exif).toBeDefined();
    expect(sent.includes("somebody")).toBe(true);
    const kept = await made(sent);
    const { format, exif, icc, xmp, iptc, orientation } = await sharp(kept.jpeg).metadata();
    expect({ format, exif, icc, xmp, iptc, orientation }).toEqual({ format: "jpeg" });
    expect(Buffer.from(kept.jpeg).includes("somebody")).toBe(false);
    // Orientation 6 is a quarter turn (EXIF 2.32, 4.6.4 A): 3000 x 1000 stands 1000 x 3000, and the longest edge is held.
    expect([kept.widthPx, kept.heightPx]).toEqual([800, 2400]);
    expect([kept.id, kept.sentSha256]).toEqual([sha(kept.jpeg), sha(sent)]);
    const small = await sharp(kept.thumb).metadata();
    expect([small.format, small.width, small.height]).toEqual(["jpeg", 120, 360]);
  });

  it.each(["png", "webp", "jpeg"] as const)(
    "may come as %s, is not blown up, and gives the same bytes every time",
    async (format) => {
      const sent = await picture(64, 48).toFormat(format).toBuffer();
      const [first, second] = [await made(sent), await made(sent)];
      expect([first.widthPx, first.heightPx, first.id]).toEqual([64, 48, second.id]);
    },
  );

  it("loses what was hung on behind it", async () => {
    const plain = await picture(64, 48).jpeg().toBuffer();
    const both = Buffer.concat([plain, Buffer.from("PK\x03\x04<script>alert(1)</script>")]);
    const kept = await made(both);
    expect(Buffer.from(kept.jpeg).includes("script")).toBe(false);
    expect(kept.id).toBe((await made(plain)).id);
    expect(kept.sentSha256).toBe(sha(both));
  });
});

describe("a picture that is none", () => {
  it("is refused for what it is, whatever it is called", async () => {
    const NO = "is not a JPEG, PNG or WebP picture, whatever its name says";
    expect(await reasonFor(Buffer.alloc(0))).toBe("is empty");
    expect(await reasonFor(Buffer.from("<svg xmlns='http://www.w3.org/2000/svg'/>"))).toBe(NO);
    expect(await reasonFor(Buffer.from("%PDF-1.7\n"))).toBe(NO);
    expect(await reasonFor(await picture(8, 8).gif().toBuffer())).toBe(NO);
    expect(await reasonFor(Buffer.from("\xff\xd8\xff\xe0 and then words", "latin1"))).toMatch(
      /^cannot be read|^begins like/,
    );
    expect(await reasonFor(Buffer.alloc(LARGEST_PHOTO_BYTES + 1, 1))).toBe("is larger than 8 MB");
  });

  it.each(["png", "webp", "jpeg"] as const)("is refused when half of it is missing (%s)", async (format) => {
    const noise = await sharp(
      Buffer.from(Array.from({ length: 300 * 200 * 3 }, (_, i) => (i * 7919 + (i >> 5)) % 251)),
      {
        raw: { width: 300, height: 200, channels: 3 },
      },
    )
      .toFormat(format)
      .toBuffer();
    await made(noise);
    expect(await reasonFor(noise.subarray(0, noise.length / 2))).toMatch(/^cannot be read to its end/);
  });

  it("is not unpacked when it claims to be huge, in one direction or in both", async () => {
    for (const [width, height] of [
      [60_000, 60_000],
      [1_000_000, 100],
    ] as const)
      expect(await reasonFor(pngOf(width, height))).toMatch(/million/);
    expect(await reasonFor(pngOf(5000, 5000))).toMatch(/^cannot be read to its end/);
  });

  it("waits its turn, and is sent away when too many wait", async () => {
    const sent = await picture(600, 400).png().toBuffer();
    const answers = await Promise.all(Array.from({ length: 12 }, () => make(sent)));
    expect(answers.filter(({ ok }) => ok)).toHaveLength(8);
    expect(answers.flatMap((answer) => (answer.ok ? [] : answer.faults.map(({ reason }) => reason)))).toEqual(
      Array.from({ length: 4 }, () => "comes while too many others are read: send it again"),
    );
    await made(sent);
  });
});
