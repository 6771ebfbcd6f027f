// What is large is handed out in pieces: while a job or a night file goes out, others are answered.
import { unzipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { SiteReading } from "../../server/store/ports.ts";
import { openStore } from "../../server/store/store.ts";
import { type ZipFile, zipOf } from "../../server/record/zip.ts";
import { runApp, type RunningApp } from "../support/running-app.ts";
import { NODE, NOON_MS, OUTDOORS, SITE, ZONE } from "../support/small-site.ts";

const MINUTE_MS = 60_000;
const HOURS = 60;

/** Counts how often the loop came round until the work was done. */
async function turnsOf(work: Promise<unknown>): Promise<number> {
  let turns = 0;
  let done = false;
  const count = () => {
    turns += 1;
    if (!done) setImmediate(count);
  };
  setImmediate(count);
  await work.finally(() => (done = true));
  return turns;
}

describe("a zip file", () => {
  it("packs a large file in pieces, between which the loop comes round", async () => {
    const bytes = Uint8Array.from({ length: 8 * 1024 * 1024 }, (_, index) => (index * index) % 251);
    async function* files(): AsyncGenerator<ZipFile> {
      yield { path: "large.bin", chunks: [bytes] };
      yield { path: "empty.txt", chunks: [""] };
    }
    const parts: Uint8Array[] = [];
    const reading = (async () => {
      for await (const part of zipOf(files(), new Date(NOON_MS))) parts.push(part);
    })();
    expect(await turnsOf(reading)).toBeGreaterThan(100);
    const unpacked = unzipSync(Buffer.concat(parts));
    expect(Buffer.compare(unpacked["large.bin"] as Uint8Array, bytes)).toBe(0);
    expect(unpacked["empty.txt"]).toHaveLength(0);
  });
});

describe("a server with much to hand out", () => {
  let running: RunningApp;
  beforeAll(async () => {
    const first = await runApp({ shut: true });
    await first.stop();
    const store = openStore(first.data);
    const readings = Array.from({ length: HOURS * 60 }, (_, minute) => NOON_MS - (minute + 1) * MINUTE_MS).flatMap(
      (atMs): SiteReading[] =>
        [NODE.id, OUTDOORS.id].flatMap((node) =>
          ["slab", "slab.2", "slab.3", "air", "rh"].map((quantity) => ({
            ...{ site: SITE.id, node, quantity, atMs },
            value: quantity === "rh" ? 60 + (atMs % 7) : 12 + (atMs % 11) / 10,
          })),
        ),
    );
    store.readings.append(readings.map((reading) => ({ ...reading, heardMs: reading.atMs + 500 })));
    store.close();
    running = await runApp({ data: first.data, empty: true, atMs: NOON_MS + MINUTE_MS });
  }, 60_000);
  afterAll(() => running.end());

  /** How often somebody else was answered, one question after the other, before the large answer was whole. */
  async function answeredWhile(path: string): Promise<{ readonly bytes: number; readonly answered: number }> {
    let bytes: number | null = null;
    const large = fetch(`${running.httpUrl}${path}`).then(async (answer) => {
      expect(answer.status).toBe(200);
      bytes = (await answer.arrayBuffer()).byteLength;
    });
    let answered = 0;
    while (bytes === null) {
      expect((await fetch(`${running.httpUrl}/api/v1/sites`)).status).toBe(200);
      answered += 1;
    }
    await large;
    return { bytes, answered };
  }

  it("answers others while a night file goes out", async () => {
    const path = `/api/v1/sites/${SITE.id}/zones/${ZONE.id}/night-file`;
    const { bytes, answered } = await answeredWhile(path);
    expect(bytes).toBeGreaterThan(1_000_000);
    expect(answered).toBeGreaterThan(2);
    const file = (await (await fetch(`${running.httpUrl}${path}`)).json()) as { readings: unknown[] };
    expect(file.readings.length).toBeGreaterThanOrEqual(HOURS * 60 * 10);
  });

  it("answers others while a job goes out", async () => {
    const { bytes, answered } = await answeredWhile(`/api/v1/sites/${SITE.id}/export.zip`);
    expect(bytes).toBeGreaterThan(50_000);
    expect(answered).toBeGreaterThan(5);
  });
});
