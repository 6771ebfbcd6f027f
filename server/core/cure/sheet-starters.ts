// Sheets to begin with: invented numbers of the usual size (memory of the trade, no source). No product prints them, and
// none is a limit until a person has typed over them from a real page and held them against it.
import type { CureRow, Sheet } from "#core/cure/sheet.ts";

type Hours = readonly [slabC: number, from: number, until: number | null, dewSafe: number | null, foot: number | null];

function rowsOf(rows: readonly Hours[]): CureRow[] {
  return rows.map(([slabC, recoatFromH, recoatUntilH, dewSafeH, footH]) => ({
    slabC,
    recoatFromH,
    recoatUntilH,
    dewSafeH,
    footH,
    trafficH: null,
  }));
}

const NONE = [null, null] as const;
const base = {
  window: "closes",
  broadcastWaiver: false,
  seals: true,
  afterBlush: ["wash", "abrade", "clean"],
  confirmed: null,
} as const;
const epoxyLimits = {
  slabC: [10, 32],
  airC: [10, 32],
  rhPct: [null, 85],
  waterGPerKg: NONE,
  dewMarginK: 3,
  resinC: [18, 29],
  slabRhMaxPct: null,
  slabMverMaxLb: null,
} as const;

/** Ids begin with `invented-`: whoever reads a log sees where a sheet came from. */
export const STARTERS: readonly Sheet[] = [
  {
    ...base,
    id: "invented-primer",
    name: "INVENTED 100 % solids epoxy primer",
    limits: epoxyLimits,
    cure: rowsOf([
      [10, 26, 48, 26, 40],
      [16, 14, 36, 16, 26],
      [21, 9, 24, 12, 16],
      [25, 7, 20, 8, 12],
    ]),
  },
  {
    ...base,
    id: "invented-body",
    name: "INVENTED self-levelling epoxy body coat",
    limits: { ...epoxyLimits, slabC: [16, 29], airC: [16, 29], rhPct: [null, 75] },
    broadcastWaiver: true,
    cure: rowsOf([
      [16, 18, 44, 24, 30],
      [21, 12, 30, 16, 18],
      [25, 10, 24, 12, 14],
    ]),
  },
  {
    ...base,
    id: "invented-polyaspartic",
    name: "INVENTED polyaspartic top coat",
    limits: { ...epoxyLimits, slabC: [4, 32], airC: [4, 32], rhPct: [30, 80] },
    afterBlush: ["abrade", "clean"],
    cure: rowsOf([
      [4, 6, 24, 6, 12],
      [10, 4, 20, 4, 8],
      [16, 3, 14, 3, 5],
      [21, 2, 12, 2, 4],
    ]),
  },
  {
    ...base,
    id: "invented-cold-epoxy",
    name: "INVENTED cold-weather fast epoxy",
    limits: { ...epoxyLimits, slabC: [2, 24], airC: [2, 27] },
    cure: rowsOf([
      [4, 12, 34, 14, 18],
      [10, 7, 24, 9, 10],
      [16, 4.5, 18, 6, 7],
      [21, 3, 12, 4, 5],
    ]),
  },
  {
    ...base,
    id: "invented-filler",
    name: "INVENTED epoxy crack filler paste",
    kind: "filler",
    limits: { ...epoxyLimits, airC: NONE, rhPct: NONE, resinC: NONE },
    window: "open",
    afterBlush: [],
    seals: false,
    cure: [],
    hard: [
      { slabC: 10, hardH: 20 },
      { slabC: 16, hardH: 12 },
      { slabC: 21, hardH: 8 },
    ],
  },
];

/** The hours of a sheet are still those of the starter that it was begun from. */
export function isStillStarter(sheet: Sheet): boolean {
  const hours = JSON.stringify([sheet.cure, sheet.hard ?? null]);
  return STARTERS.some(({ cure, hard }) => JSON.stringify([cure, hard ?? null]) === hours);
}
