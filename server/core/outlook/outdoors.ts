// Courses from what is known of the outdoors: a weather feed, or tonight's low and dew point typed by a person.
import { type Course, courseOf, type Start } from "#core/outlook/course.ts";
import { STEP_MS } from "#core/outlook/past.ts";
import { unheatedCourse } from "#core/outlook/unheated.ts";
import type { FeedFetch, FeedHour } from "#core/zone/site.ts";

/** How much of an outdoor change an indoor slab and air show, and how late. Common practice, no source. */
const AIR_SHARE = 0.6;
const SLAB_SHARE = 0.4;
const SLAB_LAG_H = 12;
/** A typed night is a guess: spread wide. */
const TYPED_WIDE = 2;
const FEED_WIDE = 1.5;
/** Outdoor dew point comes in with the air that leaks in, within some hours. */
const LEAK_H = 3;

function feedAt(hours: readonly FeedHour[], atMs: number): FeedHour | null {
  const after = hours.findIndex((hour) => hour.atMs >= atMs);
  const next = hours[after];
  if (next === undefined) return null;
  const before = hours[after - 1];
  if (before === undefined) return next.atMs - atMs <= 3_600_000 ? next : null;
  if (next.atMs - before.atMs > 3 * 3_600_000) return null;
  const share = (atMs - before.atMs) / (next.atMs - before.atMs);
  return {
    atMs,
    airC: before.airC + share * (next.airC - before.airC),
    dewPointC: before.dewPointC + share * (next.dewPointC - before.dewPointC),
  };
}

/** A course by the changes of the feed; null if the feed does not cover now and the next 12 h. */
export function feedCourse(weight: number, feed: FeedFetch, start: Start, nowMs: number, steps: number): Course | null {
  const hours = [...feed.hours].sort((a, b) => a.atMs - b.atMs);
  const now = feedAt(hours, nowMs);
  if (now === null || feedAt(hours, nowMs + 12 * 3_600_000) === null) return null;
  const airK = new Float64Array(steps);
  const dewK = new Float64Array(steps);
  const slabK = new Float64Array(steps);
  let last = now;
  for (let step = 1; step < steps; step++) {
    last = feedAt(hours, nowMs + step * STEP_MS) ?? last;
    airK[step] = AIR_SHARE * (last.airC - now.airC);
    dewK[step] = last.dewPointC - now.dewPointC;
    const goalK = SLAB_SHARE * (last.airC - now.airC);
    slabK[step] =
      (slabK[step - 1] as number) + ((goalK - (slabK[step - 1] as number)) * STEP_MS) / (SLAB_LAG_H * 3_600_000);
  }
  return courseOf(weight, FEED_WIDE, steps, (quantity, step) => {
    if (quantity === "airC") return start.airC + (airK[step] as number);
    if (quantity === "dewPointC") return start.dewPointC + (dewK[step] as number);
    return start[quantity] + (slabK[step] as number);
  });
}

/**
 * Two courses from a typed low and dew point: one in which the heat holds, one in which it does not. Only heat that
 * stands in the journal is relied upon.
 */
export function typedCourses(
  weight: number,
  lowC: number,
  dewPointC: number,
  start: Start,
  steps: number,
  heated: boolean,
): Course[] {
  const holds = heated ? 0.95 : 0.5;
  const wetter = Math.max(start.dewPointC, dewPointC);
  const leaking = (step: number) =>
    wetter - (wetter - start.dewPointC) * Math.exp((-step * STEP_MS) / (LEAK_H * 3_600_000));
  const warm = courseOf(weight * holds, TYPED_WIDE, steps, (quantity, step) =>
    quantity === "dewPointC" ? leaking(step) : start[quantity],
  );
  const cold = unheatedCourse(weight * (1 - holds), TYPED_WIDE, start, steps, lowC);
  const cooled = courseOf(cold.weight, TYPED_WIDE, steps, (quantity, step) =>
    quantity === "dewPointC" ? Math.min(leaking(step), cold.airC[step] as number) : (cold[quantity][step] as number),
  );
  return [warm, cooled];
}
