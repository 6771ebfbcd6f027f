// What all members of an outlook share: the fits to the last two days, the weather to come, and how the heat stands.
import { type AirFit, fitAir } from "#core/outlook/air-fit.ts";
import type { FeedAhead } from "#core/outlook/feed-ahead.ts";
import { fitMoisture, type MoistureCandidate } from "#core/outlook/moisture-fit.ts";
import type { OutdoorPast } from "#core/outlook/outdoor-past.ts";
import { outdoorsAhead, type OutdoorsAhead, sameHour, type TypedNight } from "#core/outlook/outdoors-ahead.ts";
import { type Past, PAST_STEPS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import { bridged, fitSlab, type SlabCandidate } from "#core/outlook/slab-fit.ts";
import { MEMBER_STEPS } from "#core/outlook/steps-ahead.ts";

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
  readonly outdoors: OutdoorsAhead;
  /** Outdoor air of yesterday's same hours, °C; null where it was not heard. */
  readonly outdoorPattern: Float64Array | null;
  /** Hottest minus coldest spot at the steps ahead, K. */
  readonly hotK: Float64Array;
  /** Spread of everything: wider where less was heard; never narrower than 1. */
  readonly wide: number;
}

/** The outdoors of the last day explain a room if they were heard for this share of it; of less nothing is learnt. */
const LEARNT_FROM = 0.5;
/** Gaps widen: nothing heard of a day spreads it by so much more. */
const GAPS_WIDEN = 1.5;

/** Yesterday's values at the hours ahead; null where they were not heard. */
function patternOf(values: Float64Array | null): Float64Array | null {
  const full = values === null ? null : bridged(values);
  if (values === null || full === null || Number.isNaN(sameHour(values, 0))) return null;
  const pattern = new Float64Array(MEMBER_STEPS);
  for (let step = 0; step < MEMBER_STEPS; step++) pattern[step] = sameHour(full, step);
  return pattern;
}

/** As now, with yesterday's swing of it at the same hours. */
function hotAhead(past: Past, nowK: number): Float64Array {
  const thenK = (step: number) => sameHour(past.slabHotC, step) - sameHour(past.slabColdC, step);
  const then0K = thenK(0);
  const hotK = new Float64Array(MEMBER_STEPS);
  for (let step = 0; step < MEMBER_STEPS; step++) {
    const changeK = thenK(step) - then0K;
    hotK[step] = Math.max(0, nowK + (Number.isNaN(changeK) ? 0 : changeK));
  }
  return hotK;
}

/** Share of the last day that was heard. */
function shareHeard(values: Float64Array): number {
  const day = values.subarray(PAST_STEPS + 1 - STEPS_PER_DAY);
  let heard = 0;
  for (const value of day) if (!Number.isNaN(value)) heard++;
  return heard / day.length;
}

/** What is known of the weather: what was, what a feed says will be, what a person typed. */
export interface Weather {
  readonly known: { readonly past: OutdoorPast; readonly from: "node" | "feed" } | null;
  readonly feed: FeedAhead | null;
  readonly typed: TypedNight | null;
}

/** Fits slab, air and water to the past; null when too little was heard to fit anything, or nobody tells of the outdoors. */
export function groundOf(past: Past, start: Start, weather: Weather, nowMs: number): Ground | null {
  const { known, feed, typed } = weather;
  const outdoors = outdoorsAhead(known, feed, typed, { airC: start.airC, dewPointC: start.dewC }, nowMs, MEMBER_STEPS);
  if (outdoors === null) return null;
  const learnt = known !== null && shareHeard(known.past.dewPointC) >= LEARNT_FROM ? known.past : null;
  const slabs = fitSlab(past.slabColdC, past.airC, learnt === null ? null : bridged(learnt.airC));
  const rooms = fitMoisture(
    past.dewPointC,
    past.airC,
    past.slabColdC,
    learnt === null ? null : bridged(learnt.dewPointC),
  );
  const air = fitAir(past.airC, learnt === null ? null : learnt.airC, MEMBER_STEPS);
  if (air === null || slabs.length === 0 || rooms.length === 0) return null;
  const heard = past.wholeDay ? past.lastDay : Math.min(past.lastDay, 0.7);
  return {
    start,
    slabs,
    rooms,
    air,
    outdoors,
    outdoorPattern: patternOf(learnt === null ? null : learnt.airC),
    hotK: hotAhead(past, start.hotC - start.coldC),
    wide: 1 + GAPS_WIDEN * (1 - heard),
  };
}
