// Old readings are thinned, evidence is not, digests stand, and the check says what is no longer here.
import { mkdirSync, writeFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import Libsql from "libsql";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { evidenceIn } from "../../server/core/record/evidence-spans.ts";
import type { JournalEntry } from "../../server/core/zone/journal.ts";
import { checkJob } from "../../server/record/check-job.ts";
import { chainFiles } from "../../server/record/job-export.ts";
import { chainNow } from "../../server/record/heads-now.ts";
import { checkChain } from "../../server/store/chain-check.ts";
import { DATABASE_FILE } from "../../server/store/database.ts";
import type { RetentionWish } from "../../server/store/retention.ts";
import { wrap } from "../../server/store/sql.ts";
import { type EmbeddedStore, openStore } from "../../server/store/store.ts";
import { verify } from "../../server/verify.ts";
import { NOON_MS, SITE } from "../support/small-site.ts";

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
const START_MS = NOON_MS - (NOON_MS % DAY_MS);

const reading = (atMs: number, node = "bay-1", heardMs = atMs + 5) => ({
  ...{ site: SITE.id, node, quantity: "slab", heardMs },
  atMs,
  value: Math.round(1000 + 50 * Math.sin(atMs / 3_600_000)) / 100,
});

/** A reading a minute for half an hour of each of four days, on two nodes. */
function fill(store: EmbeddedStore): void {
  store.records.putSite(SITE, START_MS);
  const all = [0, 1, 2, 3].flatMap((day) =>
    Array.from({ length: 30 }, (_, minute) => START_MS + day * DAY_MS + 3_600_000 + minute * MINUTE_MS),
  );
  store.readings.append(["bay-1", "ramp-1"].flatMap((node) => all.map((atMs) => reading(atMs, node))));
}

describe("retention", () => {
  let folder: string;
  let store: EmbeddedStore;
  const wish = (more: Partial<RetentionWish> = {}): RetentionWish => ({
    keepRawDays: 30,
    deleteAfterDays: null,
    nowMs: START_MS + 33 * DAY_MS,
    isEvidence: () => false,
    delivered: () => true,
    isOver: () => false,
    ...more,
  });
  const timesOf = (node: string, day: number) =>
    store.readings.range(SITE.id, node, "slab", START_MS + day * DAY_MS, START_MS + (day + 1) * DAY_MS - 1).atMs;
  const check = () => {
    const db = new Libsql(join(folder, DATABASE_FILE));
    const sound = checkChain(wrap(db));
    db.close();
    return sound;
  };

  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "nightslab-retention-"));
    store = openStore(folder);
    fill(store);
    await store.heads.closeDays(START_MS + 33 * DAY_MS, () => false);
  });
  afterEach(async () => {
    store.close();
    await rm(folder, { recursive: true, force: true });
  });

  it("leaves one reading in five minutes of days that are old, as it was read, and nothing else changed", async () => {
    const before = store.readings.range(SITE.id, "bay-1", "slab", 0, Number.MAX_SAFE_INTEGER);
    expect(await store.retention.run(SITE.id, wish())).toEqual({ thinnedRows: 144, deletedRows: 0, finished: true });
    expect([0, 1, 2, 3].map((day) => timesOf("bay-1", day).length)).toEqual([6, 6, 6, 30]);
    const after = store.readings.range(SITE.id, "bay-1", "slab", 0, Number.MAX_SAFE_INTEGER);
    for (const [index, atMs] of after.atMs.entries()) {
      const was = before.atMs.indexOf(atMs);
      expect([after.values[index], after.heardMs[index]]).toEqual([before.values[was], before.heardMs[was]]);
    }
    expect(timesOf("bay-1", 0).map((atMs) => (atMs - START_MS) / MINUTE_MS)).toEqual([60, 65, 70, 75, 80, 85]);
    // Once is enough: nothing is read again, and a later round goes on with the days that have grown old since.
    expect(await store.retention.run(SITE.id, wish())).toMatchObject({ thinnedRows: 0, finished: true });
    expect(await store.retention.run(SITE.id, wish({ nowMs: START_MS + 34 * DAY_MS }))).toMatchObject({
      thinnedRows: 48,
    });
  });

  it("leaves every series of a day that holds evidence, so that its digest can still be checked", async () => {
    const secondDay = START_MS + DAY_MS;
    const isEvidence = (node: string, atMs: number) =>
      node === "bay-1" && atMs >= secondDay + 3_600_000 + 29 * MINUTE_MS && atMs < secondDay + DAY_MS;
    await store.retention.run(SITE.id, wish({ isEvidence, deleteAfterDays: 31 }));
    expect([0, 1, 2, 3].map((day) => timesOf("bay-1", day).length)).toEqual([0, 30, 6, 30]);
    expect([0, 1, 2, 3].map((day) => timesOf("ramp-1", day).length)).toEqual([0, 0, 6, 30]);
    expect(check()).toMatchObject([{ days: 4, readings: 240, thinned: 5 }]);
  });

  it("takes nothing away that has not been delivered, and goes on when it has", async () => {
    const delivered = (throughMs: number) => throughMs <= START_MS + DAY_MS;
    expect(await store.retention.run(SITE.id, wish({ delivered }))).toMatchObject({ thinnedRows: 48, finished: false });
    expect(timesOf("bay-1", 1)).toHaveLength(30);
    expect(await store.retention.run(SITE.id, wish())).toMatchObject({ thinnedRows: 96, finished: true });
  });

  it("stops when it is told to and goes on from there", async () => {
    let steps = 0;
    expect(await store.retention.run(SITE.id, wish({ isOver: () => ++steps > 3 }))).toMatchObject({ finished: false });
    expect([0, 1, 2].map((day) => timesOf("bay-1", day).length)).toEqual([6, 6, 30]);
    check();
    await store.retention.run(SITE.id, wish());
    expect(timesOf("bay-1", 2)).toHaveLength(6);
  });

  it("is told by the check of an export: the digests stand, the rows are no longer here; a slip elsewhere is found", async () => {
    await store.retention.run(SITE.id, wish({ isEvidence: (_, atMs) => atMs < START_MS + DAY_MS }));
    const cutMs = START_MS + 33 * DAY_MS;
    const chain = await chainNow(store.heads, SITE.id, cutMs);
    const out = join(folder, "export");
    const contents = new Map<string, Uint8Array>();
    for (const { path, chunks } of chainFiles(store.heads, SITE.id, chain)) {
      const text: string[] = [];
      for (const chunk of chunks) text.push(chunk as string);
      contents.set(path, Buffer.from(text.join("")));
      mkdirSync(dirname(join(out, path)), { recursive: true });
      writeFileSync(join(out, path), text.join(""));
    }
    expect(checkJob(contents)).toMatchObject({ ok: true, readings: 240, thinnedSeries: 4, thinnedDays: 2 });
    const said: string[] = [];
    expect(verify([out], (line) => said.push(line))).toBe(0);
    expect(said.join("\n")).toContain("4 series on 2 days were thinned by age: their digests stand, their rows are no");

    const spoilt = (path: string, from: RegExp, to: string) =>
      checkJob(
        new Map(contents).set(
          path,
          Buffer.from(
            Buffer.from(contents.get(path) ?? "")
              .toString()
              .replace(from, to),
          ),
        ),
      );
    const evidence = "chain/readings/2026-02-03.csv";
    expect(spoilt(evidence, /bay-1,slab,(\d+),[\d.]+/, "bay-1,slab,$1,3")).toMatchObject({
      broken: { day: "2026-02-03", what: "a reading is not what was hashed" },
    });
    expect(spoilt("chain/heads.json", /"digest": "[0-9a-f]{8}/g, '"digest": "00000000')).toMatchObject({ ok: false });
    const more = contents.get("chain/readings/2026-02-04.csv") ?? new Uint8Array();
    const padded = `${Buffer.from(more).toString()}ramp-1,slab,${START_MS + 2 * DAY_MS},4,${START_MS + 2 * DAY_MS}\r\n`;
    expect(checkJob(new Map(contents).set("chain/readings/2026-02-04.csv", Buffer.from(padded)))).toMatchObject({
      broken: { what: "has more readings than were left of it" },
    });
    expect(checkJob(new Map(contents).set("chain/thinned.json", Buffer.from("{}")))).toMatchObject({
      broken: { kind: "file", what: "is no list of thinned series" },
    });
  });
});

describe("evidence", () => {
  const base = { id: "e", by: null, heardMs: NOON_MS };
  const H = 3_600_000;
  const journal: JournalEntry[] = [
    { ...base, zone: "bay", atMs: NOON_MS, did: "poured", coat: 0, fromMs: NOON_MS, toMs: NOON_MS + H },
    { ...base, zone: "bay", atMs: NOON_MS, did: "split", into: [{ id: "bay-a", areaM2: 1 }] },
    { ...base, zone: "ramp", atMs: NOON_MS + 4000 * H, did: "measured", slabC: 12 },
    { ...base, zone: "ramp", atMs: NOON_MS + 5000 * H, did: "cleaned" },
  ];
  const zones: Record<string, string | null> = { "bay-1": "bay", "part-1": "bay-a", "ramp-1": "ramp", yard: null };
  const isEvidence = evidenceIn(journal, (node) => zones[node] ?? null);

  it.each([
    ["two days before the pour", "bay-1", -48, true],
    ["what the judge looked back at from there", "bay-1", -99, true],
    ["a week before", "bay-1", -168, false],
    ["three weeks of curing", "bay-1", 1 + 21 * 24, true],
    ["a month after", "bay-1", 720, false],
    ["a part of the floor", "part-1", 5, true],
    ["another floor", "ramp-1", 5, false],
    ["outdoors", "yard", 5, true],
    ["a node that nobody knows any more", "ghost", 5, true],
    ["beside a hand reading", "ramp-1", 4001, true],
    ["the day after it", "ramp-1", 4024, false],
    ["beside a broom", "ramp-1", 5000, false],
  ])("%s", (_, node, hours, wanted) => {
    expect(isEvidence(node, NOON_MS + hours * H)).toBe(wanted);
  });
});
