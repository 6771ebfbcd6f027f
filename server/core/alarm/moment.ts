// What a moment knows of a site: the calls, what zones are watched for, its nodes, and the server.
import type { Call } from "#core/judge/call.ts";
import type { Judged } from "#core/judge/judged.ts";
import type { Watch } from "#core/judge/watch.ts";
import type { Zone } from "#core/zone/site.ts";

/** Air of a zone at one judging. */
export interface AirPoint {
  readonly atMs: number;
  readonly airC: number | null;
  readonly dewPointC: number | null;
}

export interface ZoneMoment {
  readonly zone: string;
  readonly call: Call;
  readonly watch: Watch | null;
  /** Chance that its window closes before it can be poured; null where none is foreseen. */
  readonly chanceLost: number | null;
  /** Hours that the whole zone takes to pour. */
  readonly pourH: number;
  /** The last hour and a half, oldest first. */
  readonly trail: readonly AirPoint[];
}

export interface NodeMoment {
  readonly node: string;
  readonly zones: readonly string[];
  readonly everyS: number;
  /** When it was last heard; null = never. */
  readonly heardMs: number | null;
  readonly batteryPct: number | null;
  /** Days until it is empty as it goes; null where that is not told. */
  readonly batteryInDays: number | null;
  /** How the battery fails: by what is left, by how it falls, by the cold; null = it does not, or nobody knows. */
  readonly batteryWarns: "low" | "falls" | "cold" | null;
  /** Since when its door stands open; null = shut or unknown. */
  readonly doorOpenMs: number | null;
  readonly hasDoor: boolean;
}

/** A part of the server: `null` = nobody looked. */
export interface ServerMoment {
  readonly sinceMs: number;
  readonly brokerDown: boolean | null;
  readonly storeDown: boolean | null;
  readonly disk: { readonly freeBytes: number; readonly totalBytes: number } | null;
  /** The last stretch in which no server ran. */
  readonly away: { readonly fromMs: number; readonly toMs: number } | null;
  /** Ways of telling people that fail; null = nobody watches them. */
  readonly channels: readonly { readonly about: string; readonly sinceMs: number }[] | null;
}

export interface SiteMoment {
  readonly site: string;
  readonly nowMs: number;
  /** The crew's way to the site, minutes; null if nobody said. */
  readonly driveMin: number | null;
  /** Ids of all zones that there are; `zones` holds those that were judged in this run. */
  readonly knownZones: readonly string[];
  readonly zones: readonly ZoneMoment[];
  readonly nodes: readonly NodeMoment[];
  readonly server: ServerMoment;
}

const TRAIL_MS = 90 * 60_000;

/** The trail with one more judging; judgings within the same minute are one. */
export function trailWith(trail: readonly AirPoint[], { atMs, conditions }: Call): readonly AirPoint[] {
  const last = trail.at(-1);
  const kept =
    last !== undefined && atMs - last.atMs < 60_000 ? trail : trail.filter((point) => atMs - point.atMs <= TRAIL_MS);
  if (kept === trail && last !== undefined) return trail;
  return [...kept, { atMs, airC: conditions.airC, dewPointC: conditions.dewPointC }];
}

/** A zone with one more judging. */
export function zoneMomentOf(
  zone: Pick<Zone, "id" | "areaM2" | "pourM2PerH">,
  { call, watch, view }: Judged,
  before: ZoneMoment | null,
): ZoneMoment {
  return {
    zone: zone.id,
    call,
    watch,
    chanceLost: view?.film?.chanceLost ?? null,
    pourH: zone.areaM2 / zone.pourM2PerH,
    trail: trailWith(before?.trail ?? [], call),
  };
}
