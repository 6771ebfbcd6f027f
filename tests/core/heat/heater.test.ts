// Fuel and water of a heater, against the tables of units and the trade's figures.
import { describe, expect, it } from "vitest";
import { heaterWaterKgPerH } from "#core/air/combustion.ts";
import { fuelFor } from "#core/heat/heater.ts";
import { kWFromBtuPerH, usGalFromL } from "#core/units.ts";
import { numberOf, referenceRows } from "../../support/csv.ts";

const rows = referenceRows("units/units.csv");
const value = (id: string) => numberOf(rows.find((row) => row.id === id) ?? {}, "value");

describe("fuel burnt", () => {
  it("and the water of its fumes agree with the table of burning", () => {
    // Source: tests/reference/units, rows C-c3-w and C-c3-wL: kg of water per kg and per kWh of propane.
    const kg = fuelFor({ kW: 1, fuel: "propane", vented: false }, 1)?.kg ?? 0;
    expect(kg * value("C-c3-w")).toBeCloseTo(value("C-c3-wL"), 4);
    expect(heaterWaterKgPerH("propane", 1, false)).toBeCloseTo(value("C-c3-wL"), 4);
    expect(heaterWaterKgPerH("natural-gas", 1, false)).toBeCloseTo(value("C-c1-wL"), 4);
  });

  it.each([
    ["propane", 3.3],
    ["kerosene", 2.2],
  ] as const)(
    "300 000 Btu/h of %s: a little more than the trade's %f gal/h, which counts gross heat",
    (fuel, galPerH) => {
      // Source: figures of field manuals, 91 500 and 135 000 Btu a US gallon, gross.
      const litres = fuelFor({ kW: 88, fuel, vented: false }, kWFromBtuPerH(300_000))?.litres ?? 0;
      expect(usGalFromL(litres) / galPerH).toBeGreaterThan(1);
      expect(usGalFromL(litres) / galPerH).toBeLessThan(1.12);
    },
  );

  it("a vented heater burns more for the same heat; a socket and an unnamed fuel burn nothing that could be told", () => {
    const burnt = (vented: boolean) => fuelFor({ kW: 10, fuel: "diesel", vented }, 100)?.kg ?? 0;
    // A fifth goes out with the fumes: common practice, no source.
    expect(burnt(true) / burnt(false)).toBeCloseTo(1.25, 9);
    expect(fuelFor({ kW: 10, fuel: "natural-gas", vented: true }, 100)?.litres).toBeNull();
    expect(fuelFor({ kW: 10, fuel: "electric", vented: true }, 100)).toBeNull();
    expect(fuelFor({ kW: 10, fuel: "other", vented: true }, 100)).toBeNull();
    expect(fuelFor({ kW: 10, fuel: "propane", vented: true }, 0)).toEqual({ kg: 0, litres: 0 });
    expect(() => fuelFor({ kW: 10, fuel: "propane", vented: true }, Number.NaN)).toThrow(/heatKWh/);
  });
});
