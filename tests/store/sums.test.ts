// Charts from sums are charts from readings, to the last bit: under late readings, repeats, thinning, restarts and hands on the file.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import Libsql from "libsql";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { DATABASE_FILE } from "../../server/store/database.ts";
import { createMakeSums } from "../../server/store/make-sums.ts";
import type { Bucket } from "../../server/store/ports.ts";
import { createReadSums } from "../../server/store/read-sums.ts";
import { wrap } from "../../server/store/sql.ts";
import { type EmbeddedStore, openStore } from "../../server/store/store.ts";
import { createSums } from "../../server/store/sums.ts";
import { NOON_MS, SITE } from "../support/small-site.ts";

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;
const START_MS = NOON_MS - (NOON_MS % DAY_MS);
const END_MS = START_MS + 6 * DAY_MS;
const [NODE, QUANTITY] = ["bay-1", "slab"];

const reading = (atMs: number, value: number, quantity = QUANTITY) => ({
  ...{ site: SITE.id, node: NODE, quantity, atMs, value },
  heardMs: atMs + 500,
});
const always = async () => true;

interface Asked {
  readonly fromMs: number;
  readonly stepMs: number;
  readonly points: number;
}

/** The law, by hand: every reading once, in the step in which its quarter of an hour, or its hour, begins. */
function byHand(store: EmbeddedStore, quantity: string, { fromMs, stepMs, points }: Asked): Bucket[] {
  const grainMs = stepMs >= 6 * HOUR_MS ? HOUR_MS : stepMs >= HOUR_MS ? 15 * MINUTE_MS : 1;
  const steps = Array.from({ length: points }, () => ({ min: Infinity, max: -Infinity, micros: 0, count: 0 }));
  const { atMs, values } = store.readings.range(SITE.id, NODE, quantity, fromMs, fromMs + points * stepMs - 1);
  for (const [index, time] of atMs.entries()) {
    const value = values[index] as number;
    const step = steps[Math.max(0, Math.floor((Math.floor(time / grainMs) * grainMs - fromMs) / stepMs))];
    if (step === undefined) throw new Error("a reading lies in no step");
    const scaled = value * 1_000_000;
    step.min = Math.min(step.min, value);
    step.max = Math.max(step.max, value);
    step.micros += Math.trunc(scaled + (scaled < 0 ? -0.5 : 0.5));
    step.count += 1;
  }
  return steps.map(({ min, max, micros, count }) =>
    count === 0 ? { min: null, mean: null, max: null } : { min, mean: micros / (1_000_000 * count), max },
  );
}

describe("sums of readings", () => {
  let folder: string;
  let store: EmbeddedStore;
  const chart = ({ fromMs, stepMs, points }: Asked, quantity = QUANTITY) =>
    store.readings.buckets(SITE.id, NODE, quantity, fromMs, stepMs, points);
  /** A look at the file beside the store. */
  const rows = (sql: string): unknown[][] => {
    const db = new Libsql(join(folder, DATABASE_FILE));
    const found = db.prepare(sql).raw().all() as unknown[][];
    db.close();
    return found;
  };
  const change = (sql: string) => {
    const db = new Libsql(join(folder, DATABASE_FILE));
    db.exec(sql);
    db.close();
  };
  const bodies = () =>
    rows("SELECT series, half_day, coalesce(length(body), -1) FROM sums ORDER BY 1, 2").map(([, , length]) => length);

  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "nightslab-sums-"));
    store = openStore(folder);
    store.records.putSite(SITE, START_MS);
  });
  afterEach(async () => {
    store.close();
    await rm(folder, { recursive: true, force: true });
  });

  it("make no chart another one, whatever happens to the readings and to them", async () => {
    const time = fc.integer({ min: 0, max: 6 * DAY_MS - 1 });
    const value = fc.oneof(
      fc.integer({ min: -6000, max: 12_000 }).map((hundredths) => hundredths / 100),
      fc.double({ min: -200, max: 200, noNaN: true }),
      fc.constantFrom(0.1 + 0.2, 85, -127, 1e-9, 0, 1000, 1001, 2_500_000),
    );
    const cadence = fc.record({
      kind: fc.constant("fill" as const),
      fromMs: time,
      everyMs: fc.constantFrom(20_000, 60_000, 60_000, 300_000, 300_000, 1_200_000, 7_200_001),
      hours: fc.integer({ min: 1, max: 40 }),
      value,
    });
    const act = fc.oneof(
      { weight: 4, arbitrary: cadence },
      { weight: 3, arbitrary: fc.record({ kind: fc.constant("one" as const), atMs: time, value }) },
      { weight: 3, arbitrary: fc.record({ kind: fc.constant("sum" as const), nowMs: time, steps: fc.nat(6) }) },
      { weight: 1, arbitrary: fc.record({ kind: fc.constant("thin" as const), day: fc.integer({ min: 1, max: 6 }) }) },
      { weight: 1, arbitrary: fc.record({ kind: fc.constant("undone" as const), atMs: time }) },
      { weight: 1, arbitrary: fc.record({ kind: fc.constant("reopen" as const) }) },
    );
    const asked = fc
      .record({
        fromMs: fc.oneof(
          time,
          fc.integer({ min: 0, max: 575 }).map((quarter) => quarter * 15 * MINUTE_MS),
        ),
        stepMs: fc.oneof(
          fc.integer({ min: 1000, max: 20 * HOUR_MS }),
          fc.constantFrom(HOUR_MS, 90 * MINUTE_MS, 6 * HOUR_MS, 12 * HOUR_MS, DAY_MS),
        ),
        points: fc.integer({ min: 1, max: 60 }),
      })
      .map(({ fromMs, ...more }) => ({ fromMs: START_MS + fromMs - 3 * HOUR_MS, ...more }));
    let summed = 0;
    let voided = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(60_000, 120_000, 300_000),
        fc.array(act, { minLength: 2, maxLength: 8 }),
        fc.array(asked, { minLength: 2, maxLength: 3 }),
        async (everyMs, acts, charts) => {
          store.close();
          change(
            "DELETE FROM readings; DELETE FROM sums; DELETE FROM late_kept; DELETE FROM thinned_through; DELETE FROM day_heads",
          );
          store = openStore(folder);
          const before = { kind: "fill", fromMs: 17 * HOUR_MS, everyMs, hours: 70, value: 8.5 } as const;
          for (const one of [before, { kind: "sum", nowMs: 3 * DAY_MS, steps: 9 } as const, ...acts]) {
            if (one.kind === "fill") {
              const count = Math.ceil((one.hours * HOUR_MS) / one.everyMs);
              const many = Array.from({ length: count }, (_, at) =>
                reading(START_MS + one.fromMs + at * one.everyMs, one.value + (at % 7) / 100),
              ).filter(({ atMs }) => atMs < END_MS);
              store.readings.append(many);
              // The same again, and another value for a time that has one.
              store.readings.append(many.slice(0, 3).map((same) => ({ ...same, value: same.value + 1 })));
            } else if (one.kind === "one") store.readings.append([reading(START_MS + one.atMs, one.value)]);
            else if (one.kind === "sum") {
              let left = one.steps;
              await store.sums.run(START_MS + one.nowMs + DAY_MS, async () => left-- > 0);
            } else if (one.kind === "thin") {
              await store.heads.closeDays(START_MS + one.day * DAY_MS, () => false);
              await store.retention.run(SITE.id, {
                ...{ keepRawDays: 1, deleteAfterDays: 4, nowMs: START_MS + one.day * DAY_MS },
                isEvidence: (_, atMs) => atMs % (5 * DAY_MS) < 3 * HOUR_MS,
                delivered: () => true,
                isOver: () => false,
              });
            } else if (one.kind === "undone") {
              const half = () =>
                store.together(() => {
                  store.readings.append([reading(START_MS + one.atMs, 3)]);
                  throw new Error("the roof leaks");
                });
              expect(half).toThrow("the roof leaks");
            } else {
              store.close();
              store = openStore(folder);
            }
            for (const chosen of charts) expect(chart(chosen)).toEqual(byHand(store, QUANTITY, chosen));
            summed += rows("SELECT count(*) > 3 FROM sums WHERE length(body) > 0")[0]?.[0] as number;
            voided += rows("SELECT count(*) > 0 FROM sums WHERE body IS NULL")[0]?.[0] as number;
          }
          await store.sums.run(END_MS + 2 * DAY_MS, always);
          expect(rows("SELECT count(*) FROM sums WHERE body IS NULL")).toEqual([[0]]);
          for (const chosen of charts) expect(chart(chosen)).toEqual(byHand(store, QUANTITY, chosen));
        },
      ),
      { numRuns: 25, endOnFailure: true },
    );
    // How often there were sums to draw from, and some that no longer held.
    expect(summed).toBeGreaterThan(60);
    expect(voided).toBeGreaterThan(10);
  }, 120_000);

  /** A reading a minute, and one in five minutes of another quantity. */
  const fill = (days: number) => {
    for (let day = 0; day < days; day++) {
      const dayMs = START_MS + day * DAY_MS;
      store.readings.append(Array.from({ length: 1440 }, (_, at) => reading(dayMs + at * MINUTE_MS, (at % 97) / 8)));
      store.readings.append(
        Array.from({ length: 288 }, (_, at) => reading(dayMs + at * 5 * MINUTE_MS, (at % 89) / 8, "rh")),
      );
    }
  };
  const LONG = { fromMs: START_MS + 7 * MINUTE_MS, stepMs: 7 * HOUR_MS + 1234, points: 13 };

  it("are made of half days that ended six hours ago, by quarters of an hour and, where readings are few, by hours", async () => {
    fill(2);
    expect(await store.sums.run(START_MS + DAY_MS + 6 * HOUR_MS - 1, always)).toBe(2);
    expect(await store.sums.run(START_MS + DAY_MS + 6 * HOUR_MS, always)).toBe(2);
    expect(bodies()).toEqual([48 * 26, 48 * 26, 12 * 26, 12 * 26]);
    expect(await store.sums.run(START_MS + 9 * DAY_MS, always)).toBe(4);
    // Nothing of a day is left to do.
    expect(await store.sums.run(START_MS + 10 * DAY_MS, always)).toBe(0);
    for (const quantity of [QUANTITY, "rh"]) expect(chart(LONG, quantity)).toEqual(byHand(store, quantity, LONG));
  });

  it("are read instead of the readings, also where a chart begins and ends within one", async () => {
    fill(4);
    await store.sums.run(START_MS + 5 * DAY_MS, always);
    const before = [LONG, { ...LONG, stepMs: 86 * MINUTE_MS, points: 60 }].map((one) => chart(one));
    change("CREATE TABLE aside AS SELECT * FROM readings; DROP TRIGGER sums_reading_gone");
    // All but the minutes at the ends that lie in no whole quarter of an hour.
    change(`DELETE FROM readings WHERE at_ms % ${15 * MINUTE_MS} = 0`);
    const after = [LONG, { ...LONG, stepMs: 86 * MINUTE_MS, points: 60 }].map((one) => chart(one));
    expect(after.map((steps) => steps.slice(1, -1))).toEqual(before.map((steps) => steps.slice(1, -1)));
  });

  it("are made anew where a reading comes late, goes, or is changed by any program", async () => {
    fill(2);
    await store.sums.run(START_MS + 3 * DAY_MS, always);
    const due = () => rows("SELECT series, half_day - (SELECT min(half_day) FROM sums) FROM sums WHERE body IS NULL");
    store.readings.append([reading(START_MS + 13 * HOUR_MS + 1, 60), reading(START_MS + 2 * DAY_MS, 1)]);
    expect(due()).toEqual([[1, 1]]);
    expect(chart(LONG)).toEqual(byHand(store, QUANTITY, LONG));
    expect(chart(LONG)[1]?.max).toBe(60);
    // What was there already changes nothing.
    store.readings.append([reading(START_MS, 0), reading(START_MS + MINUTE_MS, 99)]);
    expect(due()).toEqual([[1, 1]]);
    change(`UPDATE readings SET value = 70 WHERE series = 2 AND at_ms = ${START_MS + DAY_MS}`);
    change(`DELETE FROM readings WHERE series = 1 AND at_ms = ${START_MS + DAY_MS + 60_000}`);
    expect(due()).toEqual([
      [1, 1],
      [1, 2],
      [2, 2],
    ]);
    for (const quantity of [QUANTITY, "rh"]) expect(chart(LONG, quantity)).toEqual(byHand(store, quantity, LONG));
    expect(await store.sums.run(START_MS + 3 * DAY_MS, always)).toBe(3);
    expect(due()).toEqual([]);
    for (const quantity of [QUANTITY, "rh"]) expect(chart(LONG, quantity)).toEqual(byHand(store, quantity, LONG));
  });

  it("go on after a kill where they were, the newest first, and leave no hole", async () => {
    fill(6);
    let turns = 0;
    await store.sums.run(END_MS + DAY_MS, async () => turns-- > 0);
    const made = bodies().length;
    expect(made).toBeLessThan(24);
    const span = "max(half_day) - min(half_day) + 1, count(*), max(half_day)";
    const newest = Math.floor((END_MS - 1) / (12 * HOUR_MS));
    expect(rows(`SELECT ${span} FROM sums WHERE series = 1`)).toEqual([[made, made, newest]]);
    store.close();
    store = openStore(folder);
    expect(await store.sums.run(END_MS + DAY_MS, always)).toBe(24 - made);
    expect(chart(LONG, "rh")).toEqual(byHand(store, "rh", LONG));
  });

  it("take in a buffer from before the first of them, and a silence in between", async () => {
    const [early, late] = [START_MS + DAY_MS, START_MS + 4 * DAY_MS];
    const day = (fromMs: number) => Array.from({ length: 1440 }, (_, at) => reading(fromMs + at * MINUTE_MS, at / 64));
    store.readings.append([...day(early), ...day(late)]);
    await store.sums.run(END_MS + DAY_MS, always);
    expect(bodies()).toEqual([1248, 1248, 0, 0, 0, 0, 1248, 1248]);
    store.readings.append([...day(START_MS), ...day(early + DAY_MS)]);
    await store.sums.run(END_MS + 2 * DAY_MS, always);
    expect(bodies()).toEqual([1248, 1248, 1248, 1248, 1248, 1248, 0, 0, 1248, 1248]);
    expect(chart(LONG)).toEqual(byHand(store, QUANTITY, LONG));
  });

  it("are none where readings are few, or too large to be added up exactly", async () => {
    store.readings.append(Array.from({ length: 99 }, (_, at) => reading(START_MS + at * MINUTE_MS, 1)));
    store.readings.append(Array.from({ length: 720 }, (_, at) => reading(START_MS + at * MINUTE_MS, 1e12 + at, "rh")));
    await store.sums.run(START_MS + 2 * DAY_MS, always);
    expect(bodies()).toEqual([0, 0]);
    for (const quantity of [QUANTITY, "rh"])
      expect(chart({ ...LONG, points: 1 }, quantity)).toEqual(byHand(store, quantity, { ...LONG, points: 1 }));
  });

  it("leave the database as careful as it was, also where one cannot be made", async () => {
    fill(1);
    store.close();
    const db = wrap(new Libsql(join(folder, DATABASE_FILE)));
    db.exec("PRAGMA synchronous = FULL");
    const careful = () => db.prepare("PRAGMA synchronous").get();
    const sums = createSums(db);
    const seen: unknown[] = [];
    const puts = (put: typeof sums.put) => createMakeSums(db, { ...sums, put }, createReadSums(db));
    const kept = puts((...one) => void (sums.put(...one), seen.push(careful())));
    expect(await kept.run(START_MS + 3 * DAY_MS, always)).toBe(4);
    // NORMAL while they are made, since they can be made again; FULL, which is 2, for everything else.
    expect([seen[0], careful()]).toEqual([[1], [2]]);
    const refused = puts(() => {
      throw new Error("the disk is full");
    });
    db.exec("DELETE FROM sums");
    await expect(refused.run(START_MS + 5 * DAY_MS, always)).rejects.toThrow("the disk is full");
    expect(careful()).toEqual([2]);
    db.close();
    store = openStore(folder);
  });

  it("can be thrown away", async () => {
    fill(2);
    await store.sums.run(START_MS + 3 * DAY_MS, always);
    const before = chart(LONG);
    change("DELETE FROM sums");
    expect(chart(LONG)).toEqual(before);
    store.close();
    store = openStore(folder);
    expect(await store.sums.run(START_MS + 3 * DAY_MS, always)).toBe(8);
    expect(chart(LONG)).toEqual(before);
  });
});
