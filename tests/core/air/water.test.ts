// Humidity ratio, pressure, density and wet bulb beyond the table: round trips, order, guards.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rhPctFromVapour, vapourPa } from "#core/air/vapour.ts";
import {
  airDensityKgPerM3,
  pressureAtAltitudePa,
  SEA_LEVEL_PA,
  vapourPaFromWater,
  waterGPerKg,
  waterGPerKgFromVapour,
  waterGPerM3,
} from "#core/air/water.ts";
import { wetBulbC } from "#core/air/wet-bulb.ts";
import { cFromF, gPerKgFromGrPerLb } from "#core/units.ts";

const airC = fc.double({ min: -20, max: 45, noNaN: true });
const rhPct = fc.double({ min: 5, max: 99, noNaN: true });
const altitudeM = fc.double({ min: -300, max: 4000, noNaN: true });

describe("humidity ratio", () => {
  it("comes back from vapour pressure", () => {
    fc.assert(
      fc.property(airC, rhPct, altitudeM, (air, rh, altitude) => {
        const pressurePa = pressureAtAltitudePa(altitude);
        expect(vapourPaFromWater(waterGPerKg(air, rh, pressurePa), pressurePa)).toBeCloseTo(vapourPa(air, rh), 6);
      }),
    );
  });

  it("is higher on a mountain: the same vapour in thinner air", () => {
    fc.assert(
      fc.property(airC, rhPct, fc.double({ min: 100, max: 4000, noNaN: true }), (air, rh, altitude) => {
        expect(waterGPerKg(air, rh, pressureAtAltitudePa(altitude))).toBeGreaterThan(
          waterGPerKg(air, rh, SEA_LEVEL_PA),
        );
      }),
    );
  });

  it.each([
    [45, 95],
    [50, 79],
    [55, 65],
    [60, 54],
    [65, 46],
    [70, 38],
    [77, 30],
  ])("gives the 42 grains that a urethane asks for at %d °F and %d percent", (airF, rh) => {
    // Trade figure: 42 gr/lb (6 g/kg) below which moisture-cured urethane stalls; whole percent, within one.
    expect(gPerKgFromGrPerLb(42)).toBe(6);
    const needed = rhPctFromVapour(cFromF(airF), vapourPaFromWater(6, SEA_LEVEL_PA));
    expect(Math.abs(needed - rh)).toBeLessThan(1);
  });
});

describe("pressure and density", () => {
  it("falls with altitude: 95 461 Pa at 500 m", () => {
    // Source: psychrolib tests (ASHRAE 2017, chapter 1, table 1).
    expect(pressureAtAltitudePa(0)).toBe(SEA_LEVEL_PA);
    expect(pressureAtAltitudePa(500)).toBeCloseTo(95_461, 0);
    expect(pressureAtAltitudePa(1500)).toBeLessThan(pressureAtAltitudePa(1400));
  });

  it("makes damp air lighter than dry air", () => {
    expect(airDensityKgPerM3(20, 0.001, SEA_LEVEL_PA)).toBeCloseTo(1.204, 3);
    expect(airDensityKgPerM3(20, 90, SEA_LEVEL_PA)).toBeLessThan(airDensityKgPerM3(20, 10, SEA_LEVEL_PA));
    expect(waterGPerM3(20, 50)).toBeCloseTo(8.65, 1);
  });
});

describe("wet bulb", () => {
  it("lies between dew or frost point and air, and rises with humidity", () => {
    fc.assert(
      fc.property(airC, fc.double({ min: 5, max: 75, noNaN: true }), (air, rh) => {
        const wet = wetBulbC(air, rh, SEA_LEVEL_PA);
        expect(wet).toBeLessThan(air);
        expect(wetBulbC(air, rh + 2, SEA_LEVEL_PA)).toBeGreaterThan(wet);
      }),
    );
  });

  it("is the air itself when the air is saturated, and does not exist where ice would grow", () => {
    expect(wetBulbC(12, 100, SEA_LEVEL_PA)).toBeCloseTo(12, 6);
    expect(() => wetBulbC(-20, 95, SEA_LEVEL_PA)).toThrow(/no wet bulb/);
  });
});

describe("guards", () => {
  it("names what is wrong", () => {
    expect(() => pressureAtAltitudePa(Number.NaN)).toThrow(/altitudeM/);
    expect(() => waterGPerKg(14, 61, Number.NaN)).toThrow(/pressurePa/);
    expect(() => waterGPerKgFromVapour(99_000, SEA_LEVEL_PA)).toThrow(/vapourPressurePa/);
    expect(() => vapourPaFromWater(-1, SEA_LEVEL_PA)).toThrow(/waterGPerKg/);
    expect(() => airDensityKgPerM3(14, 61, 5)).toThrow(/pressurePa/);
  });
});
