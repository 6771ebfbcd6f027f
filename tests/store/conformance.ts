// What every store of readings and journals must do, whatever engine is behind it.
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { JournalEntry } from "../../server/core/zone/journal.ts";
import type { HeardReading, JournalStore, ReadingStore } from "../../server/store/ports.ts";

/** A store in another process answers later. */
type SoonerOrLater<T> = {
  readonly [Key in keyof T]: T[Key] extends (...asked: infer A) => infer R ? (...asked: A) => R | Promise<R> : never;
};

export interface StoreUnderTest {
  readonly readings: SoonerOrLater<ReadingStore>;
  readonly journal: JournalStore;
  /** Closes it and opens it again on the same data. */
  reopen(): Promise<StoreUnderTest>;
  end(): Promise<void>;
}

const T0 = Date.UTC(2026, 1, 3, 12);
const MINUTE = 60_000;

const reading = (atMs: number, value: number, more: Partial<HeardReading> = {}): HeardReading => ({
  site: "dock",
  node: "bay-1",
  quantity: "slab",
  atMs,
  value,
  heardMs: atMs + 700,
  ...more,
});

const entry = (id: string, atMs: number, why: string): JournalEntry => ({
  id,
  zone: "bay",
  by: "Ida",
  atMs,
  heardMs: atMs + 5000,
  did: "held",
  why,
});

export function storeConformance(name: string, open: () => Promise<StoreUnderTest>): void {
  describe(`${name}: readings`, () => {
    let store: StoreUnderTest;
    beforeAll(async () => {
      store = await open();
    });
    afterAll(() => store.end());

    it("keeps what is new, knows what it has, and lets the first of two contradicting values stand", async () => {
      const first = [reading(T0, 11.5), reading(T0 + MINUTE, 11.4), reading(T0, 52, { quantity: "rh" })];
      expect(await store.readings.append(first)).toEqual(["stored", "stored", "stored"]);
      expect(
        await store.readings.append([reading(T0, 11.5, { heardMs: T0 + 99_000 }), reading(T0 + MINUTE, 19)]),
      ).toEqual(["same", "conflict"]);
      expect(await store.readings.range("dock", "bay-1", "slab", T0, T0 + MINUTE)).toEqual({
        node: "bay-1",
        quantity: "slab",
        atMs: [T0, T0 + MINUTE],
        values: [11.5, 11.4],
        heardMs: [T0 + 700, T0 + MINUTE + 700],
      });
    });

    it("answers twice in one batch as it does in two", async () => {
      const at = T0 + 90 * MINUTE;
      expect(await store.readings.append([reading(at, 3.25), reading(at, 3.25), reading(at, 3.5)])).toEqual([
        "stored",
        "same",
        "conflict",
      ]);
    });

    it("answers a batch of any size as it would answer its readings one by one", async () => {
      let base = T0 + 400 * MINUTE;
      const batches = fc.array(
        fc.array(fc.tuple(fc.nat(40), fc.constantFrom(1, 2), fc.constantFrom("slab", "air", "rh")), { maxLength: 160 }),
        { minLength: 1, maxLength: 4 },
      );
      await fc.assert(
        fc.asyncProperty(batches, async (told) => {
          base += 100 * MINUTE;
          const known = new Map<string, number>();
          for (const batch of told) {
            const readings = batch.map(([minute, value, quantity]) =>
              reading(base + minute * MINUTE, value, { quantity, site: "quay" }),
            );
            const answers = readings.map(({ quantity, atMs, value }) => {
              const key = `${quantity} ${atMs}`;
              const before = known.get(key);
              if (before === undefined) known.set(key, value);
              return before === undefined ? "stored" : before === value ? "same" : "conflict";
            });
            expect(await store.readings.append(readings)).toEqual(answers);
          }
          for (const quantity of ["slab", "air", "rh"]) {
            const { atMs, values } = await store.readings.range("quay", "bay-1", quantity, base, base + 50 * MINUTE);
            const expected = [...known].filter(([key]) => key.startsWith(`${quantity} `));
            expect(Object.fromEntries(atMs.map((at, index) => [`${quantity} ${at}`, values[index]]))).toEqual(
              Object.fromEntries(expected),
            );
          }
        }),
        { numRuns: 25 },
      );
    });

    it("gives numbers back to the last bit", async () => {
      const odd = 0.1 + 0.2;
      await store.readings.append([
        reading(T0 + 7, odd, { quantity: "air" }),
        reading(T0 + 8, -0.0625, { quantity: "air" }),
      ]);
      expect((await store.readings.range("dock", "bay-1", "air", T0, T0 + 10)).values).toEqual([odd, -0.0625]);
    });

    it("keeps sites, nodes and quantities apart", async () => {
      await store.readings.append([
        reading(T0, 1, { site: "pier" }),
        reading(T0, 2, { node: "bay-2" }),
        reading(T0, 3, { quantity: "slab.2" }),
      ]);
      expect((await store.readings.range("pier", "bay-1", "slab", 0, T0 * 2)).values).toEqual([1]);
      expect((await store.readings.range("dock", "bay-2", "slab", 0, T0 * 2)).values).toEqual([2]);
      expect((await store.readings.range("dock", "bay-1", "slab.2", 0, T0 * 2)).values).toEqual([3]);
      expect(await store.readings.range("dock", "nobody", "slab", 0, T0 * 2)).toEqual({
        node: "nobody",
        quantity: "slab",
        atMs: [],
        values: [],
        heardMs: [],
      });
    });

    it("orders by the time of the reading, however late it was heard", async () => {
      const late = { node: "bay-3" };
      await store.readings.append([
        reading(T0 + 2 * MINUTE, 5, late),
        reading(T0, 7, { ...late, heardMs: T0 + 3_600_000 }),
        reading(T0 + MINUTE, 6, late),
      ]);
      expect((await store.readings.range("dock", "bay-3", "slab", T0, T0 + 9 * MINUTE)).values).toEqual([7, 6, 5]);
      expect((await store.readings.range("dock", "bay-3", "slab", T0 + 1, T0 + MINUTE)).values).toEqual([6]);
    });

    it("finds the last reading before a moment, of those heard by a time", async () => {
      const of = async (beforeMs: number, heardByMs: number) =>
        (await store.readings.lastBefore("dock", "bay-3", "slab", beforeMs, heardByMs))?.value ?? null;
      expect(await of(T0 + 2 * MINUTE, T0 * 2)).toBe(6);
      expect(await of(T0 + MINUTE, T0 * 2)).toBe(7);
      expect(await of(T0 + MINUTE, T0 + 10 * MINUTE)).toBeNull();
      expect(await of(T0, T0 * 2)).toBeNull();
    });

    it("tells the newest of every series of a site", async () => {
      const newest = (await store.readings.latest("dock")).map(
        ({ node, quantity, value }) => `${node}/${quantity} ${value}`,
      );
      expect(newest).toEqual([
        "bay-1/air -0.0625",
        "bay-1/rh 52",
        "bay-1/slab 3.25",
        "bay-1/slab.2 3",
        "bay-2/slab 2",
        "bay-3/slab 5",
      ]);
      expect(await store.readings.latest("nowhere")).toEqual([]);
    });

    it("sums up in equal steps; a step holds its start and not its end, and gaps stay gaps", async () => {
      const node = { node: "bay-4" };
      const minutes = [0, 1, 2, 3, 4, 15, 16, 19.999];
      await store.readings.append(minutes.map((minute) => reading(T0 + minute * MINUTE, 10 + minute, node)));
      const buckets = await store.readings.buckets("dock", "bay-4", "slab", T0, 5 * MINUTE, 5);
      expect(buckets).toHaveLength(5);
      expect(buckets[0]).toEqual({ min: 10, mean: 12, max: 14 });
      expect(buckets[1]).toEqual({ min: null, mean: null, max: null });
      expect(buckets[2]).toEqual({ min: null, mean: null, max: null });
      expect(buckets[3]).toMatchObject({ min: 25, max: 29.999 });
      expect(buckets[3]?.mean).toBeCloseTo((25 + 26 + 29.999) / 3, 12);
      expect(buckets[4]).toEqual({ min: null, mean: null, max: null });
    });

    it("begins its steps anywhere", async () => {
      const buckets = await store.readings.buckets("dock", "bay-4", "slab", T0 - 2 * MINUTE, 3 * MINUTE, 2);
      expect(buckets.map(({ max }) => max)).toEqual([10, 13]);
    });

    it("has it all after it was closed and opened", async () => {
      store = await store.reopen();
      expect(await store.readings.append([reading(T0, 11.5), reading(T0 + 3 * MINUTE, 11.3)])).toEqual([
        "same",
        "stored",
      ]);
      expect((await store.readings.range("dock", "bay-3", "slab", 0, T0 * 2)).values).toEqual([7, 6, 5]);
    });
  });

  describe(`${name}: journal`, () => {
    let store: StoreUnderTest;
    beforeAll(async () => {
      store = await open();
    });
    afterAll(() => store.end());

    it("takes an id once, whoever sends it how often", () => {
      expect(store.journal.append("dock", entry("a", T0, "wet ceiling"))).toBe("stored");
      expect(store.journal.append("dock", { ...entry("a", T0, "wet ceiling"), heardMs: T0 + 99_000 })).toBe("same");
      expect(store.journal.append("dock", entry("a", T0, "no lights"))).toBe("conflict");
      expect(store.journal.append("pier", entry("a", T0, "no lights"))).toBe("stored");
    });

    it("gives entries back as they were, in the order in which they were heard", async () => {
      const poured: JournalEntry = {
        id: "b",
        zone: "bay",
        by: null,
        atMs: T0 - MINUTE,
        heardMs: T0 + 6000,
        did: "poured",
        coat: 0,
        fromMs: T0 - 3_600_000,
        toMs: T0 - MINUTE,
        broadcast: "full",
      };
      const heating: JournalEntry = {
        id: "c",
        zone: null,
        by: "Ida",
        atMs: T0 - 5,
        heardMs: T0 + 7001,
        did: "heating",
        on: true,
        kW: 12,
        fuel: "propane",
        vented: false,
      };
      store.journal.append("dock", poured);
      store.journal.append("dock", heating);
      const wanted = [entry("a", T0, "wet ceiling"), poured, heating];
      expect(store.journal.entries("dock")).toEqual(wanted);
      store = await store.reopen();
      expect(store.journal.entries("dock")).toEqual(wanted);
      expect(store.journal.entries("nowhere")).toEqual([]);
    });
  });
}
