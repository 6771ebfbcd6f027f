// Saturation pressure and moist air against psychrometrics.csv, the seven short forms, and the reference formulations.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ICE_TEMP_RANGE_C,
  OVER_ICE,
  OVER_WATER,
  RH_RANGE_PCT,
  rhPctFromVapour,
  saturationIcePa,
  saturationTempC,
  saturationVapourPa,
  TEMP_RANGE_C,
  vapourPa,
} from "#core/air/vapour.ts";
import { expectMeasured } from "../../support/expect-measured.ts";
import { measureMagnus } from "../../support/measure/magnus.ts";
import { measurePsychrometrics } from "../../support/measure/psychrometrics.ts";
import { measureSecondOpinion } from "../../support/measure/second-opinion.ts";
import { referenceIcePa, referenceWaterPa } from "../../support/reference-vapour.ts";

const tempC = fc.double({ min: -60, max: 70, noNaN: true });

describe("against outside truth", () => {
  it("meets every filled cell of the psychrometric table", () => {
    const measured = measurePsychrometrics();
    // Source: tests/reference/psychrometrics (ASHRAE, IAPWS, Murphy-Koop; second opinion psychrolib).
    expectMeasured(measured, {
      rowsRead: 89,
      checkedByKind: { published: 12, "published+derived": 2, computed: 75 },
      notApplicable: {},
    });
    expect(measured.cells).toBe(779);
    expect(measured.checks).toHaveLength(779);
  });

  it("recomputes the printed errors of all seven short forms, its own among them", () => {
    expectMeasured(measureMagnus(), { rowsRead: 21, checkedByKind: { "set and range": 21 }, notApplicable: {} });
  });

  it("agrees with a second program on 260 states", () => {
    expectMeasured(measureSecondOpinion(), {
      rowsRead: 260,
      checkedByKind: { "state of a grid": 260 },
      notApplicable: {},
    });
  });

  it("is measured by references that give their own published check values", () => {
    // Sources: IAPWS SR1-86(1992), 611.657 Pa and 101 325 Pa; IAPWS R14-08(2011), 8.94735 Pa at 230 K.
    expect(referenceWaterPa(0.01)).toBeCloseTo(611.657, 3);
    expect(referenceWaterPa(373.1243 - 273.15)).toBeCloseTo(101_325, 0);
    expect(referenceIcePa(230 - 273.15)).toBeCloseTo(8.94735, 5);
  });
});

describe("properties", () => {
  it("rises with temperature, over water and over ice", () => {
    fc.assert(
      fc.property(tempC, fc.double({ min: 0.001, max: 5, noNaN: true }), (coldC, stepK) => {
        expect(saturationVapourPa(coldC + stepK)).toBeGreaterThan(saturationVapourPa(coldC));
        if (coldC + stepK <= 0) expect(saturationIcePa(coldC + stepK)).toBeGreaterThan(saturationIcePa(coldC));
      }),
    );
  });

  it("holds less over ice than over water, and the same at 0 °C", () => {
    expect(saturationIcePa(0)).toBe(saturationVapourPa(0));
    fc.assert(
      fc.property(fc.double({ min: -60, max: -0.01, noNaN: true }), (coldC) => {
        expect(saturationIcePa(coldC)).toBeLessThan(saturationVapourPa(coldC));
      }),
    );
  });

  it("comes back through its inverse, over both surfaces", () => {
    fc.assert(
      fc.property(tempC, (airC) => {
        expect(saturationTempC(OVER_WATER, saturationVapourPa(airC))).toBeCloseTo(airC, 9);
        if (airC <= 0) expect(saturationTempC(OVER_ICE, saturationIcePa(airC))).toBeCloseTo(airC, 9);
      }),
    );
  });

  it("turns humidity into vapour pressure and back", () => {
    fc.assert(
      fc.property(tempC, fc.double({ min: 0.5, max: 105, noNaN: true }), (airC, rhPct) => {
        expect(rhPctFromVapour(airC, vapourPa(airC, rhPct))).toBeCloseTo(rhPct, 9);
      }),
    );
  });
});

describe("guards", () => {
  it.each([Number.NaN, Number.POSITIVE_INFINITY, TEMP_RANGE_C.max + 0.1, TEMP_RANGE_C.min - 0.1])(
    "refuses a temperature of %d by name",
    (bad) => {
      expect(() => saturationVapourPa(bad)).toThrow(/tempC/);
      expect(() => vapourPa(bad, 61)).toThrow(/airC/);
    },
  );

  it.each([Number.NaN, -3, 0, RH_RANGE_PCT.max + 1])("refuses a humidity of %d by name", (bad) => {
    expect(() => vapourPa(14, bad)).toThrow(/rhPct/);
  });

  it("refuses ice above its melting point and pressures that are none", () => {
    expect(() => saturationIcePa(ICE_TEMP_RANGE_C.max + 0.1)).toThrow(/tempC/);
    expect(() => rhPctFromVapour(14, 0)).toThrow(/pressurePa/);
    expect(() => saturationTempC(OVER_WATER, Number.NaN)).toThrow(/pressurePa/);
  });
});
