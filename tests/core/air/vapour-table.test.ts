// The table of saturation pressures that ensembles read: as exact as the formula it is made from.
import { describe, expect, it } from "vitest";
import { dewPointC } from "#core/air/dew-point.ts";
import { saturationVapourPa } from "#core/air/vapour.ts";
import { dewPointOfLog, logFrom, logOfPa, saturatedPa } from "#core/air/vapour-table.ts";

const TEMPERATURES_C = Array.from({ length: 1400 }, (_, index) => -60 + index * 0.0917);
const dewPointOfPa = (pa: number) => dewPointOfLog(logOfPa(pa));

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

describe("a logarithm that goes on from the last one", () => {
  it("is the logarithm, whether the pressure changes little or much", () => {
    for (const pa of [20, 611.2, 1234, 4000])
      for (let change = -0.5; change < 0.9; change += 0.0011) {
        const nextPa = pa * (1 + change);
        expect(Math.abs(logFrom(logOfPa(pa), pa, nextPa) - logOfPa(nextPa))).toBeLessThan(1e-13);
      }
  });

  it("stays it over hundreds of steps, and passes on what is not a number", () => {
    let [pa, log] = [900, logOfPa(900)];
    for (let step = 1; step < 500; step++) {
      const nextPa = 900 + 300 * Math.sin(step / 9);
      log = logFrom(log, pa, nextPa);
      pa = nextPa;
      expect(Math.abs(log - logOfPa(pa))).toBeLessThan(1e-12);
    }
    expect(logFrom(log, pa, Number.NaN)).toBeNaN();
    expect(logFrom(Number.NaN, Number.NaN, 700)).toBe(logOfPa(700));
  });
});
