// The tolerances themselves: below their limits, all in use, and a miss is seen.
import { describe, expect, it } from "vitest";
import { LIMITS, type Quantity, TOLERANCES } from "../reference/tolerances.ts";
import { type Measured, memoryWarnings, misses, rowsLeftOver, summaries } from "../support/checks.ts";
import { referenceRows } from "../support/csv.ts";
import { MEASURES } from "../support/measure/all.ts";

function oneCheck(got: number, fromMemory: boolean): Measured {
  const check = { row: "slab | a", kind: "made up", quantity: "margin" as const, got, want: 4 };
  return { table: "made up", rowsRead: 2, checks: [fromMemory ? { ...check, fromMemory } : check], notApplicable: {} };
}

describe("tolerances", () => {
  it("never exceed their limits", () => {
    for (const [quantity, limit] of Object.entries(LIMITS)) {
      const tolerance = TOLERANCES[quantity as Quantity];
      expect(tolerance.mean).toBeLessThanOrEqual(limit.mean);
      expect(tolerance.max).toBeLessThanOrEqual(limit.max);
    }
  });

  it("are all used, and stand just above what is achieved", () => {
    const achieved = MEASURES.flatMap((measure) => summaries(measure()));
    const quantities = Object.keys(TOLERANCES) as Quantity[];
    expect([...new Set(achieved.map(({ quantity }) => quantity))].sort()).toEqual([...quantities].sort());
    for (const quantity of quantities) {
      const worst = Math.max(...achieved.filter((summary) => summary.quantity === quantity).map(({ max }) => max));
      const allowed = TOLERANCES[quantity].max;
      // Below a millionth the digits of the prints decide, not the arithmetic.
      if (allowed > 1e-6) expect(worst, quantity).toBeGreaterThan(allowed / 2);
    }
  });

  it("are missed by a wrong value, by NaN, and only warned about from memory", () => {
    expect(misses(oneCheck(4.5, false))).toHaveLength(1);
    expect(summaries(oneCheck(4.5, false))[0]?.within).toBe(false);
    expect(misses(oneCheck(Number.NaN, false))).toHaveLength(1);
    expect(summaries(oneCheck(Number.NaN, false))[0]?.within).toBe(false);
    expect(misses(oneCheck(4.5, true))).toEqual([]);
    expect(memoryWarnings(oneCheck(4.5, true))).toHaveLength(1);
    expect(memoryWarnings(oneCheck(4.001, true))).toEqual([]);
    expect(rowsLeftOver(oneCheck(4, false))).toBe(1);
  });

  it("reads its tables strictly", () => {
    expect(() => referenceRows("no-such-table.csv")).toThrow();
    expect(referenceRows("conduction/conduction.csv")[0]?.inputs_json).toBe('{"x":0.1}');
  });
});
