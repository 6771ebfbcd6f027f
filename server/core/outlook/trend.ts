// A night that departs from the last one: dew point climbing, or slab falling, more than at the same hours of yesterday.
import { type Course, courseOf, type Start } from "#core/outlook/course.ts";
import { nightColumn } from "#core/outlook/nights.ts";
import { type Past, STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";

/** The departure is read over three hours. */
const SPAN_STEPS = 18;
/** A margin that shrinks faster than this against yesterday, K per hour, is a departure and not noise. */
const DEPARTS_K_PER_H = 0.2;
/** It is carried on, fading within some hours: weather fronts pass. Common practice, no source. */
const FADES_H = 6;
/** Belief in it: enough to forbid a pour alone. */
export const TREND_SHARE = 0.12;

type Departing = "slabColdC" | "dewPointC";

/** Change against yesterday over the last three hours, K per hour; 0 where it is not known. */
function departure(past: Past, quantity: Departing): number {
  const now = past.airC.length - 1;
  const against = (index: number) =>
    (past[quantity][index] as number) - (past[quantity][index - STEPS_PER_DAY] as number);
  const kPerH = (against(now) - against(now - SPAN_STEPS)) / ((SPAN_STEPS * STEP_MS) / 3_600_000);
  return Number.isNaN(kPerH) ? 0 : kPerH;
}

/** The course in which the departure goes on; null when the night runs like the last, or better. */
export function trendCourse(past: Past, start: Start, steps: number): Course | null {
  const dewKPerH = Math.max(0, departure(past, "dewPointC"));
  const slabKPerH = Math.min(0, departure(past, "slabColdC"));
  if (dewKPerH - slabKPerH < DEPARTS_K_PER_H) return null;
  const change = {
    slabColdC: nightColumn(past, "slabColdC", 1, steps),
    slabHotC: nightColumn(past, "slabHotC", 1, steps),
    airC: nightColumn(past, "airC", 1, steps),
    dewPointC: nightColumn(past, "dewPointC", 1, steps),
  };
  const carriedH = (step: number) => FADES_H * (1 - Math.exp((-step * STEP_MS) / 3_600_000 / FADES_H));
  return courseOf(1, 1, steps, (quantity, step) => {
    const plain = start[quantity] + (change[quantity][step] as number) - (change[quantity][0] as number);
    if (quantity === "dewPointC") return plain + dewKPerH * carriedH(step);
    return quantity === "airC" ? plain : plain + slabKPerH * carriedH(step);
  });
}
