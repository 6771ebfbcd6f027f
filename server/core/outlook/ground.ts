// What all members of an outlook share: the fits to the last two days, the weather to come, and how the heat stands.
import { type AirFit, fitAir, smooth } from "#core/outlook/air-fit.ts";
import { MEMBER_STEPS } from "#core/outlook/draws.ts";
import type { FeedAhead } from "#core/outlook/feed-ahead.ts";
import { fitMoisture, type MoistureCandidate, saturatedPa } from "#core/outlook/moisture-fit.ts";
import type { OutdoorPast } from "#core/outlook/outdoor-past.ts";
import { outdoorsAhead, type OutdoorsAhead, sameHour, type TypedNight } from "#core/outlook/outdoors-ahead.ts";
import { type Past, PAST_STEPS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import { bridged, firstKnown, fitSlab, type SlabCandidate } from "#core/outlook/slab-fit.ts";
import { type WayOn, wayOn } from "#core/outlook/way-on.ts";

export interface Start {
  readonly coldC: number;
  readonly hotC: number;
  readonly airC: number;
  readonly dewC: number;
}

export interface Ground {
  readonly start: Start;
  readonly slabs: readonly SlabCandidate[];
  readonly rooms: readonly MoistureCandidate[];
  readonly air: AirFit;
  /** null = nobody knows the outdoors. */
  readonly outdoors: OutdoorsAhead | null;
  /** Outdoor air of yesterday's same hours, °C; null where it was not heard. */
  readonly outdoorPattern: Float64Array | null;
  /** How the dew point goes on where the outdoors are not known, and yesterday's of the same hours, °C. */
  readonly dewWay: WayOn;
  readonly dewPattern: Float64Array | null;
  /** Hottest minus coldest spot at the steps ahead, K. */
  readonly hotK: Float64Array;
  /** Recent change of vapour pressure, Pa per hour. */
  readonly risePaPerH: number;
  /** Spread of everything: wider where less was heard; never narrower than 1. */
  readonly wide: number;
}

/** Dew point of a room, launched hours ago: it holds better than it repeats. Trade judgement, no source. */
const DEW_USUAL = { missK: 1.7, patternShare: 0.25 } as const;
/**
 * Nobody knows the outdoors: after two calm days a room whose air stands above its slab, kept by heat, may be spread
 * narrowly; one that stands open to the weather may not, since the next front comes in. Common practice, no source.
 */
const KEPT_FROM_K = 1.5;
const LEAST_SCALE = { kept: 0.4, open: 0.85 } as const;
/** Gaps widen: nothing heard of a day spreads it by so much more. */
const GAPS_WIDEN = 1.5;

/** Yesterday's values at the hours ahead; null where they were not heard. */
function patternOf(values: Float64Array | null): Float64Array | null {
  const full = values === null ? null : bridged(values);
  if (values === null || full === null || Number.isNaN(sameHour(values, 0))) return null;
  return Float64Array.from({ length: MEMBER_STEPS }, (_, step) => sameHour(full, step));
}

/** As now, with yesterday's swing of it at the same hours. */
function hotAhead(past: Past, nowK: number): Float64Array {
  const thenK = (step: number) => sameHour(past.slabHotC, step) - sameHour(past.slabColdC, step);
  const then0K = thenK(0);
  return Float64Array.from({ length: MEMBER_STEPS }, (_, step) => {
    const changeK = thenK(step) - then0K;
    return Math.max(0, nowK + (Number.isNaN(changeK) ? 0 : changeK));
  });
}

/** Change of vapour pressure over the last two hours, Pa per hour; 0 where it is not known. */
function riseOf(dewC: Float64Array): number {
  const change = saturatedPa(dewC[PAST_STEPS] as number) - saturatedPa(dewC[PAST_STEPS - 12] as number);
  return Number.isNaN(change) ? 0 : change / 2;
}

function leastScaleOf(past: Past): number {
  let sum = 0;
  let count = 0;
  for (let step = PAST_STEPS - STEPS_PER_DAY; step <= PAST_STEPS; step++) {
    const aboveK = (past.airC[step] as number) - (past.slabColdC[step] as number);
    if (Number.isNaN(aboveK)) continue;
    sum += aboveK;
    count++;
  }
  return count > 0 && sum / count > KEPT_FROM_K ? LEAST_SCALE.kept : LEAST_SCALE.open;
}

/** What is known of the weather: what was, what a feed says will be, what a person typed. */
export interface Weather {
  readonly known: { readonly past: OutdoorPast; readonly from: "node" | "feed" } | null;
  readonly feed: FeedAhead | null;
  readonly typed: TypedNight | null;
}

/** Fits slab, air and water to the past; null when too little was heard to fit anything. */
export function groundOf(past: Past, start: Start, weather: Weather, nowMs: number): Ground | null {
  const { known, feed, typed } = weather;
  const outdoorAir = known === null ? null : bridged(known.past.airC);
  const outdoorDew = known === null ? null : bridged(known.past.dewPointC);
  const slabs = fitSlab(past.slabColdC, past.airC, outdoorAir);
  const rooms = fitMoisture(past.dewPointC, past.airC, past.slabColdC, outdoorDew);
  const air = fitAir(past.airC, known === null ? null : known.past.airC, MEMBER_STEPS);
  const dew = bridged(past.dewPointC);
  if (air === null || dew === null || slabs.length === 0 || rooms.length === 0) return null;
  const heard = past.wholeDay ? past.lastDay : Math.min(past.lastDay, 0.7);
  return {
    start,
    slabs,
    rooms,
    air,
    outdoors: outdoorsAhead(known, feed, typed, { airC: start.airC, dewPointC: start.dewC }, nowMs, MEMBER_STEPS),
    outdoorPattern: patternOf(known === null ? null : known.past.airC),
    dewWay: wayOn(smooth(dew), firstKnown(past.dewPointC), { ...DEW_USUAL, leastScale: leastScaleOf(past) }),
    dewPattern: patternOf(past.dewPointC),
    hotK: hotAhead(past, start.hotC - start.coldC),
    risePaPerH: riseOf(past.dewPointC),
    wide: 1 + GAPS_WIDEN * (1 - heard),
  };
}
