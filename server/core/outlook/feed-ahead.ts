// The outdoors to come by a weather feed: what it says, corrected by the outdoor node, and how far it is to be believed.
import { type FeedDoubt, type FeedFault, FEED_LIMITS, judgeFeed, type OutdoorHeard } from "#core/outlook/feed-doubt.ts";
import { feedColumns, feedEndsMs, HOUR_MS } from "#core/outlook/feed-hours.ts";
import type { Fit } from "#core/outlook/feed-fit.ts";
import { STEP_MS } from "#core/outlook/past.ts";
import type { FeedFetch } from "#core/zone/site.ts";

export type { FeedFault } from "#core/outlook/feed-doubt.ts";

export interface FeedAhead {
  /** Ten-minute steps from now, °C, the local offset included; NaN beyond the end of the feed. */
  readonly airC: Float64Array;
  readonly dewPointC: Float64Array;
  readonly endsMs: number;
  readonly ageS: number;
  /** With a fault the values must not be used. */
  readonly fault: FeedFault | null;
  readonly doubt: FeedDoubt | null;
  /** By how much its errors are larger than those of a usual forecast; 1 or more. */
  readonly spreadScale: number;
  /** Outdoor node minus feed, as it is added now. */
  readonly airOffsetK: number;
  readonly dewOffsetK: number;
}

/** How far a usual forecast misses in the coming day, K; from memory. */
const USUAL_K = { air: 1.6, dew: 1.7 } as const;
const MOST_SPREAD = 3;
/** Nobody on the site has measured whether it holds here. Common practice, no source. */
const UNCHECKED_SPREAD = 1.25;
/** A local offset stays this long and is gone by the second, hours. Common practice, no source. */
const OFFSET_STAYS_H = 12;
const OFFSET_GONE_H = 24;
/** Fresh until then; at the age at which it is stale the spread has doubled, hours. */
const FRESH_H = 3;

function limited(valueK: number): number {
  return Math.max(-FEED_LIMITS.biasK, Math.min(FEED_LIMITS.biasK, valueK));
}

/** Few hours in common say little: the offset grows towards the mean, and the spread away from the usual. */
function trustOf(fit: Fit | null): { airOffsetK: number; dewOffsetK: number; spread: number } {
  if (fit === null) return { airOffsetK: 0, dewOffsetK: 0, spread: UNCHECKED_SPREAD };
  const share = fit.pairs / (fit.pairs + 3);
  const left = (rmsK: number, meanK: number) => Math.hypot(rmsK, meanK - limited(meanK));
  const observed = Math.max(
    left(fit.airDebiasedK, fit.airMeanK) / USUAL_K.air,
    left(fit.dewDebiasedK, fit.dewMeanK) / USUAL_K.dew,
  );
  return {
    airOffsetK: share * limited(fit.airMeanK),
    dewOffsetK: share * limited(fit.dewMeanK),
    spread: Math.max(1, Math.min(MOST_SPREAD, share * observed + (1 - share) * UNCHECKED_SPREAD)),
  };
}

/**
 * The feed from `nowMs` on, by the newest fetch heard by `heardByMs`; null when none was heard.
 * `outdoor`: the last 48 h of an outdoor node, or null; never what a feed said.
 */
export function feedAhead(
  feeds: readonly FeedFetch[],
  outdoor: OutdoorHeard | null,
  nowMs: number,
  heardByMs: number,
  steps: number,
): FeedAhead | null {
  const judged = judgeFeed(feeds, outdoor, nowMs, heardByMs);
  if (judged === null) return null;
  const { fetch, hours, doubt, fit } = judged;
  const { airOffsetK, dewOffsetK, spread } = trustOf(fit);
  const { airC, dewPointC } = feedColumns(hours, nowMs, STEP_MS, steps, true);
  const endsMs = feedEndsMs(hours, nowMs);
  for (let step = 0; step < steps; step++) {
    const aheadH = (step * STEP_MS) / HOUR_MS;
    if (aheadH * HOUR_MS > endsMs - nowMs) {
      airC[step] = Number.NaN;
      dewPointC[step] = Number.NaN;
      continue;
    }
    const share = Math.max(0, Math.min(1, (OFFSET_GONE_H - aheadH) / (OFFSET_GONE_H - OFFSET_STAYS_H)));
    airC[step] = (airC[step] as number) + share * airOffsetK;
    // Each with its own offset, the dew point could end up above the air.
    dewPointC[step] = Math.min((dewPointC[step] as number) + share * dewOffsetK, airC[step] as number);
  }
  const ageS = Math.max(0, (nowMs - fetch.fetchedMs) / 1000);
  const aged = Math.min(1, Math.max(0, (ageS / 3600 - FRESH_H) / (FEED_LIMITS.staleH - FRESH_H)));
  return {
    airC,
    dewPointC,
    endsMs,
    ageS,
    fault: doubt?.fault ?? null,
    doubt,
    spreadScale: spread * (1 + aged),
    airOffsetK,
    dewOffsetK,
  };
}
