// Dew on the slab: sign, the wet bulb as outside truth for heat and mass together, and the balance of the surface.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dewPointC, frostPointC } from "#core/air/dew-point.ts";
import { latentHeatKJPerKg } from "#core/air/latent-heat.ts";
import { vapourPa } from "#core/air/vapour.ts";
import { SEA_LEVEL_PA } from "#core/air/water.ts";
import { wetBulbC } from "#core/air/wet-bulb.ts";
import {
  dewHeatWPerM2,
  dewRateGPerM2H,
  FLOOR_CONVECTION_W_PER_M2K,
  surfaceWaterGPerM2,
} from "#core/slab/surface-dew.ts";

describe("the rate", () => {
  it("is zero at the dew point, dew below it, drying above it", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 35, noNaN: true }),
        fc.double({ min: 40, max: 98, noNaN: true }),
        (airC, rhPct) => {
          const dewC = dewPointC(airC, rhPct);
          if (dewC < 1.1) return;
          expect(Math.abs(dewRateGPerM2H(dewC, airC, rhPct, 3))).toBeLessThan(1e-6);
          expect(dewRateGPerM2H(dewC - 1, airC, rhPct, 3)).toBeGreaterThan(0);
          expect(dewRateGPerM2H(dewC + 1, airC, rhPct, 3)).toBeLessThan(0);
        },
      ),
    );
  });

  it("counts over ice below 0 °C: frost settles between dew and frost point, where water would dry", () => {
    const frostC = frostPointC(-1, 60);
    expect(frostC).toBeLessThan(-1);
    expect(Math.abs(dewRateGPerM2H(frostC, -1, 60, 3))).toBeLessThan(1e-6);
    expect(dewRateGPerM2H((frostC + dewPointC(-1, 60)) / 2, -1, 60, 3)).toBeGreaterThan(0);
  });

  it("grows in proportion to the film and is larger in thin air", () => {
    const rate = dewRateGPerM2H(6, 18, 70, 3);
    expect(dewRateGPerM2H(6, 18, 70, 6)).toBeCloseTo(2 * rate, 9);
    expect(dewRateGPerM2H(6, 18, 70, 3, 80_000)).toBeGreaterThan(rate);
    expect(dewRateGPerM2H(6, 18, 70, 0)).toBe(0);
  });

  it("has the psychrometer constant of a wetted thermometer within 15 %", () => {
    // Source: WMO guide No. 8, A = 6.53e-4 /K for an aspirated psychrometer. At the wet bulb, convection in = evaporation out.
    for (const [airC, rhPct] of [
      [19, 29],
      [25, 50],
      [32, 65],
    ] as const) {
      const wetC = wetBulbC(airC, rhPct, SEA_LEVEL_PA);
      const evaporationWPerM2 = -dewHeatWPerM2(dewRateGPerM2H(wetC, airC, rhPct, 10), wetC);
      const perPa = evaporationWPerM2 / 10 / (vapourPa(wetC, 100) - vapourPa(airC, rhPct));
      const constant = 1 / (perPa * SEA_LEVEL_PA);
      expect(Math.abs(constant / 6.53e-4 - 1)).toBeLessThan(0.15);
    }
  });

  it("dries a washed floor in hours with a fan and in days without", () => {
    // Common practice, no source: 200 g/m2 of wash water at 15 °C and 60 % is gone in an afternoon of moved air.
    const hoursToDry = (filmWPerM2K: number): number => 200 / -dewRateGPerM2H(14, 15, 60, filmWPerM2K);
    expect(hoursToDry(FLOOR_CONVECTION_W_PER_M2K.fan)).toBeLessThan(4);
    expect(hoursToDry(FLOOR_CONVECTION_W_PER_M2K.coldFloor)).toBeGreaterThan(12);
  });
});

describe("heat and balance", () => {
  it("warms the surface with the latent heat of what settles", () => {
    expect(dewHeatWPerM2(36, 12)).toBeCloseTo((36 / 3600) * latentHeatKJPerKg(12), 9);
    expect(dewHeatWPerM2(36, -4)).toBeGreaterThan(dewHeatWPerM2(36, 4));
  });

  it("adds, dries and never goes below nothing", () => {
    expect(surfaceWaterGPerM2(5, 3, 2)).toBe(11);
    expect(surfaceWaterGPerM2(5, -3, 1)).toBe(2);
    expect(surfaceWaterGPerM2(5, -3, 4)).toBe(0);
  });

  it("names what is wrong", () => {
    expect(() => dewRateGPerM2H(Number.NaN, 18, 70, 3)).toThrow(/tempC/);
    expect(() => dewRateGPerM2H(6, 18, 70, -3)).toThrow(/filmWPerM2K/);
    expect(() => dewRateGPerM2H(6, 18, 70, 3, 5)).toThrow(/pressurePa/);
    expect(() => surfaceWaterGPerM2(-1, 3, 2)).toThrow(/waterGPerM2/);
    expect(() => surfaceWaterGPerM2(5, Number.NaN, 2)).toThrow(/rateGPerM2H/);
    expect(() => surfaceWaterGPerM2(5, 3, -2)).toThrow(/hours/);
  });
});
