// The table of saturation pressures that ensembles read: as exact as the formula it is made from.
import { describe, expect, it } from "vitest";
import { dewPointC } from "#core/air/dew-point.ts";
import { saturationVapourPa } from "#core/air/vapour.ts";
import { dewPointOfPa, saturatedPa } from "#core/air/vapour-table.ts";

const TEMPERATURES_C = Array.from({ length: 1400 }, (_, index) => -60 + index * 0.0917);

describe("the table of saturation pressures", () => {
  it("is within 0.002 % of the formula from -60 to 68 °C", () => {
    for (const tempC of TEMPERATURES_C)
      expect(Math.abs(saturatedPa(tempC) / saturationVapourPa(tempC) - 1)).toBeLessThan(2e-5);
  });

  it("gives the dew point back, within a thousandth of a kelvin", () => {
    for (const tempC of TEMPERATURES_C) expect(dewPointOfPa(saturatedPa(tempC))).toBeCloseTo(tempC, 3);
    expect(dewPointOfPa(0.5 * saturatedPa(20))).toBeCloseTo(dewPointC(20, 50), 3);
  });

  it("holds its ends and passes on what is not a number", () => {
    expect(saturatedPa(-200)).toBe(saturatedPa(-80));
    expect(saturatedPa(200)).toBe(saturatedPa(90));
    expect(saturatedPa(Number.NaN)).toBeNaN();
  });
});
