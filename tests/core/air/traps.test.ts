// Errors found in public guidance about moist air: the code must not share them. Sources: tests/reference/*/SOURCE.md.
import { describe, expect, it } from "vitest";
import { dewPointC, frostPointC } from "#core/air/dew-point.ts";
import { saturationVapourPa } from "#core/air/vapour.ts";
import { cFromF, fDifferenceFromK, fFromC, kFromFDifference } from "#core/units.ts";
import { numberOf, referenceRows } from "../../support/csv.ts";

describe("a difference is not a temperature", () => {
  it("reads 5 °F as a difference of 2.778 K, never as -15 °C and never as 3 K", () => {
    expect(kFromFDifference(5)).toBeCloseTo(2.778, 3);
    expect(cFromF(5)).toBeCloseTo(-15, 9);
    expect(fDifferenceFromK(3)).toBeCloseTo(5.4, 12);
    expect(fFromC(3)).toBeCloseTo(37.4, 12);
  });
});

describe("short cuts that are wrong", () => {
  it("is not the simple rule Td = T - (100 - RH)/5", () => {
    const rule = (airC: number, rhPct: number): number => airC - (100 - rhPct) / 5;
    // Within 1.6 K above 50 %, but 1.5 to 4 K too high at 30 % and 4 to 8 K at 20 %.
    let worst = 0;
    for (let airC = 0; airC <= 30; airC++) {
      for (let rhPct = 51; rhPct <= 100; rhPct++)
        worst = Math.max(worst, Math.abs(rule(airC, rhPct) - dewPointC(airC, rhPct)));
    }
    expect(worst).toBeGreaterThan(1.2);
    expect(worst).toBeLessThan(1.6);
    for (const airC of [0, 10, 20]) {
      expect(rule(airC, 30) - dewPointC(airC, 30)).toBeGreaterThan(1.2);
      expect(rule(airC, 20) - dewPointC(airC, 20)).toBeGreaterThan(3.5);
    }
  });

  it("is not the formula without its temperature term, which says -6.9 °C for 60 % at any temperature", () => {
    const broken = (rhPct: number): number => (243.12 * Math.log(rhPct / 100)) / (17.62 - Math.log(rhPct / 100));
    expect(broken(60)).toBeCloseTo(-6.85, 2);
    expect(dewPointC(20, 60)).toBeCloseTo(12, 1);
    expect(dewPointC(5, 60)).toBeCloseTo(-2.1, 1);
  });

  it("is better than a printed chart, which is 1.66 °F off at worst and by more than 1 °F in ten of its cells", () => {
    const errors = referenceRows("psychrometrics/dewpoint-chart-f.csv").map((row) => {
      const exactF = fFromC(dewPointC(cFromF(numberOf(row, "t_F")), numberOf(row, "rh_pct")));
      expect(numberOf(row, "chart_td_F") - numberOf(row, "exact_td_F")).toBeCloseTo(numberOf(row, "diff_F"), 6);
      return Math.abs(numberOf(row, "chart_td_F") - exactF);
    });
    expect(errors).toHaveLength(88);
    expect(errors.reduce((sum, error) => sum + error, 0) / errors.length).toBeCloseTo(0.5, 2);
    expect(Math.max(...errors)).toBeGreaterThan(1.6);
    expect(Math.max(...errors)).toBeLessThan(1.7);
    const rows = referenceRows("psychrometrics/dewpoint-chart-f.csv");
    expect(rows.filter((row) => Math.abs(numberOf(row, "diff_F")) > 1)).toHaveLength(10);
  });

  it("has the humidity of the air halved by about 11 K of warming, not by 10 °F", () => {
    const half = (fromC: number, byK: number): number => saturationVapourPa(fromC) / saturationVapourPa(fromC + byK);
    expect(half(10, 11)).toBeCloseTo(0.5, 1);
    expect(half(10, kFromFDifference(10))).toBeGreaterThan(0.68);
  });
});

describe("misprints of public tables", () => {
  it("gives 67 to 74 % for a surface 10 °F above the dew point, where a table prints 74 to 80 %", () => {
    const rhAt = (surfaceF: number, spreadF: number): number =>
      (100 * saturationVapourPa(cFromF(surfaceF - spreadF))) / saturationVapourPa(cFromF(surfaceF));
    for (const surfaceF of [40, 60, 80, 100]) {
      expect(rhAt(surfaceF, 10)).toBeGreaterThan(66);
      expect(rhAt(surfaceF, 10)).toBeLessThan(74.5);
      expect(rhAt(surfaceF, 5)).toBeGreaterThan(81);
    }
  });

  it("takes the psychrometer constant with its formula: 28.9 % at 19 and 10 °C, where another constant gives 30.4 %", () => {
    const humidity = (airC: number, wetC: number, constant: number): number =>
      (100 * (saturationVapourPa(wetC) - constant * 100_000 * (airC - wetC))) / saturationVapourPa(airC);
    expect(humidity(19, 10, 6.53e-4 * (1 + 0.000944 * 10))).toBeCloseTo(28.9, 0);
    expect(humidity(19, 10, 6.21e-4)).toBeCloseTo(30.4, 0);
  });
});

describe("ice or water", () => {
  it("counts humidity and dew point over water below 0 °C, and says frost point where ice is meant", () => {
    // 100 % over ice at -10 °C is 90.7 % over water: its frost point is -10, its dew point -11.23.
    expect(dewPointC(-10, 90.73)).toBeCloseTo(-11.23, 1);
    expect(frostPointC(-10, 90.73)).toBeCloseTo(-10, 1);
  });

  it("finds the coldest margin of a night of radiation over snow: 1.4 K while the air is warmer than the ground", () => {
    // Source: tests/reference/weather, SURFRAD Alamosa: surface temperature from longwave, minute by minute.
    const rows = referenceRows("weather/weather-surfrad-alamosa-2016-01-01.csv");
    expect(rows).toHaveLength(1440);
    const margins = rows.map((row) => ({
      at: row.time_utc as string,
      marginK: numberOf(row, "t_surface_C") - dewPointC(numberOf(row, "t_air_C"), numberOf(row, "rh_pct")),
      airAboveK: numberOf(row, "t_air_C") - numberOf(row, "t_surface_C"),
    }));
    const lowest = margins.reduce((least, minute) => (minute.marginK < least.marginK ? minute : least));
    expect(lowest.at.slice(11, 16)).toBe("08:25");
    expect(lowest.marginK).toBeCloseTo(1.4, 1);
    expect(lowest.airAboveK).toBeCloseTo(1.6, 1);
  });
});
