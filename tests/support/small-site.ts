// A small made-up site for tests of the live path: one floor of two coats, a node on it and one outdoors.
import type { SheetBody } from "#contract/sheet.ts";
import type { NodeBody, SiteBody, ZoneBody } from "#contract/zone.ts";

/** Noon on a winter day; every test of the live path begins here. */
export const NOON_MS = Date.UTC(2026, 1, 3, 12);

export const SITE: SiteBody = { id: "dock", name: "Dock shed", timezone: "America/Vancouver", altitudeM: 6 };
export const SHEET: SheetBody = {
  id: "body-coat",
  name: "Body coat",
  limits: {
    slabC: [5, 30],
    airC: [5, 35],
    rhPct: [null, 85],
    waterGPerKg: [null, null],
    dewMarginK: 3,
    resinC: [10, 30],
    slabRhMaxPct: null,
    slabMverMaxLb: null,
  },
  cure: [
    { slabC: 10, recoatFromH: 16, recoatUntilH: 48, dewSafeH: 20, footH: 24, trafficH: 96 },
    { slabC: 20, recoatFromH: 8, recoatUntilH: 24, dewSafeH: 10, footH: 12, trafficH: 48 },
  ],
  window: "closes",
  broadcastWaiver: true,
  seals: true,
  afterBlush: ["wash", "abrade", "clean"],
};
export const ZONE: ZoneBody = {
  id: "bay",
  name: "Bay",
  areaM2: 60,
  pourM2PerH: 40,
  system: ["body-coat", "body-coat"],
  base: "porous",
};
export const NODE: NodeBody = {
  id: "bay-1",
  zone: "bay",
  everyS: 60,
  accuracy: { slabK: 0.5, airK: 0.3, rhPct: 2 },
  probes: { slab: { place: "door" } },
};
export const OUTDOORS: NodeBody = { id: "yard", zone: null, everyS: 600, accuracy: { slabK: 1, airK: 0.5, rhPct: 3 } };

/** A round of readings as a node packs it, taken at `atMs`. */
export function pack(
  atMs: number,
  values: { slab?: number; air?: number; rh?: number } = {},
  node = NODE.id,
): object[] {
  const { slab = 12.1, air = 14.3, rh = 52.5 } = values;
  return [
    { bn: `${node}/`, bt: atMs / 1000, bu: "Cel", n: "slab", v: slab },
    { n: "air", v: air },
    { n: "rh", u: "%RH", v: rh },
  ];
}
