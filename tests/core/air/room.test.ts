// Moisture of a heated room and the water of its heaters: the trade's table, exact steps, conservation.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { burntWaterKgPerKg, burntWaterKgPerKWh, HYDROCARBONS, heaterWaterKgPerH } from "#core/air/combustion.ts";
import { latentHeatKJPerKg } from "#core/air/latent-heat.ts";
import { type Room, steadyWaterGPerKg, stepWaterGPerKg } from "#core/air/room.ts";
import { expectMeasured } from "../../support/expect-measured.ts";
import { measureVentilation } from "../../support/measure/site-heat.ts";

const hall: Room = { volumeM3: 850, airChangesPerH: 0.7, airDensityKgPerM3: 1.22 };

describe("against outside truth", () => {
  it("gives dew point and humidity of a hall heated by an unvented flame, at four air changes and without", () => {
    // Source: tests/reference/site-heat (computed, whole percent).
    expectMeasured(measureVentilation(), { rowsRead: 5, checkedByKind: { "heated hall": 5 }, notApplicable: {} });
  });

  it("knows 1.634 kg of water per kg of propane, not the 2.6 that is also in print", () => {
    expect(burntWaterKgPerKg(HYDROCARBONS.propane)).toBeCloseTo(1.634, 3);
  });

  it("has natural gas wetter than propane for the same heat, and kerosene drier, though propane is wetter by volume", () => {
    // Trade figures per kWh: propane 0.117 to 0.127, natural gas 0.146 to 0.162, kerosene about 0.105 kg.
    for (const basis of ["gross", "net"] as const) {
      const propane = burntWaterKgPerKWh(HYDROCARBONS.propane, basis);
      expect(burntWaterKgPerKWh(HYDROCARBONS["natural-gas"], basis)).toBeGreaterThan(propane);
      expect(burntWaterKgPerKWh(HYDROCARBONS.kerosene, basis)).toBeLessThan(propane);
      expect(burntWaterKgPerKWh(HYDROCARBONS.diesel, basis)).toBeLessThan(propane);
    }
    expect(burntWaterKgPerKWh(HYDROCARBONS.kerosene, "net")).toBeCloseTo(0.105, 2);
  });
});

describe("heaters", () => {
  it("adds no water if it is vented or electric, and the wettest fuel's if unknown", () => {
    expect(heaterWaterKgPerH("propane", 30, true)).toBe(0);
    expect(heaterWaterKgPerH("electric", 30, false)).toBe(0);
    expect(heaterWaterKgPerH("other", 30, false)).toBe(heaterWaterKgPerH("natural-gas", 30, false));
    for (const fuel of ["propane", "butane", "kerosene", "diesel"] as const) {
      expect(heaterWaterKgPerH(fuel, 30, false)).toBeLessThan(heaterWaterKgPerH("other", 30, false));
      expect(heaterWaterKgPerH(fuel, 30, false, "gross")).toBeLessThan(heaterWaterKgPerH(fuel, 30, false));
    }
  });

  it("refuses power and fuels that are none", () => {
    expect(() => heaterWaterKgPerH("propane", -1, false)).toThrow(/powerKW/);
    expect(() => burntWaterKgPerKg({ carbon: 0, hydrogen: 4, grossMJPerKg: 50, netMJPerKg: 45 })).toThrow(/carbon/);
  });
});

describe("the balance", () => {
  it("is the same in one step and in many", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 12, noNaN: true }),
        fc.double({ min: 0.5, max: 9, noNaN: true }),
        fc.double({ min: 0, max: 8, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        (water, outdoor, source, airChangesPerH) => {
          const room = { ...hall, airChangesPerH };
          const once = stepWaterGPerKg(room, water, outdoor, source, 3);
          let stepped = water;
          for (let i = 0; i < 12; i++) stepped = stepWaterGPerKg(room, stepped, outdoor, source, 0.25);
          expect(stepped).toBeCloseTo(once, 9);
        },
      ),
    );
  });

  it("settles where the steady state says, and stays there", () => {
    const steady = steadyWaterGPerKg(hall, 4.2, 2.5);
    expect(stepWaterGPerKg(hall, 9, 4.2, 2.5, 200)).toBeCloseTo(steady, 9);
    expect(stepWaterGPerKg(hall, steady, 4.2, 2.5, 5)).toBeCloseTo(steady, 12);
    expect(steadyWaterGPerKg(hall, 4.2, 0)).toBe(4.2);
  });

  it("keeps every gram of a tight room", () => {
    const tight = { ...hall, airChangesPerH: 0 };
    const grams = 2500 * 4;
    expect((stepWaterGPerKg(tight, 6, 4, 2.5, 4) - 6) * 850 * 1.22).toBeCloseTo(grams, 6);
    expect(steadyWaterGPerKg(tight, 4, 2.5)).toBe(Number.POSITIVE_INFINITY);
  });

  it("never dries air below nothing", () => {
    expect(stepWaterGPerKg(hall, 1, 1, -50, 6)).toBe(0);
  });

  it("names what is wrong", () => {
    expect(() => stepWaterGPerKg(hall, Number.NaN, 4, 0, 1)).toThrow(/waterGPerKg/);
    expect(() => stepWaterGPerKg(hall, 6, -4, 0, 1)).toThrow(/outdoorWaterGPerKg/);
    expect(() => stepWaterGPerKg(hall, 6, 4, Number.NaN, 1)).toThrow(/sourceKgPerH/);
    expect(() => stepWaterGPerKg(hall, 6, 4, 1, -1)).toThrow(/hours/);
    expect(() => steadyWaterGPerKg({ ...hall, volumeM3: 0 }, 4, 1)).toThrow(/volumeM3/);
    expect(() => steadyWaterGPerKg({ ...hall, airChangesPerH: -1 }, 4, 1)).toThrow(/airChangesPerH/);
    expect(() => latentHeatKJPerKg(Number.NaN)).toThrow(/tempC/);
  });
});
