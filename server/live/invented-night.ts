// An invented night that ends now: two bays that nobody owns, for a first look at what the board says. Deterministic but for its time.
import type { NightFileBody } from "#contract/night-file.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";

const HOUR_MS = 3_600_000;
const STEP_MS = 600_000;
/** Two nights, which is what an outlook looks back at. */
const HOURS = 49;

const range = (low: number | null, high: number | null): [number | null, number | null] => [low, high];
const SHEET: SheetBody = {
  id: "invented-epoxy",
  name: "Invented epoxy (no product)",
  limits: {
    slabC: range(10, 32),
    airC: range(10, 32),
    rhPct: range(null, 85),
    waterGPerKg: range(null, null),
    dewMarginK: 3,
    resinC: range(null, null),
    slabRhMaxPct: null,
    slabMverMaxLb: null,
  },
  cure: [
    { slabC: 10, recoatFromH: 24, recoatUntilH: 60, dewSafeH: 24, footH: 48, trafficH: 144 },
    { slabC: 20, recoatFromH: 10, recoatUntilH: 36, dewSafeH: 12, footH: 20, trafficH: 96 },
    { slabC: 30, recoatFromH: 5, recoatUntilH: 18, dewSafeH: 6, footH: 10, trafficH: 72 },
  ],
  window: "closes",
  broadcastWaiver: false,
  seals: true,
  afterBlush: ["wash", "abrade", "clean"],
};

const box = (xM: number, yM: number, widthM: number, heightM: number) => [
  { xM, yM },
  { xM: xM + widthM, yM },
  { xM: xM + widthM, yM: yM + heightM },
  { xM, yM: yM + heightM },
];

/** A day's swing with a small ripple; `h` hours before the end. */
const swing = (h: number, lagH: number) =>
  Math.cos((2 * Math.PI * (h + lagH)) / 24) + 0.06 * Math.sin(h * 2.3) + 0.03 * Math.sin(h * 7.1);

/** Quantities of a node over the hours before the end: the inner bay is warm and dry, the bay at the door is not. */
const NODES = [
  {
    id: "invented-1",
    zone: "inner-bay",
    probe: { place: "coldest edge", xM: 3, yM: 2.5 },
    of: {
      slab: (h: number) => 17.4 + 0.5 * swing(h, 3),
      air: (h: number) => 19.2 + 1.2 * swing(h, 0),
      rh: (h: number) => 44 - 3 * swing(h, 0),
    },
  },
  {
    id: "invented-2",
    zone: "door-bay",
    probe: { place: "door edge", xM: 15, yM: 8 },
    of: {
      slab: (h: number) => 12.6 + 0.9 * swing(h, 3),
      air: (h: number) => 15.4 + 1.8 * swing(h, 0),
      rh: (h: number) => 76 - 5 * swing(h, 0),
    },
  },
] as const;
const UNITS = { slab: "Cel", air: "Cel", rh: "%RH" } as const;

/** `endMs`: when its last readings were taken. */
export function inventedNight(endMs: number): NightFileBody {
  const at = (hoursBefore: number) => isoFromMs(endMs - hoursBefore * HOUR_MS);
  const steps = Math.round((HOURS * HOUR_MS) / STEP_MS);
  const readings = NODES.flatMap(({ id, of }) =>
    Object.entries(of).flatMap(([quantity, valueAt]) =>
      Array.from({ length: steps + 1 }, (_, index) => {
        const value = Math.round(valueAt(((steps - index) * STEP_MS) / HOUR_MS) * 100) / 100;
        const t = -((steps - index) * STEP_MS) / 1000;
        return index === 0
          ? {
              bver: 10,
              bt: endMs / 1000,
              bn: `${id}/${quantity}`,
              bu: UNITS[quantity as keyof typeof UNITS],
              t,
              v: value,
            }
          : { t, v: value };
      }),
    ),
  );
  const zone = (id: string, name: string, outline: ReturnType<typeof box>, areaM2: number) => ({
    ...{ id, name, areaM2, pourM2PerH: 60, system: [SHEET.id, SHEET.id] },
    ...{ base: "porous" as const, outline },
  });
  const ground = (id: string) => [
    { at: at(48), zone: id, did: "abraded", how: "ground" },
    { at: at(47), zone: id, did: "cleaned" },
    { at: at(46.5), zone: id, did: "inspected", surface: "dry" },
  ];
  return {
    nightFile: 1,
    id: `invented-${at(0)}`,
    title: "Invented night: no real floor",
    site: { id: "invented", name: "Invented night", timezone: "UTC", altitudeM: 0 },
    sheets: [SHEET],
    zones: [
      zone("inner-bay", "Inner bay (invented)", box(2, 2, 10, 8), 80),
      zone("door-bay", "Bay at the door (invented)", box(12, 2, 6, 8), 48),
    ],
    nodes: NODES.map(({ id, zone: of, probe }) => ({
      ...{ id, zone: of, everyS: 600, accuracy: { slabK: 0.5, airK: 0.5, rhPct: 3 } },
      probes: { slab: { ...probe } },
    })),
    journal: [
      ...ground("inner-bay"),
      ...ground("door-bay"),
      { at: at(16), zone: "inner-bay", did: "poured", coat: 0, from: at(17.5), to: at(16) },
    ],
    readings,
    ask: [{ at: at(0), zone: "inner-bay" }],
  };
}
