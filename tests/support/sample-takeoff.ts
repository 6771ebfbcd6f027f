// Takeoff of a made-up site, reckoned by the core from invented materials.
import { bodyFromTakeoff, type TakeoffBody } from "#contract/takeoff.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import { coatTakeoff } from "#core/takeoff/takeoff.ts";
import type { MaterialBody } from "#contract/material.ts";
import type { ZoneTakeoff } from "#core/takeoff/zone.ts";
import type { Zone } from "#core/zone/site.ts";
import { SAMPLE_AT_MS } from "./sample-site.ts";

export const EPOXY: MaterialBody = {
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
  placeM2PerH: 90,
  people: 3,
  hazards: ["amine"],
};

export const TOPCOAT: MaterialBody = {
  wetLPerM2: 0.2,
  wastePct: 5,
  mix: {
    by: "volume",
    parts: [
      { name: "A", share: 1 },
      { name: "B", share: 1 },
    ],
  },
  kitL: 7.6,
  splitKits: true,
  potClass: "film-limited",
  potLife: [{ resinC: 23, min: 25 }],
  floorMin: 14,
  hazards: ["isocyanate", "solvent"],
};

/** The zones with these sheets; the first coat of the first zone is down, and one batch of its second is mixed. */
export function sampleTakeoff(zones: readonly Zone[], sheets: readonly Sheet[]): TakeoffBody {
  const materials = [EPOXY, TOPCOAT];
  const of = (zone: Zone, first: boolean): ZoneTakeoff => ({
    zone: { ...zone, probes: null, splitFrom: null },
    resin: first
      ? { resinC: 19, basis: "measured", atMs: SAMPLE_AT_MS - 20 * 60_000 }
      : { resinC: 23, basis: "kept", atMs: null },
    coats: zone.system.flatMap((id, coat) => {
      const sheet = sheets.find((one) => one.id === id);
      const material = materials[sheets.findIndex((one) => one.id === id)];
      if (sheet === undefined) return [];
      const known: Sheet = material === undefined ? sheet : { ...sheet, material };
      const floor = { areaM2: zone.areaM2, crew: zone, resinC: first ? 19 : 23 };
      const state = first ? (coat === 0 ? "down" : coat === 1 ? "next" : "to-come") : coat === 0 ? "next" : "to-come";
      return [{ takeoff: coatTakeoff(coat, known, floor), state, mixed: [] } as const];
    }),
    unknownCoats: [],
  });
  return bodyFromTakeoff(
    zones.map((zone, index) => of(zone, index === 0)),
    SAMPLE_AT_MS,
  );
}
