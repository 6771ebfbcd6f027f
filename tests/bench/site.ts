// The made-up site of the bench: zones with one node each, and readings that follow a day, the same in every run.
import { dewPointC } from "#core/air/dew-point.ts";
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { topicOf } from "#contract/topics.ts";
import type { NodeBody, SiteBody, ZoneBody } from "#contract/zone.ts";

export const SITE: SiteBody = { id: "bench", name: "Bench hall", timezone: "America/Chicago", altitudeM: 200 };
export const MINUTE_MS = 60_000;
export const HOUR_MS = 3_600_000;
export const QUANTITIES = ["slab", "air", "rh", "dew"] as const;
export type Quantity = (typeof QUANTITIES)[number];

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

export function zoneBody(index: number): ZoneBody {
  return {
    id: zoneId(index),
    name: `Zone ${index}`,
    areaM2: 60,
    pourM2PerH: 40,
    system: [SHEET.id, SHEET.id],
    base: "porous",
  };
}

export function nodeBody(index: number): NodeBody {
  return {
    id: nodeId(index),
    zone: zoneId(index),
    everyS: 60,
    accuracy: { slabK: 0.5, airK: 0.3, rhPct: 2 },
    probes: { slab: { place: "middle" } },
  };
}

/** Ground and cleaned a day ago, the first coat down since 20 hours. */
export function journalOf(index: number, nowMs: number): EntryBody[] {
  const at = (hours: number) => isoFromMs(nowMs + hours * HOUR_MS);
  const entry = (name: string, hours: number) => ({
    id: `${zoneId(index)}-${name}`,
    at: at(hours),
    zone: zoneId(index),
    by: "crew",
  });
  return [
    { ...entry("ground", -24), did: "abraded", how: "ground" },
    { ...entry("cleaned", -23), did: "cleaned" },
    { ...entry("coat", -20), did: "poured", coat: 0, from: at(-21.5), to: at(-20) },
  ];
}

const round = (value: number) => Math.round(value * 100) / 100;
/** Something between -1 and 1 that looks like noise and is the same in every run. */
const flicker = (index: number, atMs: number) => Math.sin(atMs / 7919 + index * 131) * Math.sin(atMs / 104_729 + index);

/** Readings of one node at one time, °C and percent. */
export function valuesAt(index: number, atMs: number): Record<Quantity, number> {
  const day = Math.sin(((atMs / HOUR_MS + index / 5) / 24) * 2 * Math.PI);
  const noise = flicker(index, atMs);
  const air = round(14 + 2.5 * day + 0.1 * noise);
  const rh = round(54 - 6 * day + 0.5 * noise);
  return { slab: round(12 + 1.2 * day + 0.05 * noise), air, rh, dew: round(dewPointC(air, rh)) };
}

/** A pack as a node sends it (SenML, RFC 8428). */
export function packText(index: number, atMs: number, values = valuesAt(index, atMs)): string {
  return JSON.stringify([
    { bn: `${nodeId(index)}/`, bt: atMs / 1000, bu: "Cel", n: "slab", v: values.slab },
    { n: "air", v: values.air },
    { n: "rh", u: "%RH", v: values.rh },
    { n: "dew", v: values.dew },
  ]);
}
