// What a coat laid at a moment would truly meet until it is past dew.
import type { SheetBody } from "#contract/sheet.ts";
import { hoursOf } from "../night/clocks.ts";
import { type Course, STEP_MS } from "./play.ts";

const STEP_H = STEP_MS / 3_600_000;
const STEP_MIN = STEP_MS / 60_000;
/** A coat that is not past dew after so long was laid too cold: its night does not hold, and later weather is not its fault. */
const LONGEST_H = 36;
/** A margin this much below its limit is harm, less is a matter of sensors. */
const SOFT_K = 0.5;

export interface NightTruth {
  /** Step at which the coat is past dew; null if not within 36 h of its pour or not within the course. */
  readonly endStep: number | null;
  readonly lowestMarginK: number;
  readonly coldestC: number;
  /** Minutes at or below the dew point, and more than half a kelvin below the margin limit. */
  readonly dewedMin: number;
  readonly softMin: number;
  /** Margin limit and least slab temperature hold throughout. */
  readonly holds: boolean;
}

/** Hours of the dew-safe time earned in each step, so that many starts share one reckoning. */
export function dewSafeGains(sheet: SheetBody, course: Course): Float64Array {
  const dewSafeH = hoursOf(sheet, "dewSafeH");
  return course.coldC.map((slabC) => STEP_H / dewSafeH(slabC));
}

/** Pour and dew-sensitive time of a coat whose pour starts at step `start` and takes `pourSteps`. */
export function nightTruth(
  sheet: SheetBody,
  course: Course,
  gains: Float64Array,
  start: number,
  pourSteps: number,
): NightTruth {
  const limitK = sheet.limits.dewMarginK;
  const leastC = sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY;
  let earned = 0;
  let lowestMarginK = Number.POSITIVE_INFINITY;
  let coldestC = Number.POSITIVE_INFINITY;
  let dewedMin = 0;
  let softMin = 0;
  let endStep: number | null = null;
  const last = Math.min(course.length - 1, start + pourSteps + LONGEST_H / STEP_H);
  for (let k = start; k <= last; k++) {
    const marginK = course.marginK[k] as number;
    lowestMarginK = Math.min(lowestMarginK, marginK);
    coldestC = Math.min(coldestC, course.coldC[k] as number);
    if (marginK <= 0) dewedMin += STEP_MIN;
    if (marginK < limitK - SOFT_K) softMin += STEP_MIN;
    if (k < start + pourSteps) continue;
    earned += gains[k] as number;
    if (earned >= 1) {
      endStep = k;
      break;
    }
  }
  const holds = endStep !== null && lowestMarginK >= limitK && coldestC >= leastC;
  return { endStep, lowestMarginK, coldestC, dewedMin, softMin, holds };
}
