// The night and the journal of the made-up record: readings with three gaps, and what people wrote down.
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { CoatRecordBody } from "#contract/record.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { ZoneBody } from "#contract/zone.ts";
import { SAMPLE_SHEETS } from "./sample-site.ts";

/** 08:00 at the site, -06:00. */
export const RECORD_POUR_MS = Date.UTC(2026, 1, 3, 14);
const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
export const recordAt = (hours: number): string => isoFromMs(RECORD_POUR_MS + Math.round(hours * HOUR_MS));

export const RECORD_ZONE: ZoneBody = {
  id: "slip",
  name: "Slip",
  areaM2: 92.9,
  pourM2PerH: 40,
  system: ["base-epoxy", "top-polyaspartic"],
  base: "porous",
};
export const BASE = SAMPLE_SHEETS[0] as SheetBody;

export const FROM_H = -30;
export const TO_H = 34;
/** Nothing was heard from the first to the second, hours from the pour. */
export const RECORD_GAPS = [
  { fromH: 14.5, toH: 16.25, reason: "nothing" },
  { fromH: -9, toH: -8.25, reason: "server-off" },
] as const;
/** No slab was heard here, and the air was. */
export const RECORD_SLAB_GAP = { fromH: 21, toH: 22.5, reason: "no-slab" } as const;

const wave = (h: number, peakH: number) => Math.cos(((h + 8 - peakH) / 24) * 2 * Math.PI);
/** Five-minute readings of a shed: slab sluggish, air quick, dew point nearly flat. */
export function columns(): CoatRecordBody["conditions"] {
  const atMs: number[] = [];
  const rows: (readonly (number | null)[])[] = [];
  for (let h = FROM_H; h <= TO_H + 1e-9; h += 1 / 12) {
    if (RECORD_GAPS.some(({ fromH, toH }) => h > fromH && h < toH)) continue;
    const blind = h > RECORD_SLAB_GAP.fromH && h < RECORD_SLAB_GAP.toH;
    const slab = 11.8 + 2.3 * wave(h, 17) - (h > 0 ? 0.04 * h : 0) + 0.05 * Math.sin(h * 9);
    const air = 13 + 4.2 * wave(h, 15) + 0.25 * Math.sin(h * 11);
    const dew = 7.4 + 1.1 * wave(h, 20) + 0.12 * Math.sin(h * 5) + (h > 12 && h < 20 ? 0.9 : 0);
    atMs.push(RECORD_POUR_MS + Math.round(h * 12) * 5 * MINUTE_MS);
    const rh = Math.min(99, 100 * Math.exp((17.6 * dew) / (243 + dew) - (17.6 * air) / (243 + air)));
    rows.push([blind ? null : slab, blind ? null : slab + 1.4, air, rh, dew, blind ? null : slab - dew]);
  }
  const column = (index: number) =>
    rows.map((row) => (row[index] === null ? null : Math.round((row[index] as number) * 100) / 100));
  return {
    atMs,
    slabColdC: column(0),
    slabHotC: column(1),
    airC: column(2),
    rhPct: column(3),
    dewPointC: column(4),
    marginK: column(5),
  };
}

export const hash = (seed: number) =>
  Array.from({ length: 64 }, (_, index) => ((index * 7 + seed * 13) % 16).toString(16)).join("");

const entry = (id: string, h: number, more: object): EntryBody =>
  ({ id, at: recordAt(h), heardAt: recordAt(h + 0.01), zone: "slip", by: "Ana", ...more }) as EntryBody;

export const RECORD_JOURNAL: readonly EntryBody[] = [
  entry("e-1", -27, { did: "abraded", how: "ground" }),
  entry("e-2", -26.4, { did: "profile", csp: 3, spot: "mid bay" }),
  entry("e-3", -26, { did: "cleaned" }),
  entry("e-4", -25, { did: "tested", method: "F2170", rhPct: 78, spot: "north door" }),
  entry("e-5", -12, { did: "heating", zone: null, on: true, vented: true, kW: 60, fuel: "propane", by: "Íñigo Peña" }),
  entry("e-6", -1, {
    did: "measured",
    slabC: 12.1,
    airC: 13.4,
    rhPct: 66,
    resinC: 20.5,
    instrument: "meter 4",
    calibratedOn: "2026-01-12",
  }),
  entry("e-7", -0.5, {
    did: "overrode",
    call: "pour",
    why: "Night low will be held by the heater; owner's representative was told.",
  }),
  entry("e-8", 0, { did: "pouring", coat: 0 }),
  entry("e-9", 2.6, { did: "photographed", photo: hash(90), of: "batch", note: "label of part A" }),
  entry("e-10", 2.7, {
    did: "poured",
    coat: 0,
    from: recordAt(0),
    to: recordAt(2.5),
    product: "Base epoxy (invented), grey",
    batches: [
      { part: "A", number: "26-0107-A3" },
      { part: "B", number: "25-1218-B1" },
    ],
    people: ["Ana", "Íñigo Peña", "Łucja"],
  }),
  entry("e-11", 12, { did: "ventilated", on: true, how: "one door, a hand wide" }),
  entry("e-12", 13, { did: "ventilated", on: false }),
  entry("e-13", 24.2, { did: "inspected", surface: "greasy", film: "hard", by: "Ben" }),
  entry("e-14", 24.3, {
    did: "inspected",
    surface: "clean",
    film: "hard",
    undoes: "e-13",
    why: "wrong zone picked",
    by: "Ben",
  }),
  entry("e-15", 30, { did: "adhesion", mpa: 2.4, how: "D7234", failure: "concrete", spot: "test square" }),
];
