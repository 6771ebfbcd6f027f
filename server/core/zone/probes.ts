// The probes that speak for a zone: slab probes, and chips that measure air and humidity together.
import type { Moment, Taken, Track } from "#core/zone/heard.ts";
import { dewPointC } from "#core/air/dew-point.ts";
import { lastIndexAt, trackAt } from "#core/zone/heard.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import { baggedOf, type Stretch } from "#core/zone/salt-check.ts";
import type { Node, ProbePlace, LogSeries, SiteLog } from "#core/zone/site.ts";
import { nodesIn, seriesOf } from "#core/zone/site-parts.ts";
import type { ZoneNow } from "#core/zone/zones.ts";

/** Exact values that cheap one-wire probes send instead of a temperature: power-up and no answer. */
export const ERROR_CODES_C: readonly number[] = [85, -127];
/** What can be a temperature of a floor or its air at all, °C, and a humidity, %; anything else is dropped and counted. */
const POSSIBLE_C = { min: -60, max: 95 } as const;
const POSSIBLE_PCT = { min: 0, max: 110 } as const;

export interface SlabProbe {
  /** `node/quantity`. */
  readonly name: string;
  readonly node: Node;
  readonly place: ProbePlace | null;
  /** What it said; once its trust is judged, without what a fault has spoiled. */
  readonly track: Track;
  /** All that it said. */
  readonly said: Track;
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
  /** The dew point that we make of air and humidity taken together. */
  readonly dewPoint: Track;
  readonly retiredMs: number;
}

export interface ZoneProbes {
  readonly slab: readonly SlabProbe[];
  readonly chips: readonly AirChip[];
  /** Series of the zone's nodes as they stand in the log, for the checks that need arrival times. */
  readonly series: readonly LogSeries[];
}

const SLAB = /^slab(\.\d+)?$/;
export const isSlab = (quantity: string): boolean => SLAB.test(quantity);
const EMPTY: readonly number[] = [];
/** Drier than this is no reading of a humidity chip, %. */
export const LEAST_PCT = 0.1;

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/** Whether a value can have been read at all. */
export function isPossible(quantity: string, value: number): boolean {
  if (quantity === "rh") return value >= POSSIBLE_PCT.min && value <= POSSIBLE_PCT.max;
  return value >= POSSIBLE_C.min && value <= POSSIBLE_C.max && !ERROR_CODES_C.includes(value);
}

/** Between these no error code lies, and every value is possible. */
const PLAIN_C = { min: POSSIBLE_C.min, max: 84 } as const;

function allPossible({ quantity, values }: Track): boolean {
  const { min, max } = quantity === "rh" ? POSSIBLE_PCT : PLAIN_C;
  for (let index = 0; index < values.length; index++) {
    const value = values[index] as number;
    if (!(value >= min && value <= max) && !isPossible(quantity, value)) return false;
  }
  return true;
}

function dropCodes(track: Track): { readonly track: Track; readonly dropped: number } {
  if (allPossible(track)) return { track, dropped: 0 };
  const keep = track.values.map((value) => isPossible(track.quantity, value));
  return {
    track: {
      ...track,
      atMs: track.atMs.filter((_, index) => keep[index]),
      values: track.values.filter((_, index) => keep[index]),
    },
    dropped: keep.filter((kept) => !kept).length,
  };
}

/** A track on the same array of times as another of its node that was taken at the same times: most are packs. */
export function besidePack(track: Track, pack: Track): Track {
  if (track.atMs === pack.atMs || track.atMs.length !== pack.atMs.length) return track;
  for (let index = 0; index < track.atMs.length; index++) if (track.atMs[index] !== pack.atMs[index]) return track;
  return { ...track, atMs: pack.atMs };
}

/** Air and humidity taken further apart than this do not make a dew point together. */
const PAIR_MS = 10 * 60_000;

type Course = Pick<Track, "atMs" | "values">;

/** Dew point of a chip at one of its humidity readings; null where no air reading is by its side. */
export function dewPointBeside(air: Course, rh: Course, index: number): number | null {
  const dewC = dewPointNear(air, rh, index, lastIndexAt(air.atMs, rh.atMs[index] as number));
  return Number.isNaN(dewC) ? null : dewC;
}

/** The same where the last air reading not after it is known, `before`; NaN for null. */
function dewPointNear(air: Course, rh: Course, index: number, before: number): number {
  const takenMs = rh.atMs[index] as number;
  const rhPct = rh.values[index] as number;
  const beforeMs = takenMs - (air.atMs[before] ?? Number.NEGATIVE_INFINITY);
  const afterMs = (air.atMs[before + 1] ?? Number.POSITIVE_INFINITY) - takenMs;
  const at = afterMs < beforeMs ? before + 1 : before;
  if (rhPct < LEAST_PCT || Math.min(beforeMs, afterMs) > PAIR_MS) return Number.NaN;
  return dewPointC(air.values[at] as number, Math.min(rhPct, 100));
}

/** Dew point of a chip at each of its humidity readings that has an air reading by its side. */
function dewPointTrack(node: string, air: Track, rh: Track): Track {
  const values: number[] = [];
  // Nearly always one for each: then the times are those of the humidity.
  let own: number[] | null = null;
  let before = -1;
  for (let index = 0; index < rh.atMs.length; index++) {
    const takenMs = rh.atMs[index] as number;
    while (before + 1 < air.atMs.length && (air.atMs[before + 1] as number) <= takenMs) before++;
    const dewC = dewPointNear(air, rh, index, before);
    if (Number.isNaN(dewC)) own ??= rh.atMs.slice(0, index);
    else {
      own?.push(takenMs);
      values.push(dewC);
    }
  }
  return { node, quantity: "dew", atMs: own ?? rh.atMs, values };
}

/** A track without the stretches in which its chip lay in a bag. */
function outside(track: Track, bagged: readonly Stretch[]): Track {
  if (bagged.length === 0) return track;
  const keep = track.atMs.map((atMs) => !bagged.some(({ fromMs, toMs }) => atMs >= fromMs && atMs < toMs));
  return {
    ...track,
    atMs: track.atMs.filter((_, index) => keep[index]),
    values: track.values.filter((_, index) => keep[index]),
  };
}

function emptyTrack(node: string, quantity: string): Track {
  return { node, quantity, atMs: EMPTY, values: EMPTY };
}

/** When a probe fell out of use; a later move brings it back. */
function retiredMsOf(record: ZoneRecord, probe: string): number {
  const retiredMs = lastAt(record.retired, probe)?.atMs ?? Number.POSITIVE_INFINITY;
  return (lastAt(record.moved, probe)?.atMs ?? Number.NEGATIVE_INFINITY) > retiredMs
    ? Number.POSITIVE_INFINITY
    : retiredMs;
}

function lastAt<T extends { readonly atMs: number; readonly probe: string }>(
  entries: readonly T[],
  probe: string,
): T | null {
  return entries.filter((entry) => entry.probe === probe).at(-1) ?? null;
}

function slabQuantities(node: Node, series: readonly LogSeries[]): readonly string[] {
  const listed = Object.keys(node.probes ?? {}).filter((quantity) => SLAB.test(quantity));
  const heard = series.map(({ quantity }) => quantity).filter(isSlab);
  return [...new Set([...listed, ...heard])].sort(compare);
}

/** What the quantities of one node had said by a moment. */
class Heard {
  /** The first that was asked for: others have its times, if they are of one pack with it. */
  private first: Taken | null = null;
  constructor(
    private readonly node: Node,
    /** Of the node alone. */
    readonly series: readonly LogSeries[],
    private readonly moment: Moment,
  ) {}

  since(quantity: string, fromMs: number): Track {
    const found = this.series.find((item) => item.quantity === quantity);
    if (found === undefined) return emptyTrack(this.node.id, quantity);
    const track = trackAt(found, this.moment, fromMs, this.first);
    if (this.first !== null) return besidePack(track, this.first.track);
    this.first = { series: found, fromMs, track };
    return track;
  }
}

function slabOf(
  node: Node,
  only: readonly string[] | null,
  heard: Heard,
  record: ZoneRecord,
  fromMs: number,
): SlabProbe[] {
  return slabQuantities(node, heard.series).flatMap((quantity): SlabProbe[] => {
    const name = `${node.id}/${quantity}`;
    if (only !== null && !only.includes(name)) return [];
    const moved = lastAt(record.moved, name);
    const place = moved ?? node.probes?.[quantity] ?? null;
    const { track, dropped } = dropCodes(heard.since(quantity, fromMs));
    // What was first heard later than this moment was not there yet.
    if (track.atMs.length === 0 && node.probes?.[quantity] === undefined) return [];
    const movedMs = moved?.atMs ?? Number.NEGATIVE_INFINITY;
    return [{ name, node, place, track, said: track, dropped, movedMs, retiredMs: retiredMsOf(record, name) }];
  });
}

/** null where the node never said anything of the air. */
function chipOf(node: Node, heard: Heard, record: ZoneRecord, fromMs: number): AirChip | null {
  const bagged = baggedOf(record, node.id);
  // Back to before a bag, so that a chip that lies in it for days is silent and not forgotten.
  const sinceMs = Math.min(fromMs, ...bagged.filter(({ toMs }) => toMs > fromMs).map((bag) => bag.fromMs));
  const air = outside(dropCodes(heard.since("air", sinceMs)).track, bagged);
  const rh = outside(dropCodes(heard.since("rh", sinceMs)).track, bagged);
  if (air.atMs.length === 0 && rh.atMs.length === 0) return null;
  const sendsDew = heard.series.some(({ quantity }) => quantity === "dew");
  const dew = sendsDew ? outside(heard.since("dew", fromMs), bagged) : null;
  const name = `${node.id}/air`;
  return { name, node, air, rh, dew, dewPoint: dewPointTrack(node.id, air, rh), retiredMs: retiredMsOf(record, name) };
}

/** Collects the probes of a zone with what they had said by the moment, back to `fromMs`. */
export function probesOf(
  log: SiteLog,
  lineage: readonly ZoneNow[],
  record: ZoneRecord,
  moment: Moment,
  fromMs: number,
): ZoneProbes {
  const only = lineage[0]?.probes ?? null;
  // In one order, however the log lists them: of two equal probes the same one is named every time.
  const nodes = nodesIn(
    log,
    lineage.map(({ id }) => id),
  ).sort((a, b) => compare(a.id, b.id));
  const series = seriesOf(log, nodes).sort((a, b) => compare(a.node, b.node) || compare(a.quantity, b.quantity));
  const slab: SlabProbe[] = [];
  const chips: AirChip[] = [];
  for (const node of nodes) {
    const own = series.filter((item) => item.node === node.id);
    const heard = new Heard(node, own, moment);
    for (const probe of slabOf(node, only, heard, record, fromMs))
      if (probe.retiredMs > moment.nowMs || probe.track.atMs.length > 0) slab.push(probe);
    const chip = chipOf(node, heard, record, fromMs);
    if (chip !== null) chips.push(chip);
  }
  return { slab, chips, series };
}
