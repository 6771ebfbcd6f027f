// A made-up site: its sheets and its journal, and the moment that its board is of. Numbers are invented.
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { SiteBody } from "#contract/zone.ts";

export const SAMPLE_AT_MS = Date.UTC(2026, 1, 3, 22, 10);
const HOUR_MS = 3_600_000;
/** A time so many hours from the board's own. */
export const at = (hours: number): string => isoFromMs(SAMPLE_AT_MS + Math.round(hours * HOUR_MS));

export const SAMPLE_SITE: SiteBody = {
  id: "boathouse",
  name: "Boathouse",
  timezone: "America/Chicago",
  altitudeM: 210,
};

export const SAMPLE_SHEETS: readonly SheetBody[] = [
  {
    id: "base-epoxy",
    name: "Base epoxy (invented)",
    limits: {
      slabC: [10, 32],
      airC: [10, 32],
      rhPct: [null, 85],
      waterGPerKg: [null, null],
      dewMarginK: 3,
      resinC: [18, 30],
      slabRhMaxPct: 85,
      slabMverMaxLb: null,
    },
    cure: [
      { slabC: 10, recoatFromH: 24, recoatUntilH: 48, dewSafeH: 24, footH: 48, trafficH: null },
      { slabC: 20, recoatFromH: 9, recoatUntilH: 24, dewSafeH: 12, footH: 18, trafficH: 72 },
    ],
    window: "closes",
    broadcastWaiver: true,
    seals: true,
    afterBlush: ["wash", "abrade", "clean"],
  },
  {
    id: "top-polyaspartic",
    name: "Top polyaspartic (invented)",
    limits: {
      slabC: [4, 32],
      airC: [4, 32],
      rhPct: [30, 85],
      waterGPerKg: [4, null],
      dewMarginK: 3,
      resinC: [15, 28],
      slabRhMaxPct: null,
      slabMverMaxLb: null,
    },
    cure: [{ slabC: 15, recoatFromH: 3, recoatUntilH: null, dewSafeH: null, footH: 5, trafficH: 24 }],
    window: "open",
    broadcastWaiver: false,
    seals: true,
    afterBlush: ["abrade", "clean"],
  },
];

export const SAMPLE_JOURNAL: readonly EntryBody[] = [
  { id: "e-1", at: at(-40), heardAt: at(-40), zone: "slip", by: "Ana", did: "abraded", how: "ground" },
  { id: "e-2", at: at(-39), heardAt: at(-39), zone: "slip", by: "Ana", did: "cleaned" },
  {
    id: "e-3",
    at: at(-20.8),
    heardAt: at(-20.7),
    zone: "slip",
    by: "Ana",
    did: "poured",
    coat: 0,
    from: at(-22),
    to: at(-20.8),
  },
  {
    id: "e-4",
    at: at(-6),
    heardAt: at(-6),
    zone: null,
    by: null,
    did: "heating",
    on: true,
    vented: true,
    kW: 30,
    fuel: "propane",
  },
  {
    id: "e-5",
    at: at(-2),
    heardAt: at(-1.9),
    zone: "office",
    by: "Ben",
    did: "inspected",
    surface: "clean",
    film: "hard",
  },
];
