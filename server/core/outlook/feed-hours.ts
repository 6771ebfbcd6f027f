// The hours of a weather feed in order, and their values on equal steps.
import type { FeedFetch, FeedHour } from "#core/zone/site.ts";

export const HOUR_MS = 3_600_000;
/** Between hours further apart than this a feed says nothing; some services tell every sixth hour only. Common practice, no source. */
const HOLE_MS = 6 * HOUR_MS;
/** A feed that begins within the next hour speaks of now. */
const BEGINS_MS = HOUR_MS;

/** Values on equal steps, °C; NaN where the feed says nothing. */
export interface FeedColumns {
  readonly airC: Float64Array;
  readonly dewPointC: Float64Array;
}

/** Ascending in time, of doubles the first one given, without hours that lack a number. */
export function orderedHours(hours: readonly FeedHour[]): FeedHour[] {
  const whole = hours.filter(({ atMs, airC, dewPointC }) => [atMs, airC, dewPointC].every(Number.isFinite));
  whole.sort((a, b) => a.atMs - b.atMs);
  return whole.filter((hour, index) => index === 0 || hour.atMs !== whole[index - 1]?.atMs);
}

/** `count` values from `fromMs` every `stepMs`, straight between hours. Hours must be ordered. `begins`: the hour before the first is filled. */
export function feedColumns(
  hours: readonly FeedHour[],
  fromMs: number,
  stepMs: number,
  count: number,
  begins: boolean,
): FeedColumns {
  const airC = new Float64Array(count).fill(Number.NaN);
  const dewPointC = new Float64Array(count).fill(Number.NaN);
  let after = 0;
  for (let step = 0; step < count; step++) {
    const atMs = fromMs + step * stepMs;
    while (after < hours.length && (hours[after] as FeedHour).atMs < atMs) after++;
    const next = hours[after];
    if (next === undefined) break;
    const before = hours[after - 1];
    if (before === undefined || next.atMs === atMs) {
      if (next.atMs - atMs > (begins ? BEGINS_MS : 0)) continue;
      airC[step] = next.airC;
      dewPointC[step] = next.dewPointC;
      continue;
    }
    if (next.atMs - before.atMs > HOLE_MS) continue;
    const share = (atMs - before.atMs) / (next.atMs - before.atMs);
    airC[step] = before.airC + share * (next.airC - before.airC);
    dewPointC[step] = before.dewPointC + share * (next.dewPointC - before.dewPointC);
  }
  return { airC, dewPointC };
}

/** The last hour that is joined to now without a hole; `nowMs` when the feed does not speak of now. */
export function feedEndsMs(hours: readonly FeedHour[], nowMs: number): number {
  let endsMs = nowMs;
  let beforeMs: number | null = null;
  for (const { atMs } of hours) {
    if (atMs > nowMs) {
      const joined = beforeMs === null ? atMs - nowMs <= BEGINS_MS : atMs - beforeMs <= HOLE_MS;
      if (!joined) break;
      endsMs = atMs;
    }
    beforeMs = atMs;
  }
  return endsMs;
}

/** Fetches older than this are no measure of the newest one. */
export const FETCHES_BACK_MS = 60 * HOUR_MS;

/**
 * Fetches that may speak of a moment, newest first: those heard by then and read by the recipe of the newest. What
 * another recipe read is no measure of this one.
 */
export function fetchesOf(feeds: readonly FeedFetch[], nowMs: number, heardByMs: number): FeedFetch[] {
  const byMs = Math.min(nowMs, heardByMs);
  const heard = feeds.filter(({ fetchedMs }) => fetchedMs <= byMs).sort((a, b) => b.fetchedMs - a.fetchedMs);
  return heard.filter(
    ({ recipe, fetchedMs }, index) =>
      index === 0 || (recipe === heard[0]?.recipe && fetchedMs > byMs - FETCHES_BACK_MS),
  );
}
