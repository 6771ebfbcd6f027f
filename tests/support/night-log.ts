// A small site log for tests of the judge: one zone, one node, a good night, and everything in it can be changed.
import type { CureRow, Sheet } from "#core/cure/sheet.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { Node, PlainLog, Series, Zone } from "#core/zone/site.ts";

export const MINUTE_MS = 60_000;
export const HOUR_MS = 3_600_000;
/** 3 February 2026, noon in Denver. */
export const NOON_MS = Date.UTC(2026, 1, 3, 19);

export function row(slabC: number, hours: Partial<CureRow>): CureRow {
  return { slabC, recoatFromH: null, recoatUntilH: null, dewSafeH: null, footH: null, trafficH: null, ...hours };
}

/** The slow epoxy of tests/cases: invented. */
export const slowEpoxy: Sheet = {
  id: "e1",
  name: "Slow epoxy (invented)",
  limits: {
    slabC: [10, 32.22],
    airC: [10, 32.22],
    rhPct: [null, 85],
    waterGPerKg: [null, null],
    dewMarginK: 3,
    resinC: [18, 30],
    slabRhMaxPct: null,
    slabMverMaxLb: null,
  },
  cure: [
    row(10, { recoatFromH: 24, recoatUntilH: 48, dewSafeH: 24, footH: 48 }),
    row(15.56, { recoatFromH: 14, recoatUntilH: 36, dewSafeH: 16, footH: 30 }),
    row(21.11, { recoatFromH: 9, recoatUntilH: 24, dewSafeH: 12, footH: 18 }),
    row(25, { recoatFromH: 7, recoatUntilH: 24, dewSafeH: 8, footH: 14 }),
    row(32.22, { recoatFromH: 4.5, recoatUntilH: 16, dewSafeH: 5, footH: 9 }),
  ],
  window: "closes",
  broadcastWaiver: false,
  seals: true,
  afterBlush: ["wash", "abrade", "clean"],
};

export const zoneA: Zone = {
  id: "a",
  name: "Zone A",
  areaM2: 80,
  pourM2PerH: 80,
  system: ["e1", "e1"],
  base: "porous",
};

export function nodeOf(id: string, patch: Partial<Node> = {}): Node {
  return { id, zone: "a", everyS: 300, accuracy: { slabK: 0.3, airK: 0.2, rhPct: 1.5 }, ...patch };
}

export type Course = number | ((atMs: number) => number);

const at = (course: Course, atMs: number) => (typeof course === "number" ? course : course(atMs));

/** As a real probe says it: up by its smallest step and back, every ten minutes; the value itself at whole hours. */
export const lively =
  (course: Course): ((atMs: number) => number) =>
  (atMs) =>
    (typeof course === "number" ? course : course(atMs)) + (Math.round(atMs / (10 * MINUTE_MS)) % 2) * 0.0625;

export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
  readonly everyS?: number;
}

/** Readings of one quantity at equal steps, heard as they were taken. NaN = not sent. */
export function seriesOf(
  node: string,
  quantity: string,
  course: Course,
  { fromMs, toMs, everyS = 600 }: Stretch,
): Series {
  const times: number[] = [];
  for (let atMs = fromMs; atMs <= toMs; atMs += everyS * 1000) if (!Number.isNaN(at(course, atMs))) times.push(atMs);
  return { node, quantity, atMs: times, values: times.map((atMs) => at(course, atMs)), heardMs: times };
}

/** Slab, air and humidity of one node. */
export function heardFrom(node: string, says: Readonly<Record<string, Course>>, stretch: Stretch): Series[] {
  return Object.entries(says).map(([quantity, course]) => seriesOf(node, quantity, course, stretch));
}

let entries = 0;

type Fields = Record<string, unknown>;

/** A journal entry; `heardMs` is its own time unless given. */
export function entry(did: JournalEntry["did"], atMs: number, fields: Fields = {}): JournalEntry {
  entries += 1;
  return { id: `e-${entries}`, atMs, heardMs: atMs, zone: "a", by: null, did, ...fields } as unknown as JournalEntry;
}

export function poured(coat: number, fromMs: number, hours = 1, fields: Fields = {}): JournalEntry {
  const toMs = fromMs + hours * HOUR_MS;
  return entry("poured", toMs, { coat, fromMs, toMs, ...fields });
}

/** Ground, cleaned and found dry, the last of it `hours` before. */
export function ground(nowMs: number, hours = 1): JournalEntry[] {
  const lastMs = nowMs - hours * HOUR_MS;
  return [
    entry("abraded", lastMs - 2 * HOUR_MS, { how: "ground" }),
    entry("cleaned", lastMs - HOUR_MS),
    entry("inspected", lastMs, { surface: "dry" }),
  ];
}

const GOOD: Readonly<Record<string, Course>> = { slab: 16, air: 17, rh: 45 };

export interface NightPatch extends Partial<PlainLog> {
  readonly nowMs?: number;
  readonly says?: Readonly<Record<string, Course>>;
  readonly hours?: number;
}

/** Two even, dry days up to `nowMs` over a ground bare slab: a log that gives pour. */
export function nightLog({ nowMs = NOON_MS, says = {}, hours = 54, ...patch }: NightPatch = {}): PlainLog {
  return {
    site: "test",
    timezone: "America/Denver",
    altitudeM: 0,
    sheets: [slowEpoxy],
    zones: [zoneA],
    nodes: [nodeOf("n1")],
    journal: ground(nowMs),
    series: heardFrom("n1", { ...GOOD, ...says }, { fromMs: nowMs - hours * HOUR_MS, toMs: nowMs }),
    feeds: [],
    ...patch,
  };
}
