// The log of one zone that the judge is measured on: 54 hours at one reading a minute, three slab probes and one air sensor.
import { entryFromBody } from "#contract/journal.ts";
import { msFromIso } from "#contract/primitives.ts";
import { sheetFromBody } from "#contract/sheet.ts";
import { nodeFromBody, zoneFromBody } from "#contract/zone.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { filledSeries, type LiveSeries } from "../../server/live/live-series.ts";
import { HOUR_MS, journalOf, MINUTE_MS, nodeBody, SHEET, SITE, valuesAt, zoneBody } from "./site.ts";

const LONG_LOG_H = 54;
export const NOW_MS = Date.UTC(2026, 1, 3, 12);

export interface LongLog extends SiteLog {
  readonly series: readonly LiveSeries[];
}

const YARD = "yard";

/** What a series of the long log says at a time. */
export function saidAt({ node, quantity }: { node: string; quantity: string }, atMs: number): number {
  const { slab, air, rh } = valuesAt(quantity === "slab.2" ? 1 : 0, atMs);
  if (node === YARD) return quantity === "air" ? air - 9 + 3 * Math.sin(atMs / (4 * HOUR_MS)) : rh + 20;
  if (quantity === "slab.3") return valuesAt(2, atMs).slab + 0.4;
  return quantity === "air" ? air : quantity === "rh" ? rh : slab;
}

/** The first coat went down 20 hours ago. `outdoors`: a node in the yard, so that 200 members look at the night. */
export function longLog(outdoors: boolean): LongLog {
  const node = nodeFromBody({ ...nodeBody(0), probes: { slab: {}, "slab.2": {}, "slab.3": {} } });
  const yard = { ...nodeFromBody(nodeBody(1)), id: YARD, zone: null, probes: {} };
  const readings = LONG_LOG_H * 60;
  const series = (of: { readonly node: string; readonly quantity: string }): LiveSeries => {
    const atMs = Array.from({ length: readings }, (_, at) => NOW_MS - (readings - 1 - at) * MINUTE_MS);
    const values = atMs.map((time) => saidAt(of, time));
    const heardMs = atMs.map((time) => Math.min(NOW_MS, time + 500));
    return filledSeries(of.node, of.quantity, { atMs, values, heardMs });
  };
  const own = ["slab", "slab.2", "slab.3", "air", "rh"].map((quantity) => series({ node: node.id, quantity }));
  return {
    site: SITE.id,
    timezone: SITE.timezone,
    altitudeM: SITE.altitudeM,
    sheets: [sheetFromBody(SHEET)],
    zones: [zoneFromBody(zoneBody(0))],
    nodes: outdoors ? [node, yard] : [node],
    journal: journalOf(0, NOW_MS).map((body) => entryFromBody(body, body.id ?? "", msFromIso(body.at))),
    series: outdoors ? [...own, ...["air", "rh"].map((quantity) => series({ node: YARD, quantity }))] : own,
    feeds: [],
  };
}
