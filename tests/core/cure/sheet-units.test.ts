// Units of the paper. Factors by NIST SP 811 through core/units.ts; differences never add 32.
import { expect, it } from "vitest";
import {
  type FieldUnits,
  insideFromTyped,
  TYPED_UNITS,
  type TypedUnit,
  typedFromInside,
  unitsOfField,
} from "#core/cure/sheet-units.ts";

const inside = (path: string, value: number, unit: TypedUnit) =>
  insideFromTyped(value, unit, unitsOfField(path) as FieldUnits);

it.each<[string, number, TypedUnit, number]>([
  ["limits.slabC.0", 50, "F", 10],
  // 5 °F of difference: 5/9 of a kelvin each, NIST SP 811 B.9.
  ["limits.dewMarginK", 5, "dF", 25 / 9],
  ["cure.3.recoatFromH", 90, "min", 1.5],
  ["cure.0.recoatUntilH", 7, "d", 168],
  ["hard.12.hardH", 30, "min", 0.5],
  ["limits.waterGPerKg.0", 42, "gr/lb", 6],
  // 1 lb/1000 ft² is 453.592 37 g over 92.903 04 m².
  ["limits.slabMverMaxLb", 4.882_428, "g/m2.24h", 1],
  // One US gallon over 160 ft² is a wet film of 10.026 mil, 0.254 663 mm.
  ["material.wetLPerM2", 160, "ft2/gal", 0.254_663],
  ["material.wetLPerM2", 4, "m2/L", 0.25],
  ["material.wetLPerM2", 10, "mil", 0.254],
  ["material.wetLPerM2", 250, "um", 0.25],
  ["material.dryFilmUm", 10, "mil", 254],
  ["material.kitL", 3, "gal", 11.356_235],
  ["material.potLife.0.min", 0.5, "h", 30],
  ["material.potLife.0.massKg", 1, "lb", 0.453_592],
  ["material.densityKgPerL", 8.345_404, "lb/gal", 1],
  ["material.placeM2PerH", 1000, "ft2/h", 92.903_04],
])("%s: %d %s is %d inside", (path, value, unit, expected) => {
  expect(inside(path, value, unit)).toBeCloseTo(expected, 5);
});

it("every unit of every field goes there and back", () => {
  const paths = ["limits.airC.1", "limits.dewMarginK", "cure.0.footH", "limits.waterGPerKg.1", "limits.slabMverMaxLb"];
  const more = [
    "material.wetLPerM2",
    "material.dryFilmUm",
    "material.kitL",
    "material.densityKgPerL",
    "material.mixMin",
  ];
  const last = ["material.potLife.1.massKg", "material.placeM2PerH", "limits.rhPct.0"];
  const seen = new Set<TypedUnit>();
  for (const path of [...paths, ...more, ...last]) {
    const units = unitsOfField(path) as FieldUnits;
    for (const unit of units) {
      seen.add(unit);
      expect(typedFromInside(insideFromTyped(37.5, unit, units), unit, units)).toBeCloseTo(37.5, 9);
    }
  }
  expect([...seen].sort()).toEqual([...TYPED_UNITS].sort());
});

it("what is no figure has no unit", () => {
  for (const path of ["limits", "cure.0", "cure.0.toString", "name", "limits.slabC.2", "__proto__.x"])
    expect(unitsOfField(path)).toBeNull();
});
