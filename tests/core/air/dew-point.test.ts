// Dew and frost point: outside truth, round trips, derivatives by finite differences, and the ice convention.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  dewPointC,
  dewPointFromFrostPointC,
  dewPointSlope,
  frostPointC,
  frostPointFromDewPointC,
  rhPctFromDewPoint,
} from "#core/air/dew-point.ts";
import { expectMeasured } from "../../support/expect-measured.ts";
import { measureChart } from "../../support/measure/margin.ts";
import { measureReferenceGrid } from "../../support/measure/reference-grid.ts";
import { measureNewYork } from "../../support/measure/weather.ts";
import { numberOf, referenceRows } from "../../support/csv.ts";

const airC = fc.double({ min: -30, max: 50, noNaN: true });
const rhPct = fc.double({ min: 5, max: 100, noNaN: true });

describe("against outside truth", () => {
  it("follows the reference formulations on 1620 states", () => {
    expectMeasured(measureReferenceGrid(), {
      rowsRead: 1620,
      checkedByKind: { "state of a grid": 1620 },
      notApplicable: {},
    });
  });

  it("meets the exact column of the printed chart", () => {
    expectMeasured(measureChart(), { rowsRead: 88, checkedByKind: { "cell of the chart": 88 }, notApplicable: {} });
  });

  it("meets every consistent report of a year at three airports", () => {
    // Source: tests/reference/weather (ASOS, CC0). The maker's humidity comes from the dew point by the same short form.
    expectMeasured(measureNewYork(), {
      rowsRead: 26_114,
      checkedByKind: { "consistent report": 24_220 },
      notApplicable: { inconsistent: 1894 },
    });
  });

  it("follows a typical year whose humidity is in whole percent", () => {
    // Source: tests/reference/weather, TMY3 Greensboro: rounding of RH, and some filled rows up to 6 K off.
    const rows = referenceRows("weather/weather-greensboro-tmy3.csv");
    expect(rows).toHaveLength(8760);
    const errors = rows.map((row) =>
      Math.abs(dewPointC(numberOf(row, "t_C"), numberOf(row, "rh_pct")) - numberOf(row, "td_C")),
    );
    expect(errors.reduce((sum, error) => sum + error, 0) / errors.length).toBeLessThan(0.12);
    expect(errors.filter((error) => error > 1).length).toBeLessThan(rows.length * 0.02);
  });

  it.each([
    [-5, -5.64],
    [-10, -11.23],
    [-20, -22.24],
    [-30, -33.06],
  ])("knows that a frost point of %d °C is a dew point of %d °C", (frostC, dewC) => {
    // Source: tests/reference/psychrometrics/SOURCE.md (IAPWS ice, Murphy-Koop water).
    expect(dewPointFromFrostPointC(frostC)).toBeCloseTo(dewC, 1);
    expect(frostPointFromDewPointC(dewC)).toBeCloseTo(frostC, 1);
  });
});

describe("properties", () => {
  it("turns into humidity and back", () => {
    fc.assert(
      fc.property(airC, rhPct, (air, rh) => {
        expect(rhPctFromDewPoint(air, dewPointC(air, rh))).toBeCloseTo(rh, 8);
      }),
    );
  });

  it("is the air temperature at 100 %, below it otherwise, and above it for a supersaturated reading", () => {
    fc.assert(
      fc.property(airC, fc.double({ min: 5, max: 99.9, noNaN: true }), (air, rh) => {
        expect(dewPointC(air, 100)).toBeCloseTo(air, 9);
        expect(dewPointC(air, rh)).toBeLessThan(air);
        expect(dewPointC(air, 103)).toBeGreaterThan(air);
      }),
    );
  });

  it("rises with air temperature and with humidity", () => {
    fc.assert(
      fc.property(
        airC,
        fc.double({ min: 5, max: 95, noNaN: true }),
        fc.double({ min: 0.01, max: 5, noNaN: true }),
        (air, rh, step) => {
          expect(dewPointC(air + step, rh)).toBeGreaterThan(dewPointC(air, rh));
          expect(dewPointC(air, rh + step)).toBeGreaterThan(dewPointC(air, rh));
        },
      ),
    );
  });

  it("has the derivatives that finite differences show", () => {
    fc.assert(
      fc.property(airC, fc.double({ min: 6, max: 99, noNaN: true }), (air, rh) => {
        const slope = dewPointSlope(air, rh);
        const step = 1e-4;
        expect(slope.kPerK).toBeCloseTo((dewPointC(air + step, rh) - dewPointC(air - step, rh)) / (2 * step), 6);
        expect(slope.kPerRhPct).toBeCloseTo((dewPointC(air, rh + step) - dewPointC(air, rh - step)) / (2 * step), 6);
      }),
    );
  });

  it("gives a frost point above the dew point below 0 °C, the dew point itself above, and never jumps", () => {
    fc.assert(
      fc.property(fc.double({ min: -60, max: 40, noNaN: true }), (dew) => {
        const frost = frostPointFromDewPointC(dew);
        if (dew < -0.001) expect(frost).toBeGreaterThan(dew);
        if (dew > 0) expect(frost).toBe(dew);
        expect(dewPointFromFrostPointC(frost)).toBeCloseTo(dew, 9);
        expect(Math.abs(frostPointFromDewPointC(dew + 1e-6) - frost)).toBeLessThan(2e-6);
      }),
    );
  });

  it("gives the frost point of air through its dew point", () => {
    expect(frostPointC(-3, 70)).toBe(frostPointFromDewPointC(dewPointC(-3, 70)));
    expect(frostPointC(18, 55)).toBe(dewPointC(18, 55));
  });
});

describe("guards", () => {
  it("names the argument that is not a number or out of range", () => {
    expect(() => dewPointC(Number.NaN, 60)).toThrow(/airC/);
    expect(() => dewPointC(14, Number.NaN)).toThrow(/rhPct/);
    expect(() => dewPointC(14, 0)).toThrow(/rhPct 0/);
    expect(() => dewPointC(400, 60)).toThrow(RangeError);
    expect(() => dewPointSlope(14, 130)).toThrow(/rhPct/);
    expect(() => rhPctFromDewPoint(14, Number.NaN)).toThrow(/dewPointC/);
    expect(() => rhPctFromDewPoint(Number.NaN, 6)).toThrow(/airC/);
    expect(() => frostPointFromDewPointC(Number.NaN)).toThrow(/dewPointC/);
    expect(() => dewPointFromFrostPointC(-400)).toThrow(/frostPointC/);
  });
});
