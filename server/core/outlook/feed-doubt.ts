// Why a weather feed is not to be used: one fault, with what was measured. All numbers: common practice, no source,
// chosen on a year of hourly reports of neighbouring airports (tests/core/outlook/feed-weather.test.ts).
import { bestInAnotherUnit, bestShift, type Fit, fitOf, SHIFTS_H } from "#core/outlook/feed-fit.ts";
import {
  feedColumns,
  type FeedColumns,
  feedEndsMs,
  fetchesOf,
  HOUR_MS,
  orderedHours,
} from "#core/outlook/feed-hours.ts";
import { PAST_STEPS, STEP_MS } from "#core/outlook/past.ts";
import type { FeedFetch, FeedHour } from "#core/zone/site.ts";

export type FeedFault = "stale" | "ends" | "jumps" | "unit" | "time-zone" | "disagrees";

export interface FeedDoubt {
  readonly fault: FeedFault;
  /** What it was compared with: an outdoor node, its own earlier fetches, or nothing but itself. */
  readonly against: "node" | "earlier" | "itself";
  readonly measured: number;
  readonly limit: number;
  readonly unit: "h" | "K" | "°C";
}

/** The outdoor node's last two days on ten-minute steps that end now, °C; NaN where unknown. */
export interface OutdoorHeard {
  readonly airC: Float64Array;
  readonly dewPointC: Float64Array;
}

export const FEED_LIMITS = {
  staleH: 12,
  leastAheadH: 6,
  /** In an hour; hours further apart may differ by the root of their number times this. */
  jumpK: 12,
  airC: 60,
  /** The highest dew point on record is about 35 °C; from memory. */
  dewPointC: 37,
  dewAboveAirK: 1,
  biasK: 3,
  disagreesK: 4,
  /** With a few hours in common only a gross difference counts. */
  fewHours: 6,
  fewDisagreeK: 8,
} as const;

const BACK_H = 48;
const AHEAD_H = 72;
const HOURS = BACK_H + AHEAD_H + 2 * SHIFTS_H + 1;
const NOW = BACK_H + SHIFTS_H;

function hourly(hours: readonly FeedHour[], nowMs: number, begins = false): FeedColumns {
  return feedColumns(hours, nowMs - NOW * HOUR_MS, HOUR_MS, HOURS, begins);
}

function nodeHourly(heard: OutdoorHeard): FeedColumns {
  const column = (from: Float64Array) => {
    const out = new Float64Array(HOURS).fill(Number.NaN);
    const stride = HOUR_MS / STEP_MS;
    for (let back = 0; back * stride <= PAST_STEPS; back++)
      out[NOW - back] = from[PAST_STEPS - back * stride] as number;
    return out;
  };
  return { airC: column(heard.airC), dewPointC: column(heard.dewPointC) };
}

/** The hours that have passed, each from the newest fetch that tells of it. */
function layeredPast(newest: FeedColumns, earlier: readonly FeedFetch[], nowMs: number): FeedColumns {
  const airC = newest.airC.slice();
  const dewPointC = newest.dewPointC.slice();
  let first = airC.findIndex((value) => !Number.isNaN(value));
  if (first < 0) first = HOURS;
  for (const before of earlier) {
    // Fetches of every hour tell mostly of the same: only those that reach further back are opened.
    const beginsMs = before.hours[0]?.atMs ?? Number.POSITIVE_INFINITY;
    if (first <= NOW - BACK_H) break;
    if (beginsMs >= nowMs + (first - NOW) * HOUR_MS) continue;
    const told = hourly(orderedHours(before.hours), nowMs);
    for (let hour = NOW - BACK_H; hour <= NOW; hour++) {
      if (!Number.isNaN(airC[hour] as number) || Number.isNaN(told.airC[hour] as number)) continue;
      airC[hour] = told.airC[hour] as number;
      dewPointC[hour] = told.dewPointC[hour] as number;
      first = Math.min(first, hour);
    }
  }
  return { airC, dewPointC };
}

/**
 * A node in the sun reads a warmer air and a right dew point: hours in which it does so are left out, unless that would be
 * most of them.
 */
function withoutSun(feed: FeedColumns, node: FeedColumns): FeedColumns {
  const sunny = (hour: number) =>
    (node.airC[hour] as number) - (feed.airC[hour] as number) > FEED_LIMITS.disagreesK &&
    Math.abs((node.dewPointC[hour] as number) - (feed.dewPointC[hour] as number)) <= 2;
  const airC = node.airC.map((value, hour) => (sunny(hour) ? Number.NaN : value));
  const left = airC.filter((value) => !Number.isNaN(value)).length;
  return left * 2 < node.airC.filter((value) => !Number.isNaN(value)).length ? node : { ...node, airC };
}

function ownDoubt(fetch: FeedFetch, hours: readonly FeedHour[], nowMs: number): FeedDoubt | null {
  const own = { against: "itself" } as const;
  const ageH = (nowMs - fetch.fetchedMs) / HOUR_MS;
  if (ageH > FEED_LIMITS.staleH)
    return { fault: "stale", ...own, measured: ageH, limit: FEED_LIMITS.staleH, unit: "h" };
  const near = hours.filter(({ atMs }) => atMs >= nowMs - BACK_H * HOUR_MS && atMs <= nowMs + AHEAD_H * HOUR_MS);
  for (const { airC, dewPointC } of near) {
    if (Math.abs(airC) > FEED_LIMITS.airC)
      return { fault: "unit", ...own, measured: airC, limit: FEED_LIMITS.airC, unit: "°C" };
    if (dewPointC > FEED_LIMITS.dewPointC)
      return { fault: "unit", ...own, measured: dewPointC, limit: FEED_LIMITS.dewPointC, unit: "°C" };
    if (dewPointC - airC > FEED_LIMITS.dewAboveAirK)
      return { fault: "unit", ...own, measured: dewPointC - airC, limit: FEED_LIMITS.dewAboveAirK, unit: "K" };
  }
  for (const [index, to] of near.entries()) {
    const from = near[index - 1];
    if (from === undefined) continue;
    const jumpK = Math.max(Math.abs(to.airC - from.airC), Math.abs(to.dewPointC - from.dewPointC));
    const limit = FEED_LIMITS.jumpK * Math.sqrt(Math.max(1, (to.atMs - from.atMs) / HOUR_MS));
    if (jumpK > limit) return { fault: "jumps", ...own, measured: jumpK, limit, unit: "K" };
  }
  const aheadH = (feedEndsMs(hours, nowMs) - nowMs) / HOUR_MS;
  if (aheadH < FEED_LIMITS.leastAheadH)
    return { fault: "ends", ...own, measured: aheadH, limit: FEED_LIMITS.leastAheadH, unit: "h" };
  return null;
}

function nodeDoubt(feed: FeedColumns, node: FeedColumns): FeedDoubt | null {
  const against = "node" as const;
  const raw = fitOf(feed, node);
  if (raw.pairs === 0) return null;
  const few = raw.pairs < FEED_LIMITS.fewHours;
  const limit = few ? FEED_LIMITS.fewDisagreeK : FEED_LIMITS.disagreesK;
  const biased = Math.max(Math.abs(raw.airMeanK), Math.abs(raw.dewMeanK)) > FEED_LIMITS.biasK;
  if (few ? raw.rmsK > limit : biased || raw.rmsK > limit) {
    const best = bestInAnotherUnit(feed, node);
    if (best <= 3 && best < raw.rmsK / 2) return { fault: "unit", against, measured: raw.rmsK, limit, unit: "K" };
  }
  const shifted = bestShift(feed, node, 18);
  const { airDebiasedK } = shifted.fit;
  if (raw.pairs >= 18 && raw.airDebiasedK > 2 && airDebiasedK < 0.5 * raw.airDebiasedK && airDebiasedK <= 2)
    return { fault: "time-zone", against, measured: shifted.shiftH, limit: 0, unit: "h" };
  const shaded = fitOf(feed, withoutSun(feed, node));
  const worstK = Math.max(shaded.airRmsK, shaded.dewRmsK);
  return worstK > limit ? { fault: "disagrees", against, measured: worstK, limit, unit: "K" } : null;
}

/** A feed that suddenly speaks in another unit or another time differs from what it said itself. */
function earlierDoubt(
  feed: FeedColumns,
  fetch: FeedFetch,
  earlier: readonly FeedFetch[],
  nowMs: number,
): FeedDoubt | null {
  const against = "earlier" as const;
  for (const before of earlier) {
    if (fetch.fetchedMs - before.fetchedMs > BACK_H * HOUR_MS) break;
    const said = hourly(orderedHours(before.hours), nowMs);
    const raw = fitOf(feed, said);
    if (raw.pairs < 3 || raw.rmsK <= 0.5) continue;
    const best = bestInAnotherUnit(feed, said);
    if (raw.rmsK > FEED_LIMITS.disagreesK && best <= 3 && best < raw.rmsK / 2)
      return { fault: "unit", against, measured: raw.rmsK, limit: FEED_LIMITS.disagreesK, unit: "K" };
    const { shiftH, fit } = bestShift(feed, said, 12);
    if (raw.pairs >= 12 && fit.airRmsK <= 0.5 && fit.dewRmsK <= 0.5 && fit.rmsK < raw.rmsK / 4)
      return { fault: "time-zone", against, measured: shiftH, limit: 0, unit: "h" };
    const lately = fetch.fetchedMs - before.fetchedMs <= 6 * HOUR_MS && raw.pairs >= FEED_LIMITS.fewHours;
    if (lately && raw.rmsK > FEED_LIMITS.disagreesK)
      return { fault: "disagrees", against, measured: raw.rmsK, limit: FEED_LIMITS.disagreesK, unit: "K" };
  }
  return null;
}

/** What a feed is worth at a moment: its newest fetch, the fit to the outdoor node, and the fault if there is one. */
export interface FeedJudged {
  readonly fetch: FeedFetch;
  readonly hours: readonly FeedHour[];
  readonly doubt: FeedDoubt | null;
  /** Against the outdoor node, its hours in the sun left out; null without a node or without hours in common. */
  readonly fit: Fit | null;
}

/** Judges the feed as it was heard by `heardByMs`. `outdoor`: what an outdoor node heard, never what a feed said; null without. */
export function judgeFeed(
  feeds: readonly FeedFetch[],
  outdoor: OutdoorHeard | null,
  nowMs: number,
  heardByMs: number,
): FeedJudged | null {
  const [fetch, ...earlier] = fetchesOf(feeds, nowMs, heardByMs);
  // A fetch without hours is how the log says that the feed was taken away or its recipe changed.
  if (fetch === undefined || fetch.hours.length === 0) return null;
  const hours = orderedHours(fetch.hours);
  const node = outdoor === null ? null : nodeHourly(outdoor);
  const told = hourly(hours, nowMs);
  // A feed that begins with the next hour can still be held against the node of now.
  const newest = Number.isNaN(told.airC[NOW] as number) ? hourly(hours, nowMs, true) : told;
  const own = ownDoubt(fetch, hours, nowMs);
  if (own !== null || node === null)
    return { fetch, hours, doubt: own ?? earlierDoubt(newest, fetch, earlier, nowMs), fit: null };
  const known = fitOf(newest, node);
  // What the newest fetch says of the past is the best measure of it; else its forerunners stand in, if it is like them.
  const alone = known.pairs >= FEED_LIMITS.fewHours;
  const combined = layeredPast(told, earlier, nowMs);
  const doubt =
    nodeDoubt(newest, node) ??
    (alone ? null : (earlierDoubt(newest, fetch, earlier, nowMs) ?? nodeDoubt(combined, node)));
  const fit = fitOf(combined, withoutSun(combined, node));
  return { fetch, hours, doubt, fit: fit.pairs > 0 ? fit : null };
}

/** Why the feed is not used; null when it is, or when there is none. */
export function feedDoubtOf(
  feeds: readonly FeedFetch[],
  outdoor: OutdoorHeard | null,
  nowMs: number,
  heardByMs: number,
): FeedDoubt | null {
  return judgeFeed(feeds, outdoor, nowMs, heardByMs)?.doubt ?? null;
}
