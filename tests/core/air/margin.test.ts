// The margin against 96 gate cases, its uncertainty, and the two limits that are not the same: 3 K and 5 °F.
import { describe, expect, it } from "vitest";
import { dewPointC, dewPointSlope } from "#core/air/dew-point.ts";
import { marginK, marginUncertaintyK } from "#core/air/margin.ts";
import { kFromFDifference } from "#core/units.ts";
import { expectMeasured } from "../../support/expect-measured.ts";
import { numberOf, referenceRows } from "../../support/csv.ts";
import { measureMargin } from "../../support/measure/margin.ts";

/** The arithmetic may be this far off, K (tolerances.ts): closer than that to a limit, the printed dew point decides. */
const ARITHMETIC_K = 0.013;

describe("against the gate cases", () => {
  it("gives margin, dew point and surface humidity of all 96", () => {
    expectMeasured(measureMargin(), { rowsRead: 96, checkedByKind: { "gate case": 96 }, notApplicable: {} });
  });

  it("comes to the printed verdicts, all 96 rows of all four", () => {
    const cases = referenceRows("psychrometrics/condensation-cases.csv").map((row) => {
      const printedK = numberOf(row, "margin_K");
      const ownK = marginK(
        numberOf(row, "t_surface_C"),
        dewPointC(numberOf(row, "t_air_C"), numberOf(row, "rh_air_pct")),
      );
      const verdicts = [
        { name: "pass_3K", limitK: 3, passes: (k: number) => k >= 3 },
        { name: "pass_5F", limitK: kFromFDifference(5), passes: (k: number) => k >= kFromFDifference(5) },
        { name: "condensing", limitK: 0, passes: (k: number) => k <= 0 },
      ].map(({ name, limitK, passes }) => {
        const close = Math.abs(ownK - limitK) <= ARITHMETIC_K;
        // Margins print three decimals: 2.778 stands for 2.7778, so half a unit of the print is given.
        const decided = close ? passes(name === "condensing" ? printedK : printedK + 0.0005) : passes(ownK);
        return { name, close, right: decided === (row[name] === "1") };
      });
      const rhRight = numberOf(row, "rh_air_pct") <= 85 === (row.pass_rh85 === "1");
      return { verdicts, rhRight };
    });
    const all = cases.flatMap(({ verdicts }) => verdicts);
    expect(all).toHaveLength(288);
    expect(all.filter(({ right }) => !right)).toEqual([]);
    expect(cases.every(({ rhRight }) => rhRight)).toBe(true);
    // The rows that stand within the arithmetic of a limit are few and known: 82.9 % at 20 °C, 70 % on a slab 2 K colder,
    // and the two rounding tests at exactly 3 K and exactly 5 °F.
    expect(all.filter(({ close }) => close).length).toBeLessThanOrEqual(4);
  });

  it("tells 5 °F from 3 K: between 2.778 and 3 K one limit passes and the other fails", () => {
    const cases = referenceRows("psychrometrics/condensation-cases.csv").filter(
      (row) => row.pass_5F === "1" && row.pass_3K === "0",
    );
    expect(cases).toHaveLength(3);
    for (const row of cases) {
      expect(numberOf(row, "margin_K") + 0.0005).toBeGreaterThanOrEqual(kFromFDifference(5));
      expect(numberOf(row, "margin_K")).toBeLessThan(3);
    }
    expect(kFromFDifference(5)).toBeLessThan(3);
  });

  it("shows why a limit of 85 % alone is never enough", () => {
    // Source: tests/reference/psychrometrics/SOURCE.md: with the slab at air temperature 85 % leaves 2.3 to 2.8 K.
    for (const [airC, leftK] of [
      [5, 2.3],
      [10, 2.4],
      [20, 2.6],
      [30, 2.8],
    ] as const) {
      expect(marginK(airC, dewPointC(airC, 85))).toBeCloseTo(leftK, 1);
    }
    // Break-even humidity at 20 °C: 82.85 %.
    expect(marginK(20, dewPointC(20, 82.85))).toBeCloseTo(3, 1);
  });
});

describe("uncertainty", () => {
  it("is the root sum of squares of slab, air and humidity", () => {
    const slope = dewPointSlope(11, 64);
    const accuracy = { slabK: 0.4, airK: 0.3, rhPct: 2 };
    const expected = Math.sqrt(0.4 ** 2 + (0.3 * slope.kPerK) ** 2 + (2 * slope.kPerRhPct) ** 2);
    expect(marginUncertaintyK(accuracy, 11, 64)).toBeCloseTo(expected, 12);
  });

  it("grows with each accuracy and vanishes with all of them", () => {
    const base = marginUncertaintyK({ slabK: 0.4, airK: 0.3, rhPct: 2 }, 11, 64);
    expect(marginUncertaintyK({ slabK: 0.5, airK: 0.3, rhPct: 2 }, 11, 64)).toBeGreaterThan(base);
    expect(marginUncertaintyK({ slabK: 0.4, airK: 0.6, rhPct: 2 }, 11, 64)).toBeGreaterThan(base);
    expect(marginUncertaintyK({ slabK: 0.4, airK: 0.3, rhPct: 3 }, 11, 64)).toBeGreaterThan(base);
    expect(marginUncertaintyK({ slabK: 0, airK: 0, rhPct: 0 }, 11, 64)).toBe(0);
  });

  it("is 0.7 to 0.8 K for a dew point from +-3 % and +-0.5 K at 85 %, 1.0 K at 50 %", () => {
    // Source: tests/reference/psychrometrics/SOURCE.md, sensor propagation.
    const dewOnly = { slabK: 0, airK: 0.5, rhPct: 3 };
    for (const airC of [5, 20, 30]) {
      expect(marginUncertaintyK(dewOnly, airC, 85)).toBeGreaterThan(0.69);
      expect(marginUncertaintyK(dewOnly, airC, 85)).toBeLessThan(0.81);
    }
    expect(marginUncertaintyK(dewOnly, 20, 50)).toBeCloseTo(1, 0);
    for (const airC of [5, 30]) {
      expect(dewPointSlope(airC, 85).kPerRhPct).toBeGreaterThan(0.165);
      expect(dewPointSlope(airC, 85).kPerRhPct).toBeLessThan(0.205);
    }
  });

  it("refuses accuracies and temperatures that are none", () => {
    expect(() => marginUncertaintyK({ slabK: -0.1, airK: 0.3, rhPct: 2 }, 11, 64)).toThrow(/slabK/);
    expect(() => marginUncertaintyK({ slabK: 0.4, airK: Number.NaN, rhPct: 2 }, 11, 64)).toThrow(/airK/);
    expect(() => marginUncertaintyK({ slabK: 0.4, airK: 0.3, rhPct: -2 }, 11, 64)).toThrow(/rhPct/);
    expect(() => marginK(Number.NaN, 6)).toThrow(/slabC/);
    expect(() => marginK(12, Number.POSITIVE_INFINITY)).toThrow(/dewPointC/);
  });
});
