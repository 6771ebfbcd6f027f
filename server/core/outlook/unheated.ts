// Heat: whether the air falls as the building does without it, and the course it then takes.
import { type Course, courseOf, type Start } from "#core/outlook/course.ts";
import { type Past, STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";

/** Air falling by more than this over the last two hours, K per hour, while colder than a day ago. Common practice, no source. */
const FALLS_K_PER_H = 0.25;
const COLDER_THAN_YESTERDAY_K = 1.5;
/** An unheated hall in winter: the air sinks towards the outdoors, the slab slowly after it. Common practice, no source. */
const AIR_FALL_H = 6;
const SLAB_FALL_H = 20;
const OUTDOORS_BELOW_K = 10;

/** True if the air now falls as it does without heat. */
export function airFallsUnheated(past: Past): boolean {
  const now = past.airC.length - 1;
  const nowC = past.airC[now] as number;
  const agoC = past.airC[now - 12] as number;
  const yesterdayC = past.airC[now - STEPS_PER_DAY] as number;
  return (nowC - agoC) / 2 < -FALLS_K_PER_H && nowC < yesterdayC - COLDER_THAN_YESTERDAY_K;
}

/**
 * The course without heat from step `offStep` on, until then as now: air towards `outdoorC` (or well below now, if unknown), slab after it,
 * dew point as now.
 */
export function unheatedCourse(
  weight: number,
  wide: number,
  start: Start,
  steps: number,
  outdoorC: number | null,
  offStep = 0,
): Course {
  const floorC = outdoorC ?? start.airC - OUTDOORS_BELOW_K;
  const air = new Float64Array(steps);
  const dropC = new Float64Array(steps);
  let slabC = start.slabColdC;
  for (let step = 0; step < steps; step++) {
    const hours = (Math.max(0, step - offStep) * STEP_MS) / 3_600_000;
    const fallenC = floorC + (start.airC - floorC) * Math.exp(-hours / AIR_FALL_H);
    air[step] = Math.min(start.airC, fallenC);
    if (step > 0)
      slabC += ((Math.min(air[step] as number, start.slabColdC) - slabC) * STEP_MS) / (SLAB_FALL_H * 3_600_000);
    dropC[step] = slabC - start.slabColdC;
  }
  return courseOf(weight, wide, steps, (quantity, step) => {
    const airC = air[step] as number;
    if (quantity === "airC") return airC;
    if (quantity === "dewPointC") return Math.min(start.dewPointC, airC);
    return start[quantity] + (dropC[step] as number);
  });
}
