// The plain outlook: the last two nights bracketed by the worse, the outdoors where known, spread by what is not known.
import { believedFeed } from "#core/outlook/believed-feed.ts";
import { type Course, QUANTITIES, type Start } from "#core/outlook/course.ts";
import { nightCourses } from "#core/outlook/nights.ts";
import type { Outlook, OutlookBasis, OutlookMember } from "#core/outlook/outlook.ts";
import { feedCourse, typedCourses } from "#core/outlook/outdoors.ts";
import { pastOf, STEP_MS } from "#core/outlook/past.ts";
import { MEMBER_STEPS, OUTLOOK_STEPS } from "#core/outlook/steps-ahead.ts";
import { TREND_SHARE, trendCourse } from "#core/outlook/trend.ts";
import { heatEndsStep, loggedHeat } from "#core/outlook/heat-log.ts";
import { airFallsUnheated, unheatedCourse } from "#core/outlook/unheated.ts";
import { nodesIn, seriesOf } from "#core/zone/site-parts.ts";
import type { ZoneState } from "#core/zone/state.ts";

/** Standard normal values that stand for fifths of belief. */
const SPREAD = [-1.2816, -0.5244, 0, 0.5244, 1.2816] as const;
/** Spread of dew point and slab, K: what a night differs from the one before. Common practice, no source. */
const DEW_POINT_SPREAD_K = { base: 0.15, perRootHour: 0.1 } as const;
const SLAB_SPREAD_K = { base: 0.1, perRootHour: 0.05 } as const;
const ROOT_HOURS = Float64Array.from({ length: MEMBER_STEPS }, (_, step) => Math.sqrt((step * STEP_MS) / 3_600_000));

/** A typed night that ends sooner than this says nothing of the night ahead. Common practice, no source. */
const TYPED_LEAST_MS = 6 * 3_600_000;

function spread(course: Course, z: number): OutlookMember {
  const { weight, wide, airC } = course;
  const length = airC.length;
  const moved = (column: Float64Array, kind: { base: number; perRootHour: number }, sign: number) => {
    const out = column.slice();
    for (let step = 1; step < length; step++) {
      const spreadK = kind.base + kind.perRootHour * (ROOT_HOURS[step] as number);
      out[step] = (column[step] as number) + sign * z * wide * spreadK;
    }
    return out;
  };
  return {
    weight: weight / SPREAD.length,
    slabColdC: moved(course.slabColdC, SLAB_SPREAD_K, -1),
    // Hottest and coldest spot move together.
    slabHotC: moved(course.slabHotC, SLAB_SPREAD_K, -1),
    airC,
    dewPointC: moved(course.dewPointC, DEW_POINT_SPREAD_K, 1),
  };
}

function startOf(state: ZoneState): Start | null {
  const { slabColdC, slabHotC, airMinC, dewPointC } = state.conditions;
  return slabColdC === null || slabHotC === null || airMinC === null || dewPointC === null
    ? null
    : { slabColdC, slabHotC, airC: airMinC, dewPointC };
}

/** Latest air temperature of the coldest outdoor node heard in the last hour; null without one. */
function outdoorC(state: ZoneState): number | null {
  const { log, moment } = state;
  let coldest: number | null = null;
  for (const series of seriesOf(log, nodesIn(log, [null]))) {
    if (series.quantity !== "air") continue;
    for (let index = series.atMs.length - 1; index >= 0; index--) {
      const atMs = series.atMs.at(index) as number;
      if (moment.nowMs - atMs > 3_600_000) break;
      if (atMs > moment.nowMs || (series.heardMs.at(index) as number) > moment.heardByMs) continue;
      coldest = Math.min(coldest ?? Number.POSITIVE_INFINITY, series.values.at(index) as number);
      break;
    }
  }
  return coldest;
}

function weighted(courses: readonly Course[], share: number): Course[] {
  const sum = courses.reduce((total, course) => total + course.weight, 0);
  return courses.map((course) => ({ ...course, weight: (course.weight / sum) * share }));
}

/** The outlook of a zone; null when nothing supports one: no night heard, no feed, nothing typed, or no conditions now. */
export function plainOutlook(state: ZoneState): Outlook | null {
  const start = startOf(state);
  if (start === null) return null;
  const { nowMs } = state.moment;
  const past = pastOf(state.line, nowMs);
  const basis: OutlookBasis[] = [];
  const heat = loggedHeat(state.record.heating, nowMs);
  const heatOff = heat === false || airFallsUnheated(past);
  const groups: { courses: Course[]; share: number }[] = [];
  const nights = nightCourses(past, start, heatOff);
  if (nights.length > 0) {
    basis.push("two-nights");
    const trend = trendCourse(past, start, MEMBER_STEPS);
    groups.push({
      courses: trend === null ? nights : [...weighted(nights, 1 - TREND_SHARE), { ...trend, weight: TREND_SHARE }],
      share: 1,
    });
  }
  const feed = believedFeed(state.log, state.moment);
  const course = feed === null ? null : feedCourse(1, feed, start, nowMs, MEMBER_STEPS);
  if (course !== null) {
    basis.push("feed");
    groups.push({ courses: [course], share: 0.5 });
  }
  const typed = state.record.forecast;
  if (typed !== null && typed.untilMs >= nowMs + TYPED_LEAST_MS) {
    basis.push("typed");
    groups.push({
      courses: typedCourses(1, typed.lowC, typed.dewPointC, start, MEMBER_STEPS, heat === true),
      share: 0.5,
    });
  }
  if (groups.length === 0) return null;
  if (heatOff) {
    basis.push("heat-off");
    groups.push({ courses: [unheatedCourse(1, 1.5, start, MEMBER_STEPS, outdoorC(state))], share: 1 });
  }
  const endsStep = heatOff ? null : heatEndsStep(state.record.heating, nowMs);
  if (endsStep !== null && endsStep < MEMBER_STEPS) {
    basis.push("heating-plan");
    groups.push({ courses: [unheatedCourse(1, 1.5, start, MEMBER_STEPS, outdoorC(state), endsStep)], share: 1 });
  }
  const total = groups.reduce((sum, group) => sum + group.share, 0);
  const courses = groups.flatMap((group) => weighted(group.courses, group.share / total));
  const members = courses.flatMap((item) => SPREAD.map((z) => spread(item, z)));
  if (members.some((member) => QUANTITIES.some((quantity) => Number.isNaN(member[quantity][0] as number)))) return null;
  const feedFetchedMs = feed === null || course === null ? null : feed.fetchedMs;
  return { fromMs: nowMs, stepMs: STEP_MS, steps: OUTLOOK_STEPS, basis, feedFetchedMs, members };
}
