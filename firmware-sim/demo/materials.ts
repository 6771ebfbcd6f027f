// Invented materials of the demonstration's sheets, so that its material page has something to reckon.
import type { MaterialBody } from "#contract/material.ts";

const EPOXY: MaterialBody = {
  dryFilmUm: 400,
  solidsPct: 100,
  texturePct: 10,
  wastePct: 8,
  densityKgPerL: 1.1,
  mix: {
    by: "volume",
    parts: [
      { name: "A", share: 2, kitL: 7.6, densityKgPerL: 1.13 },
      { name: "B", share: 1, kitL: 3.8, densityKgPerL: 1.02 },
    ],
  },
  kitL: 11.4,
  mixMin: 3,
  potClass: "mass-limited",
  potLife: [{ resinC: 25, min: 30, massKg: 0.2 }],
  hazards: ["amine"],
};

const TOPCOAT: MaterialBody = {
  wetLPerM2: 0.2,
  wastePct: 5,
  mix: {
    by: "volume",
    parts: [
      { name: "A", share: 1, kitL: 3.8 },
      { name: "B", share: 1, kitL: 3.8 },
    ],
  },
  kitL: 7.6,
  splitKits: true,
  mixMin: 2,
  potClass: "film-limited",
  potLife: [{ resinC: 23, min: 25 }],
  floorMin: 15,
  hazards: ["isocyanate"],
};

/** By the id of the sheet; a sheet that is not here has none, as many have at first. */
export const DEMO_MATERIALS: Readonly<Record<string, MaterialBody>> = {
  "slow-epoxy": EPOXY,
  "fast-cold-epoxy": { ...EPOXY, potLife: [{ resinC: 21, min: 14, massKg: 0.2 }] },
  "polyaspartic-top": TOPCOAT,
  "urethane-top": {
    ...TOPCOAT,
    wetLPerM2: 0.1,
    potClass: "long-pot",
    potLife: [{ resinC: 21, min: 180 }],
    hazards: ["isocyanate", "solvent"],
  },
};
