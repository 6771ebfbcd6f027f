// The outdoors to come: the middle of what is expected and how far it may stray, from a feed, an outdoor node or a person.
import { AIR_MEMORY_H, DEW_MEMORY_H } from "#core/outlook/draws.ts";
import type { FeedAhead } from "#core/outlook/feed-ahead.ts";
import type { OutdoorPast } from "#core/outlook/outdoor-past.ts";
import { PAST_STEPS, STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import { patternShareOf } from "#core/outlook/pattern-share.ts";
import { bridged, firstKnown } from "#core/outlook/slab-fit.ts";

const STEP_H = STEP_MS / 3_600_000;

/** The spread multiplies a wander that grows from 0 to 1 (draws.ts). */
export interface OutdoorsAhead {
  readonly airC: Float64Array;
  readonly dewPointC: Float64Array;
  readonly airSpreadK: Float64Array;
  readonly dewSpreadK: Float64Array;
}

/**
 * How far the weather strays from what it was: air from yesterday's same hours, dew point from now, standard deviation
 * when all memory is gone. From a year of hourly reports of two airports (tests/reference/weather): air 1.1 K after 1 h,
 * 2.9 after 6, 3.7 after 12, 4.1 after 24; dew point 1.0, 2.9, 4.4, 6.3.
 */
export const WEATHER_SPREAD_K = { air: 4.1, dew: 6.5 } as const;
/** What a forecast of the weather leaves open once its memory is gone; usual size, from memory. */
const FEED_SPREAD_K = { air: 1.6, dew: 1.7 } as const;
/** A person's guess of the night. Common practice, no source. */
const TYPED_SPREAD_K = { air: 2.5, dew: 2 } as const;
/**
 * Dew point outdoors seldom repeats yesterday's hours (a year of hourly reports: it strays less from what it is); a
 * place by water may, and shows it in the hours behind. Misses of 2 K over twelve hours are usual there.
 */
const DEW_USUAL = { missK: 2, patternShare: 0.15 } as const;
/** Dew point outdoors drifts back to its mean of the last days. */
const DEW_BACK_H = 60;
/** Beyond the end of a forecast the weather is its own again within this time. */
const BEYOND_FEED_H = 12;

function meanOf(values: Float64Array): number {
  let sum = 0;
  let count = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    sum += value;
    count++;
  }
  return sum / count;
}

/** The last value known, °C. */
export function latestOf(values: Float64Array): number {
  for (let index = values.length - 1; index >= 0; index--)
    if (!Number.isNaN(values[index] as number)) return values[index] as number;
  return Number.NaN;
}

/** Yesterday's value at the hour of a step ahead; NaN where it was not heard. */
export function sameHour(values: Float64Array, step: number): number {
  let index = PAST_STEPS + step - STEPS_PER_DAY;
  while (index > PAST_STEPS) index -= STEPS_PER_DAY;
  return values[index] as number;
}

/** The weather as a node knows it: air as yesterday's hours with today's departure fading, dew point mostly as now. */
function fromNode(past: OutdoorPast, steps: number): OutdoorsAhead | null {
  const nowC = latestOf(past.airC);
  const dewNowC = latestOf(past.dewPointC);
  if (Number.isNaN(nowC) || Number.isNaN(dewNowC)) return null;
  const airMeanC = meanOf(past.airC);
  const dewMeanC = meanOf(past.dewPointC);
  const yesterdayC = sameHour(past.airC, 0);
  const dewYesterdayC = sameHour(past.dewPointC, 0);
  const dew = bridged(past.dewPointC);
  const repeats =
    dew === null || Number.isNaN(dewYesterdayC) ? 0 : patternShareOf(dew, firstKnown(past.dewPointC), DEW_USUAL);
  const airC = new Float64Array(steps);
  const dewC = new Float64Array(steps);
  for (let step = 0; step < steps; step++) {
    const keptAir = Math.exp((-step * STEP_H) / AIR_MEMORY_H);
    const thenC = sameHour(past.airC, step);
    airC[step] =
      Number.isNaN(thenC) || Number.isNaN(yesterdayC)
        ? airMeanC + (nowC - airMeanC) * keptAir
        : thenC + (nowC - yesterdayC) * keptAir;
    const holdsC = dewMeanC + (dewNowC - dewMeanC) * Math.exp((-step * STEP_H) / DEW_BACK_H);
    const dewThenC = sameHour(past.dewPointC, step);
    const repeatsC = dewThenC + (dewNowC - dewYesterdayC) * Math.exp((-step * STEP_H) / DEW_MEMORY_H);
    dewC[step] = Number.isNaN(repeatsC) ? holdsC : holdsC + repeats * (repeatsC - holdsC);
  }
  return {
    airC,
    dewPointC: dewC,
    airSpreadK: new Float64Array(steps).fill(WEATHER_SPREAD_K.air),
    dewSpreadK: new Float64Array(steps).fill(WEATHER_SPREAD_K.dew),
  };
}

/** A feed as far as it goes; beyond its end its last day repeats and the weather is free again. */
function fromFeed(feed: FeedAhead, steps: number): OutdoorsAhead {
  const airC = new Float64Array(steps);
  const dewC = new Float64Array(steps);
  const airSpreadK = new Float64Array(steps);
  const dewSpreadK = new Float64Array(steps);
  let lastStep = 0;
  for (let step = 0; step < steps; step++) {
    const known = !Number.isNaN(feed.airC[step] as number) && !Number.isNaN(feed.dewPointC[step] as number);
    if (known) lastStep = step;
    const from = known ? step : step >= STEPS_PER_DAY ? step - STEPS_PER_DAY : lastStep;
    airC[step] = known ? (feed.airC[step] as number) : (airC[from] as number);
    dewC[step] = known ? (feed.dewPointC[step] as number) : (dewC[lastStep] as number);
    const free = 1 - Math.exp((-(step - lastStep) * STEP_H) / BEYOND_FEED_H);
    const air = FEED_SPREAD_K.air * feed.spreadScale;
    const dew = FEED_SPREAD_K.dew * feed.spreadScale;
    airSpreadK[step] = air + Math.max(0, WEATHER_SPREAD_K.air - air) * free;
    dewSpreadK[step] = dew + Math.max(0, WEATHER_SPREAD_K.dew - dew) * free;
  }
  return { airC, dewPointC: dewC, airSpreadK, dewSpreadK };
}

export interface TypedNight {
  readonly lowC: number;
  readonly dewPointC: number;
  readonly untilMs: number;
}

/** A typed night: air and dew point go to what was typed within some hours, and stay until its end. */
function fromTyped(typed: TypedNight, fromC: number, fromDewC: number, nowMs: number, steps: number): OutdoorsAhead {
  const airC = new Float64Array(steps);
  const dewC = new Float64Array(steps);
  const airSpreadK = new Float64Array(steps);
  const dewSpreadK = new Float64Array(steps);
  const endStep = Math.max(0, (typed.untilMs - nowMs) / STEP_MS);
  for (let step = 0; step < steps; step++) {
    const along = 1 - Math.exp((-step * STEP_H) / 4);
    const free = 1 - Math.exp((-Math.max(0, step - endStep) * STEP_H) / BEYOND_FEED_H);
    airC[step] = fromC + (typed.lowC - fromC) * along;
    dewC[step] = fromDewC + (typed.dewPointC - fromDewC) * along;
    airSpreadK[step] = TYPED_SPREAD_K.air + (WEATHER_SPREAD_K.air - TYPED_SPREAD_K.air) * free;
    dewSpreadK[step] = TYPED_SPREAD_K.dew + (WEATHER_SPREAD_K.dew - TYPED_SPREAD_K.dew) * free;
  }
  return { airC, dewPointC: dewC, airSpreadK, dewSpreadK };
}

/**
 * The best that is known of the outdoors to come: a feed, else a typed night, else what the outdoor node saw; null when
 * nobody says anything. `indoors`: where a typed night begins without an outdoor node, °C.
 */
export function outdoorsAhead(
  known: { readonly past: OutdoorPast; readonly from: "node" | "feed" } | null,
  feed: FeedAhead | null,
  typed: TypedNight | null,
  indoors: { readonly airC: number; readonly dewPointC: number },
  nowMs: number,
  steps: number,
): OutdoorsAhead | null {
  if (feed !== null && feed.fault === null) return fromFeed(feed, steps);
  if (typed !== null) {
    const airC = known === null ? Number.NaN : latestOf(known.past.airC);
    const dewC = known === null ? Number.NaN : latestOf(known.past.dewPointC);
    return fromTyped(
      typed,
      Number.isNaN(airC) ? indoors.airC : airC,
      Number.isNaN(dewC) ? indoors.dewPointC : dewC,
      nowMs,
      steps,
    );
  }
  return known === null || known.from === "feed" ? null : fromNode(known.past, steps);
}
