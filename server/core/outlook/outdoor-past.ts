// The outdoors as they were in the last two days: from an outdoor node, else from the hours of a weather feed.
import { dewPointC } from "#core/air/dew-point.ts";
import { RH_RANGE_PCT, TEMP_RANGE_C } from "#core/air/vapour.ts";
import { keptWithin } from "#core/guard.ts";
import { fetchesOf } from "#core/outlook/feed-hours.ts";
import { PAST_STEPS, STEP_MS } from "#core/outlook/past.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { FeedFetch, FeedHour, LogSeries, SiteLog } from "#core/zone/site.ts";
import type { Moment } from "#core/zone/heard.ts";
import { nodesIn, seriesOf } from "#core/zone/site-parts.ts";

/** Air and dew point on the steps of `Past`, °C; NaN where nothing was heard. */
export interface OutdoorPast {
  readonly airC: Float64Array;
  readonly dewPointC: Float64Array;
}

/** A series on equal steps that end now: straight between readings that lie no further apart than a reading speaks. */
function onSteps(series: LogSeries, { nowMs, heardByMs }: Moment): Float64Array {
  const out = new Float64Array(PAST_STEPS + 1).fill(Number.NaN);
  const takenMs = series.atMs.slice();
  const heardMs = series.heardMs.slice();
  const values = series.values.slice();
  let after = 0;
  let beforeMs = Number.NEGATIVE_INFINITY;
  let before = Number.NaN;
  const skip = () => {
    while (after < takenMs.length && (heardMs[after] as number) > heardByMs) after++;
  };
  for (let step = 0; step <= PAST_STEPS; step++) {
    const atMs = nowMs - (PAST_STEPS - step) * STEP_MS;
    for (skip(); after < takenMs.length && (takenMs[after] as number) <= atMs; skip()) {
      beforeMs = takenMs[after] as number;
      before = values[after] as number;
      after++;
    }
    const nextMs = takenMs[after] ?? Number.POSITIVE_INFINITY;
    if (nextMs <= nowMs && nextMs - beforeMs <= HOLD_MS) {
      const next = values[after] as number;
      out[step] = before + ((next - before) * (atMs - beforeMs)) / (nextMs - beforeMs);
    } else if (atMs - beforeMs <= HOLD_MS) out[step] = before;
  }
  return out;
}

/** The outdoor node with the most to say; a node whose numbers cannot be weather says nothing. */
function fromNodes(log: SiteLog, moment: Moment): OutdoorPast | null {
  let best: OutdoorPast | null = null;
  let most = 0;
  for (const node of nodesIn(log, [null])) {
    const own = seriesOf(log, [node]);
    const air = own.find(({ quantity }) => quantity === "air");
    const rh = own.find(({ quantity }) => quantity === "rh");
    if (air === undefined || rh === undefined) continue;
    const airC = onSteps(air, moment);
    const rhPct = onSteps(rh, moment);
    let known = 0;
    const dewC = airC.map((value, step) => {
      const humidity = rhPct[step] as number;
      if (!(value > -60 && value < 60) || !(humidity > 0)) return Number.NaN;
      known++;
      return dewPointC(keptWithin(value, TEMP_RANGE_C), keptWithin(humidity, RH_RANGE_PCT));
    });
    if (known <= most) continue;
    most = known;
    best = {
      airC: airC.map((value, step) => (Number.isNaN(dewC[step] as number) ? Number.NaN : value)),
      dewPointC: dewC,
    };
  }
  return best;
}

/** The past hours that fetches told of: each step from the newest fetch heard by then, or the first after it. */
function fromFeeds(feeds: readonly FeedFetch[], { nowMs, heardByMs }: Moment): OutdoorPast | null {
  const heard = fetchesOf(feeds, nowMs, heardByMs).reverse();
  if (heard.length === 0) return null;
  const airC = new Float64Array(PAST_STEPS + 1).fill(Number.NaN);
  const dewC = new Float64Array(PAST_STEPS + 1).fill(Number.NaN);
  const fromMs = nowMs - PAST_STEPS * STEP_MS;
  // A later fetch knows better of the same hour, so it overwrites.
  for (const fetch of heard) {
    const hours = [...fetch.hours].sort((a, b) => a.atMs - b.atMs);
    for (let index = 0; index + 1 < hours.length; index++) {
      const from = hours[index] as FeedHour;
      const to = hours[index + 1] as FeedHour;
      if (to.atMs - from.atMs > 3 * 3_600_000 || to.atMs <= from.atMs) continue;
      const first = Math.max(0, Math.ceil((from.atMs - fromMs) / STEP_MS));
      const last = Math.min(PAST_STEPS, Math.floor((to.atMs - fromMs) / STEP_MS));
      for (let step = first; step <= last; step++) {
        const share = (fromMs + step * STEP_MS - from.atMs) / (to.atMs - from.atMs);
        airC[step] = from.airC + share * (to.airC - from.airC);
        dewC[step] = from.dewPointC + share * (to.dewPointC - from.dewPointC);
      }
    }
  }
  return airC.every(Number.isNaN) ? null : { airC, dewPointC: dewC };
}

/** What is known of the outdoors lately, and from whom; null when nobody said anything. */
export function outdoorPastOf(log: SiteLog, moment: Moment): { past: OutdoorPast; from: "node" | "feed" } | null {
  const node = fromNodes(log, moment);
  // A node that fell silent three hours ago does not know today's weather.
  if (node !== null && node.airC.subarray(PAST_STEPS - 18).some((value) => !Number.isNaN(value)))
    return { past: node, from: "node" };
  const feed = fromFeeds(log.feeds, moment);
  return feed === null ? null : { past: feed, from: "feed" };
}

/** Air outdoors of the last two days, °C, from the node that said most of it, with or without humidity; null without one. */
export function outdoorAirOf(log: SiteLog, moment: Moment): Float64Array | null {
  let best: Float64Array | null = null;
  let most = 0;
  for (const node of nodesIn(log, [null])) {
    const air = seriesOf(log, [node]).find(({ quantity }) => quantity === "air");
    if (air === undefined) continue;
    const airC = onSteps(air, moment);
    const known = airC.filter((value) => !Number.isNaN(value)).length;
    if (known > most) [best, most] = [airC, known];
  }
  return best;
}
