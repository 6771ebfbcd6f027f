// Every conversion against units.csv, there and back, and the two meanings of a degree.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as units from "#core/units.ts";
import { expectMeasured } from "../support/expect-measured.ts";
import { measureUnits } from "../support/measure/units.ts";

const pairs: readonly (readonly [string, (value: number) => number, (value: number) => number])[] = [
  ["°C and °F", units.cFromF, units.fFromC],
  ["K and °F differences", units.kFromFDifference, units.fDifferenceFromK],
  ["m and ft", units.mFromFt, units.ftFromM],
  ["m² and ft²", units.m2FromFt2, units.ft2FromM2],
  ["L and US gal", units.lFromUsGal, units.usGalFromL],
  ["mL and US fl oz", units.mlFromUsFlOz, units.usFlOzFromMl],
  ["mm and mil", units.mmFromMil, units.milFromMm],
  ["mil and ft² per US gal", units.milFromFt2PerUsGal, units.ft2PerUsGalFromMil],
  ["kg and lb", units.kgFromLb, units.lbFromKg],
  ["kWh and Btu", units.kWhFromBtu, units.btuFromKWh],
  ["kW and Btu per h", units.kWFromBtuPerH, units.btuPerHFromKW],
  ["g per kg and gr per lb", units.gPerKgFromGrPerLb, units.grPerLbFromGPerKg],
  ["Pa and inHg", units.paFromInHg, units.inHgFromPa],
];

describe("units", () => {
  it("meets units.csv: conversions, burning, latent heat, moisture of a room", () => {
    // Source: tests/reference/units (NIST, stoichiometry, IAPWS, mass balance).
    expectMeasured(measureUnits(), {
      rowsRead: 106,
      checkedByKind: { U: 21, T: 5, P: 3, E: 6, C: 29, L: 8, MB: 8, I: 1 },
      notApplicable: { "P-perm": 1, "I-": 17, "CO-": 7 },
    });
  });

  it.each(pairs)("goes there and back: %s", (_name, there, back) => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 5000, noNaN: true }), (value) => {
        expect(back(there(value)) / value).toBeCloseTo(1, 10);
      }),
    );
  });

  it("never adds 32 to a difference", () => {
    expect(units.kFromFDifference(0)).toBe(0);
    expect(units.fDifferenceFromK(0)).toBe(0);
    expect(units.cFromF(32)).toBe(0);
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 120, noNaN: true }),
        fc.double({ min: -30, max: 30, noNaN: true }),
        (atF, byF) => {
          expect(units.cFromF(atF + byF) - units.cFromF(atF)).toBeCloseTo(units.kFromFDifference(byF), 9);
        },
      ),
    );
  });

  it("counts a wet film of 1 mm as 1 L per m²", () => {
    expect(units.lPerM2FromFt2PerUsGal(units.ft2PerUsGalFromMil(units.milFromMm(1)))).toBeCloseTo(1, 12);
    expect(units.kelvinFromC(20)).toBeCloseTo(293.15, 12);
  });

  it("makes 112.5 US gal of 6 US fl oz a ft² over 2,400 ft² (the rate: common practice, no source)", () => {
    const usGal = units.usGalFromL((units.mlFromUsFlOz(6) * 2400) / 1000);
    expect(usGal).toBeCloseTo(112.5, 9);
    // The same laid out in metres: the area in m² times the film that the rate gives.
    const mmOfFilm = units.lPerM2FromFt2PerUsGal(128 / 6);
    expect(units.usGalFromL(units.m2FromFt2(2400) * mmOfFilm)).toBeCloseTo(112.5, 6);
  });
});
