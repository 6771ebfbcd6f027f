// What goes over a thin line goes small, where whoever asks can read that.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { brotliCompressSync, brotliDecompressSync, gunzipSync, gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Door, openDoor } from "../support/http-door.ts";

let door: Door;
beforeAll(async () => {
  door = await openDoor();
});
afterAll(() => door.app.close());

const board = (headers: Record<string, string>, method: "GET" | "HEAD" = "GET", remoteAddress = "127.0.0.1") =>
  door.app.inject({ method, url: "/api/v1/sites/boathouse/board", headers, remoteAddress });

describe("an answer of the API", () => {
  it("is packed for who can read it, and the same when unpacked", async () => {
    const plain = await board({});
    const packed = await board({ "accept-encoding": "br;q=1, gzip;q=0.8" });
    expect(plain.headers["content-encoding"]).toBeUndefined();
    expect(packed.headers).toMatchObject({ "content-encoding": "gzip", "cache-control": "no-store" });
    expect([plain, packed].map(({ headers }) => headers["vary"])).toEqual([
      expect.stringContaining("accept-encoding"),
      expect.stringContaining("accept-encoding"),
    ]);
    expect(packed.rawPayload.length).toBeLessThan(plain.rawPayload.length / 3);
    expect(JSON.parse(gunzipSync(packed.rawPayload).toString())).toMatchObject({ site: plain.json().site });
  });

  it.each(["identity", "gzip;q=0", "gzip; q=0.0", "br", ""])('is left as it is for "%s"', async (coding) => {
    const answer = await board({ "accept-encoding": coding });
    expect(answer.headers["content-encoding"]).toBeUndefined();
    expect(answer.statusCode).toBe(200);
  });

  it("that is short, or has no body, is left as it is", async () => {
    const short = await door.app.inject({ url: "/api/v1/access", headers: { "accept-encoding": "gzip" } });
    expect(short.headers["content-encoding"]).toBeUndefined();
    expect((await board({ "accept-encoding": "gzip" }, "HEAD")).headers["content-encoding"]).toBeUndefined();
  });
});

describe("a file of the page", () => {
  let folder: string;
  let own: Door;
  const PAGE = `<!doctype html><title>Nightslab</title>${"<p>words</p>".repeat(200)}`;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "nightslab-page-"));
    await writeFile(join(folder, "index.html"), PAGE);
    await writeFile(join(folder, "index.html.br"), brotliCompressSync(PAGE));
    await writeFile(join(folder, "index.html.gz"), gzipSync(PAGE));
    await writeFile(join(folder, "lone.js"), "export {};");
    own = await openDoor({ dashboardDir: folder });
  });
  afterAll(async () => {
    await own.app.close();
    await rm(folder, { recursive: true });
  });
  const file = (url: string, coding: string) => own.app.inject({ url, headers: { "accept-encoding": coding } });

  it("goes as the build packed it, by what the browser reads", async () => {
    const br = await file("/", "gzip, br");
    expect(br.headers).toMatchObject({
      "content-encoding": "br",
      "content-type": expect.stringContaining("text/html"),
    });
    expect(brotliDecompressSync(br.rawPayload).toString()).toBe(PAGE);
    const gz = await file("/some/page", "gzip, deflate");
    expect(gunzipSync(gz.rawPayload).toString()).toBe(PAGE);
    expect((await file("/", "identity")).body).toBe(PAGE);
    expect(br.headers["cache-control"]).toBe("no-cache");
  });

  it("that was not packed goes as it is", async () => {
    const lone = await file("/lone.js", "gzip, br");
    expect(lone.headers["content-encoding"]).toBeUndefined();
    expect(lone.body).toBe("export {};");
  });
});
