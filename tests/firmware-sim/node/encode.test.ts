// What a node writes must be what a reader of SenML reads: same names, units, times and values.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Reading, readingFromRecord } from "#contract/reading.ts";
import { resolveSenml } from "#contract/senml.ts";
import { encodePack, type RoundOfReadings } from "../../../firmware-sim/node/encode.ts";

function readBack(pack: unknown): Reading[] {
  const resolved = resolveSenml(pack, 0);
  if (!resolved.ok) throw new Error(JSON.stringify(resolved.faults));
  return resolved.value.map((record) => {
    const reading = readingFromRecord(record);
    if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
    return reading.value;
  });
}

const flat = (node: string, rounds: readonly RoundOfReadings[]): Reading[] =>
  rounds.flatMap((round) =>
    round.values.map(({ quantity, value }) => ({ node, quantity, atMs: round.atS * 1000, value })),
  );

describe("encodePack", () => {
  it("is read back as the readings that went in, whatever they are", () => {
    const quantity = fc.constantFrom("slab", "slab.2", "air", "dew", "rh", "battery", "rssi");
    const value = fc.record({ quantity, value: fc.integer({ min: -9000, max: 9000 }).map((n) => n / 100) });
    const round = fc.record({
      atS: fc.integer({ min: 1_700_000_000, max: 1_900_000_000 }),
      values: fc.uniqueArray(value, { minLength: 1, selector: (v) => v.quantity }),
    });
    fc.assert(
      fc.property(fc.uniqueArray(round, { minLength: 1, maxLength: 12, selector: (r) => r.atS }), (rounds) => {
        const ordered = [...rounds].sort((a, b) => a.atS - b.atS);
        expect(readBack(JSON.parse(JSON.stringify(encodePack("n-1", ordered))))).toEqual(flat("n-1", ordered));
      }),
      { seed: 11 },
    );
  });

  it("says a door as true or false", () => {
    const rounds = [
      {
        atS: 1_770_000_000,
        values: [
          { quantity: "air", value: 7.1 },
          { quantity: "door", value: 1 },
        ],
      },
    ];
    expect(encodePack("bay-1", rounds)[1]).toEqual({ n: "door", vb: true });
    expect(readBack(encodePack("bay-1", rounds))).toEqual(flat("bay-1", rounds));
  });

  it("counts times from the newest round", () => {
    const rounds = [600, 900, 1200].map((s) => ({
      atS: 1_770_000_000 + s,
      values: [{ quantity: "slab", value: 9.5625 }],
    }));
    const pack = encodePack("a", rounds);
    expect(pack[0]).toMatchObject({ bn: "a/", bt: 1_770_001_200, bu: "Cel", t: -600 });
    expect(pack[2]).not.toHaveProperty("t");
  });

  it("refuses what is no quantity and a pack without rounds", () => {
    expect(() => encodePack("a", [{ atS: 1_770_000_000, values: [{ quantity: "lux", value: 3 }] }])).toThrow(/lux/);
    expect(() => encodePack("a", [])).toThrow(/round/);
  });
});
