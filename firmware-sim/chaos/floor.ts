// The floor under trial: zones that must be called differently, and packs whose every value follows from node and number.
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { topicOf } from "#contract/topics.ts";
import type { NodeBody, SiteBody, ZoneBody } from "#contract/zone.ts";
import { uniform } from "../random.ts";

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
/** Where the flow of packs ends, by the clock of the trial: an hour before a day of the chain is over. */
export const FLOW_END_MS = Date.UTC(2026, 1, 3, 23);
/** Where calls are compared: late enough that no trial lasts until then. */
export const CLOSING_MS = FLOW_END_MS + 3 * HOUR_MS;
export const NODES = 10;
export const QUANTITIES = ["slab", "air", "rh"] as const;

export const SITE: SiteBody = { id: "trial", name: "Trial hall", timezone: "America/Chicago", altitudeM: 180 };
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

export const zoneId = (index: number) => `zone-${index}`;
export const nodeId = (index: number) => `node-${index}`;
export const senmlTopic = (index: number) => topicOf({ kind: "senml", site: SITE.id, node: nodeId(index) });

export const zoneBody = (index: number): ZoneBody => ({
  ...{ id: zoneId(index), name: `Zone ${index}`, areaM2: 60, pourM2PerH: 40, base: "porous" },
  system: [SHEET.id, SHEET.id],
});
export const nodeBody = (index: number, everyS: number): NodeBody => ({
  ...{ id: nodeId(index), zone: zoneId(index), everyS, accuracy: { slabK: 0.5, airK: 0.3, rhPct: 2 } },
  probes: { slab: { place: "middle" } },
});

/** Coats of different age, so that films are soft, ready and late. */
export function journalOf(index: number): EntryBody[] {
  const poured = [20, 8, 30, 60, 26][index % 5] as number;
  const at = (hours: number) => isoFromMs(FLOW_END_MS - hours * HOUR_MS);
  const entry = (name: string, hours: number) => ({
    ...{ id: `${zoneId(index)}-${name}`, at: at(hours), zone: zoneId(index), by: "crew" },
  });
  return [
    { ...entry("ground", poured + 5), did: "abraded", how: "ground" },
    { ...entry("cleaned", poured + 4), did: "cleaned" },
    { ...entry("coat", poured), did: "poured", coat: 0, from: at(poured + 1.5), to: at(poured) },
  ];
}

/** Packs of each node in one trial: `count` up to the end of the flow, then more up to where calls are compared. */
export interface Packs {
  readonly count: number;
  readonly stepMs: number;
  readonly closing: number;
}

export function packsFor(count: number): Packs {
  // A day and more, however few there are, and never slower than a node in the field.
  const stepMs = Math.max(
    MINUTE_MS,
    Math.min(10 * MINUTE_MS, Math.round((30 * HOUR_MS) / count / MINUTE_MS) * MINUTE_MS),
  );
  return { count, stepMs, closing: Math.floor((CLOSING_MS - FLOW_END_MS) / stepMs) };
}

/** The times of a node's packs lie beside those of the others. */
export const timeOf = (packs: Packs, node: number, pack: number): number =>
  FLOW_END_MS + (pack - packs.count) * packs.stepMs + node * 1000;

const round = (value: number) => Math.round(value * 100) / 100;

/** °C and percent; cold corners stand closer to the dew point. */
export function valuesOf(node: number, atMs: number): Record<(typeof QUANTITIES)[number], number> {
  const day = Math.sin(((atMs / HOUR_MS + node / 4) / 24) * 2 * Math.PI);
  const noise = uniform(7, `node ${node}`, Math.floor(atMs / 1000)) - 0.5;
  return {
    slab: round(12.5 - 0.5 * (node % 6) + 1.2 * day + 0.1 * noise),
    air: round(14 + 2.5 * day + 0.2 * noise),
    rh: round(54 + 2 * (node % 4) - 6 * day + noise),
  };
}

/** A pack as a node sends it (SenML, RFC 8428). */
export function packText(node: number, atMs: number): string {
  const { slab, air, rh } = valuesOf(node, atMs);
  return JSON.stringify([
    { bn: `${nodeId(node)}/`, bt: atMs / 1000, bu: "Cel", n: "slab", v: slab },
    { n: "air", v: air },
    { n: "rh", u: "%RH", v: rh },
  ]);
}
