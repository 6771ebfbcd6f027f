// What the live server knows of a site at a moment, as the causes of alarms look at it.
import type { NodeMoment, ServerMoment, SiteMoment, ZoneMoment } from "#core/alarm/moment.ts";
import type { LiveSite } from "./live-site.ts";
import { batteryWarnings, TREND_DAYS } from "./node-trends.ts";
import type { LiveStore } from "./ports.ts";

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;

interface Battery {
  readonly atMs: number;
  readonly warns: NodeMoment["batteryWarns"];
  readonly inDays: number | null;
}

const WARNS = { "battery-low": "low", "battery-falls": "falls", "battery-cold": "cold" } as const;

/** Since when the door of a node stands open; null = shut, unknown, or without a door. */
function doorOpenMs(site: LiveSite, node: string): number | null {
  const door = site.find(node, "door");
  if (door === null) return null;
  let sinceMs: number | null = null;
  for (let index = door.values.length - 1; index >= 0 && (door.values.at(index) as number) > 0; index--)
    sinceMs = door.atMs.at(index) as number;
  return sinceMs;
}

export interface MomentMaker {
  of(site: LiveSite, zones: readonly ZoneMoment[], server: ServerMoment, nowMs: number): SiteMoment;
}

export function createMomentMaker(store: Pick<LiveStore, "readings">): MomentMaker {
  /** By site and node. */
  const batteries = new Map<string, Map<string, Battery>>();

  /** Fourteen days of a battery are read once an hour. */
  function batteryOf(site: LiveSite, node: string, batteryPct: number | null, nowMs: number): Battery {
    const own = batteries.get(site.id) ?? new Map<string, Battery>();
    const known = own.get(node);
    if (known !== undefined && Math.abs(nowMs - known.atMs) < HOUR_MS) return known;
    const days = store.readings.buckets(site.id, node, "battery", nowMs - TREND_DAYS * DAY_MS, DAY_MS, TREND_DAYS);
    const coldest = site
      .seriesOf(node)
      .flatMap(({ quantity, values }) => (/^(air|slab)/.test(quantity) ? (values.at(-1) ?? []) : []));
    const [warning] = batteryWarnings({
      batteryPct,
      batteryDays: days.map(({ mean }) => mean),
      coldestC: coldest.length === 0 ? null : Math.min(...coldest),
    });
    const warns = warning === undefined ? null : (WARNS[warning.kind as keyof typeof WARNS] ?? null);
    const battery: Battery = { atMs: nowMs, warns, inDays: warning?.inDays ?? null };
    batteries.set(site.id, own.set(node, battery));
    return battery;
  }

  function forgetNodes(site: LiveSite): void {
    const own = batteries.get(site.id);
    if (own === undefined || own.size <= site.record.nodes.length) return;
    for (const node of own.keys()) if (!site.knowsNode(node)) own.delete(node);
  }

  function nodeOf(site: LiveSite, { id, everyS }: { id: string; everyS: number }, nowMs: number): NodeMoment {
    const batteryPct = site.find(id, "battery")?.values.at(-1) ?? null;
    const battery = batteryPct === null ? null : batteryOf(site, id, batteryPct, nowMs);
    return {
      node: id,
      zones: site.zonesOf(id, nowMs),
      everyS,
      heardMs: site.lastHeardMs.get(id) ?? null,
      batteryPct,
      batteryWarns: battery?.warns ?? null,
      batteryInDays: battery?.inDays ?? null,
      doorOpenMs: doorOpenMs(site, id),
      hasDoor: site.find(id, "door") !== null,
    };
  }

  return {
    of(site, zones, server, nowMs) {
      forgetNodes(site);
      return {
        site: site.id,
        nowMs,
        driveMin: site.record.site.driveMin ?? null,
        knownZones: site.zones(nowMs).map(({ id }) => id),
        zones,
        nodes: site.record.nodes.filter(({ id }) => !site.lives.has(id)).map((node) => nodeOf(site, node, nowMs)),
        server,
      };
    },
  };
}
