// Invented materials for the tests of takeoff.
import type { Material } from "#core/takeoff/material.ts";
import { cFromF, lFromUsGal, lPerM2FromFt2PerUsGal } from "#core/units.ts";

/** Body coat at 100 ft²/gal: 30 min at 77 °F printed on 200 g, kits of 3 gal, two parts of A to one of B. */
export const BODY: Material = {
  wetLPerM2: lPerM2FromFt2PerUsGal(100),
  wastePct: 10,
  densityKgPerL: 1.1,
  mix: {
    by: "volume",
    parts: [
      { name: "A", share: 2, densityKgPerL: 1.13 },
      { name: "B", share: 1, densityKgPerL: 1.02 },
    ],
  },
  kitL: lFromUsGal(3),
  mixMin: 3,
  potClass: "mass-limited",
  potLife: [{ resinC: cFromF(77), min: 30, massKg: 0.2 }],
};
