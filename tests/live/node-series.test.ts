// Series of one node with times in common: the same readings as with columns of their own, in less memory.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cutSeries, emptySeries, filledSeries, insertReading, type LiveSeries } from "../../server/live/live-series.ts";
import { NodeSeries } from "../../server/live/node-series.ts";

const QUANTITIES = ["slab", "air", "rh", "dew", "battery"];

/** One message: rounds of some quantities, in any order, repeats and late ones among them. */
const message = fc.record({
  heardMs: fc.integer({ min: 1, max: 60 }),
  readings: fc.array(fc.record({ quantity: fc.constantFrom(...QUANTITIES), atMs: fc.integer({ min: 1, max: 40 }) }), {
    maxLength: 12,
  }),
  /** The whole pack of a node that behaves. */
  packAtMs: fc.option(fc.integer({ min: 1, max: 40 })),
  cutFromMs: fc.option(fc.integer({ min: 1, max: 45 })),
});

function together() {
  const own = new NodeSeries();
  return {
    own,
    take(readings: readonly { quantity: string; atMs: number; value: number; heardMs: number }[]) {
      for (const { quantity, atMs, value, heardMs } of readings) {
        const series = own.find(quantity) ?? own.empty("node", quantity);
        if (series.atMs.length === 0) own.put(series);
        own.insert(series, atMs, value, heardMs);
      }
      own.settle();
    },
  };
}

const plain = ({ node, quantity, atMs, values, heardMs }: LiveSeries) => ({
  ...{ node, quantity },
  ...{ atMs: atMs.slice(), values: values.slice(), heardMs: heardMs.slice() },
});

describe("the series of a node", () => {
  it("hold what each would hold alone, whatever is heard, late, twice, or in part, and whatever is let go", () => {
    fc.assert(
      fc.property(fc.array(message, { maxLength: 25 }), (messages) => {
        const alone = new Map<string, LiveSeries>();
        const { own, take } = together();
        let value = 0;
        for (const { heardMs, readings, packAtMs, cutFromMs } of messages) {
          const pack = packAtMs === null ? [] : QUANTITIES.map((quantity) => ({ quantity, atMs: packAtMs }));
          const heard = [...readings, ...pack].map((one) => ({ ...one, value: value++, heardMs }));
          for (const one of heard) {
            const series = alone.get(one.quantity) ?? emptySeries("node", one.quantity);
            alone.set(one.quantity, series);
            insertReading(series, one.atMs, one.value, one.heardMs);
          }
          take(heard);
          if (cutFromMs !== null) {
            const speaks = (atMs: number) => atMs % 7 === 0;
            for (const series of alone.values()) cutSeries(series, cutFromMs, 30, speaks);
            own.cut(cutFromMs, 30, speaks);
          }
          expect(own.all.map(plain)).toEqual([...alone.values()].map(plain));
        }
      }),
      { numRuns: 400 },
    );
  });

  it("have the times of their packs in common, and again after a pack in which one was missing is long past", () => {
    const { own, take } = together();
    const pack = (atMs: number, quantities = QUANTITIES) =>
      take(quantities.map((quantity) => ({ quantity, atMs, value: atMs, heardMs: atMs })));
    const columns = () => new Set(own.all.flatMap(({ atMs, heardMs }) => [atMs, heardMs])).size;
    for (let atMs = 1; atMs <= 20; atMs++) pack(atMs);
    expect(columns()).toBe(2);
    pack(21, ["slab", "air"]);
    expect(columns()).toBe(4);
    for (let atMs = 22; atMs <= 40; atMs++) pack(atMs);
    expect(columns()).toBe(4);
    own.cut(30, 40, () => false);
    expect(columns()).toBe(2);
    expect(own.find("rh")?.atMs.slice()).toEqual([29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40]);
  });

  it("share times that were read from the store", () => {
    const own = new NodeSeries();
    for (const quantity of ["slab", "air"])
      own.put(filledSeries("node", quantity, { atMs: [1, 2, 3], values: [7, 8, 9], heardMs: [1, 2, 3] }));
    const replaced = own.put(filledSeries("node", "air", { atMs: [1, 2], values: [7, 8], heardMs: [1, 2] }));
    expect(replaced?.values.slice()).toEqual([7, 8, 9]);
    expect(own.find("air")?.atMs).not.toBe(own.find("slab")?.atMs);
    own.put(filledSeries("node", "rh", { atMs: [1, 2, 3], values: [1, 1, 1], heardMs: [1, 2, 3] }));
    expect(own.find("rh")?.atMs).toBe(own.find("slab")?.atMs);
  });
});
