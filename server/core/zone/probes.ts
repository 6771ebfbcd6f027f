// The probes that speak for a zone: slab probes, and chips that measure air and humidity together.
import type { Moment, Track } from "#core/zone/heard.ts";
import { trackAt } from "#core/zone/heard.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import type { Node, ProbePlace, Series, SiteLog } from "#core/zone/site.ts";
import type { ZoneNow } from "#core/zone/zones.ts";

/** Exact values that cheap one-wire probes send instead of a temperature: power-up and no answer. */
export const ERROR_CODES_C: readonly number[] = [85, -127];

export interface SlabProbe {
  /** `node/quantity`. */
  readonly name: string;
  readonly node: Node;
  readonly place: ProbePlace | null;
  readonly track: Track;
  /** Error codes dropped from the track. */
  readonly dropped: number;
  /** It was laid here at this time; what it said before speaks for another place. */
  readonly movedMs: number;
  readonly retiredMs: number;
}

/** One chip: air and humidity from the same device, so that a dew point may be made of them. */
export interface AirChip {
  /** `node/air`. */
  readonly name: string;
  readonly node: Node;
  readonly air: Track;
  readonly rh: Track;
  /** The dew point that the node computed itself, if it sends one. */
  readonly dew: Track | null;
}

export interface ZoneProbes {
  readonly slab: readonly SlabProbe[];
  readonly chips: readonly AirChip[];
  /** Series of the zone's nodes as they stand in the log, for the checks that need arrival times. */
  readonly series: readonly Series[];
}

const SLAB = /^slab(\.\d+)?$/;
const EMPTY: readonly number[] = [];

function dropCodes(track: Track): { readonly track: Track; readonly dropped: number } {
  if (!track.values.some((value) => ERROR_CODES_C.includes(value))) return { track, dropped: 0 };
  const keep = track.values.map((value) => !ERROR_CODES_C.includes(value));
  return {
    track: { ...track, atMs: track.atMs.filter((_, index) => keep[index]), values: track.values.filter((_, index) => keep[index]) },
    dropped: keep.filter((kept) => !kept).length,
  };
}

function emptyTrack(node: string, quantity: string): Track {
  return { node, quantity, atMs: EMPTY, values: EMPTY };
}

function lastAt<T extends { readonly atMs: number; readonly probe: string }>(entries: readonly T[], probe: string): T | null {
  return entries.filter((entry) => entry.probe === probe).at(-1) ?? null;
}

function slabQuantities(node: Node, series: readonly Series[]): readonly string[] {
  const listed = Object.keys(node.probes ?? {}).filter((quantity) => SLAB.test(quantity));
  const heard = series.filter((item) => item.node === node.id && SLAB.test(item.quantity)).map((item) => item.quantity);
  return [...new Set([...listed, ...heard])];
}

/** Collects the probes of a zone with what they had said by the moment, back to `fromMs`. */
export function probesOf(
  log: SiteLog,
  lineage: readonly ZoneNow[],
  record: ZoneRecord,
  moment: Moment,
  fromMs: number,
): ZoneProbes {
  const ids = new Set(lineage.map((zone) => zone.id));
  const only = lineage[0]?.probes ?? null;
  const nodes = log.nodes.filter((node) => node.zone !== null && ids.has(node.zone));
  const nodeIds = new Set(nodes.map((node) => node.id));
  const series = log.series.filter((item) => nodeIds.has(item.node));
  const find = (node: string, quantity: string) => {
    const found = series.find((item) => item.node === node && item.quantity === quantity);
    return found === undefined ? emptyTrack(node, quantity) : trackAt(found, moment, fromMs);
  };
  const slab: SlabProbe[] = [];
  const chips: AirChip[] = [];
  for (const node of nodes) {
    for (const quantity of slabQuantities(node, series)) {
      const name = `${node.id}/${quantity}`;
      if (only !== null && !only.includes(name)) continue;
      const moved = lastAt(record.moved, name);
      const retired = lastAt(record.retired, name);
      const place = moved ?? node.probes?.[quantity] ?? null;
      const backInUse = retired !== null && moved !== null && moved.atMs > retired.atMs;
      slab.push({
        name,
        node,
        place,
        ...dropCodes(find(node.id, quantity)),
        movedMs: moved?.atMs ?? Number.NEGATIVE_INFINITY,
        retiredMs: retired === null || backInUse ? Number.POSITIVE_INFINITY : retired.atMs,
      });
    }
    const air = dropCodes(find(node.id, "air")).track;
    const rh = find(node.id, "rh");
    const retired = lastAt(record.retired, `${node.id}/air`);
    if (air.atMs.length === 0 && rh.atMs.length === 0) continue;
    if (retired !== null && retired.atMs <= moment.nowMs) continue;
    const dew = series.some((item) => item.node === node.id && item.quantity === "dew") ? find(node.id, "dew") : null;
    chips.push({ name: `${node.id}/air`, node, air, rh, dew });
  }
  return { slab: slab.filter((probe) => probe.retiredMs > moment.nowMs || probe.track.atMs.length > 0), chips, series };
}
