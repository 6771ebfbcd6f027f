// Makes of whatever was sent a plain JPEG: checked by its content, bounded, turned upright, with nothing else left in it.
import { createHash } from "node:crypto";
import { type Checked, fail } from "#contract/faults.ts";
import { LARGEST_PHOTO_BYTES, MOST_PHOTO_POINTS, PHOTO_EDGE, THUMB_EDGE } from "#contract/photo-limits.ts";

export interface MadePhoto {
  /** SHA-256 of `jpeg`. */
  readonly id: string;
  readonly sentSha256: string;
  readonly jpeg: Uint8Array;
  readonly thumb: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
}

const QUALITY = 84;
const THUMB_QUALITY = 70;
/** A picture that takes longer than this to unpack was made to. */
const PATIENCE_S = 20;
const MOST_WAITING = 8;

/** First bytes of the three kinds (JPEG: ITU T.81 B.1.1.3; PNG: RFC 2083 3.1; WebP: RFC 9649 2.1). */
function kindOf(bytes: Uint8Array): "jpeg" | "png" | "webp" | null {
  const at = (from: number, text: string) =>
    Buffer.from(bytes.subarray(from, from + text.length)).toString("latin1") === text;
  if (at(0, "\xff\xd8\xff")) return "jpeg";
  if (at(0, "\x89PNG\r\n\x1a\n")) return "png";
  return at(0, "RIFF") && at(8, "WEBP") ? "webp" : null;
}

const shaOf = (bytes: Uint8Array) => createHash("sha256").update(bytes).digest("hex");

async function made(bytes: Uint8Array): Promise<Checked<MadePhoto>> {
  if (bytes.length === 0) return fail("/", "is empty");
  if (bytes.length > LARGEST_PHOTO_BYTES) return fail("/", `is larger than ${LARGEST_PHOTO_BYTES / 2 ** 20} MB`);
  const kind = kindOf(bytes);
  if (kind === null) return fail("/", "is not a JPEG, PNG or WebP picture, whatever its name says");
  // The library takes memory that a server without pictures can keep.
  const { default: sharp } = await import("sharp");
  // One frame; the first fault of the file ends it, since half a picture proves nothing.
  const read = () =>
    sharp(bytes, { failOn: "error", limitInputPixels: MOST_PHOTO_POINTS, pages: 1, sequentialRead: true });
  try {
    const { format, width, height } = await read().metadata();
    if (format !== kind) return fail("/", `begins like ${kind} and is not`);
    if (width * height > MOST_PHOTO_POINTS)
      return fail(
        "/",
        `has ${width} x ${height} points: more than ${MOST_PHOTO_POINTS / 1e6} million are not unpacked`,
      );
    // Upright by the camera's word, then without it. What sharp is not told to keep it leaves out.
    const { data, info } = await read()
      .rotate()
      .resize({ width: PHOTO_EDGE, height: PHOTO_EDGE, fit: "inside", withoutEnlargement: true })
      .flatten({ background: "#ffffff" })
      .toColourspace("srgb")
      .jpeg({ quality: QUALITY })
      .timeout({ seconds: PATIENCE_S })
      .toBuffer({ resolveWithObject: true });
    const thumb = await sharp(data)
      .resize({ width: THUMB_EDGE, height: THUMB_EDGE, fit: "inside", withoutEnlargement: true })
      .jpeg({ quality: THUMB_QUALITY })
      .toBuffer();
    return {
      ok: true,
      value: {
        id: shaOf(data),
        sentSha256: shaOf(bytes),
        jpeg: data,
        thumb,
        widthPx: info.width,
        heightPx: info.height,
      },
    };
  } catch (error) {
    const said = error instanceof Error ? (error.message.split("\n")[0] ?? "") : "";
    if (/pixel limit/i.test(said))
      return fail("/", `has more than ${MOST_PHOTO_POINTS / 1e6} million points: not unpacked`);
    return fail("/", `cannot be read to its end: ${said.slice(0, 200)}`);
  }
}

/** One picture after the other: unpacked, a picture takes twenty times the memory of its file. */
export function createPhotoMaker(): (bytes: Uint8Array) => Promise<Checked<MadePhoto>> {
  let last: Promise<unknown> = Promise.resolve();
  let waiting = 0;
  return (bytes) => {
    if (waiting >= MOST_WAITING)
      return Promise.resolve(fail("/", "comes while too many others are read: send it again"));
    waiting += 1;
    const turn = last.then(() => made(bytes)).finally(() => (waiting -= 1));
    last = turn.catch(() => undefined);
    return turn;
  };
}
