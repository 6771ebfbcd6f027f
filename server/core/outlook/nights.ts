// Courses from the last two nights: (a) the values of the same hours, and (b) now plus their change since the same hour.
import { type Course, courseOf, type Quantity, type Start } from "#core/outlook/course.ts";
import { type Past, STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import { MEMBER_STEPS } from "#core/outlook/steps-ahead.ts";

const fading = (hours: number) =>
  Float64Array.from({ length: MEMBER_STEPS }, (_, step) => Math.exp((-step * STEP_MS) / (hours * 3_600_000)));
/** How a course of kind (a) goes over from today's value, in some hours, to that of the night it repeats: what is left, by steps. */
const SLAB_LEFT = fading(3);
const AIR_LEFT = fading(1);
const LEFT: Record<Quantity, Float64Array> = {
  slabColdC: SLAB_LEFT,
  slabHotC: SLAB_LEFT,
  airC: AIR_LEFT,
  dewPointC: AIR_LEFT,
};
/** A night with less of it heard than this is not a night to go by. */
export const NIGHT_COVERAGE = 0.7;

/** The past value `days` before step `step` of the future, repeated by whole days where that lies ahead of now. */
function backIndex(past: Past, step: number, days: number): number {
  const now = past.airC.length - 1;
  let index = now + step - days * STEPS_PER_DAY;
  while (index > now) index -= STEPS_PER_DAY;
  return index;
}

function valueOr(past: Past, quantity: Quantity, index: number, otherIndex: number, previous: number): number {
  const value = past[quantity][index] as number;
  if (!Number.isNaN(value)) return value;
  const other = otherIndex >= 0 ? (past[quantity][otherIndex] as number) : Number.NaN;
  return Number.isNaN(other) ? previous : other;
}

/** The night `days` ago, gaps bridged by the other night, else by the last value known. */
export function nightColumn(past: Past, quantity: Quantity, days: number, steps: number): Float64Array {
  const out = new Float64Array(steps);
  let previous = past[quantity][past.airC.length - 1] as number;
  for (let step = 0; step < steps; step++) {
    const index = backIndex(past, step, days);
    const other = days === 1 ? index - STEPS_PER_DAY : index + STEPS_PER_DAY;
    previous = valueOr(past, quantity, index, other < past.airC.length ? other : -1, previous);
    out[step] = previous;
  }
  return out;
}

/**
 * Belief in the night before last, beside last night. For each hour the newest same hour stands first; the older one
 * stays below a tenth, so that it shows in the chance and in the fan but does not alone forbid a pour.
 * Trade judgement, no source.
 */
const OLDER_NIGHT = 0.08;

/** Courses (a) and (b) of each night that was heard well enough; weights sum to 1, none without a night. */
export function nightCourses(past: Past, start: Start, heatOff: boolean): Course[] {
  const nights = [
    ...(past.wholeDay && past.lastDay >= NIGHT_COVERAGE
      ? [{ days: 1, heard: past.lastDay, belief: 1 - OLDER_NIGHT }]
      : []),
    ...(past.dayBefore >= NIGHT_COVERAGE && past.wholeDay && past.lastDay >= NIGHT_COVERAGE
      ? [{ days: 2, heard: past.dayBefore, belief: OLDER_NIGHT }]
      : []),
  ];
  const total = nights.reduce((sum, night) => sum + night.belief, 0);
  const kinds = heatOff ? (["change"] as const) : (["same", "change"] as const);
  return nights.flatMap(({ days, heard, belief }) => {
    const weight = belief / total / kinds.length;
    const column = {
      slabColdC: nightColumn(past, "slabColdC", days, MEMBER_STEPS),
      slabHotC: nightColumn(past, "slabHotC", days, MEMBER_STEPS),
      airC: nightColumn(past, "airC", days, MEMBER_STEPS),
      dewPointC: nightColumn(past, "dewPointC", days, MEMBER_STEPS),
    };
    // What was not heard is not known: a night with gaps is spread wider.
    const wide = 1 + 3 * (1 - heard);
    return kinds.map((kind) =>
      courseOf(weight, wide, MEMBER_STEPS, (quantity, step) => {
        const then = column[quantity][step] as number;
        const offset = start[quantity] - (column[quantity][0] as number);
        return then + offset * (kind === "change" ? 1 : (LEFT[quantity][step] as number));
      }),
    );
  });
}
