// What the film on a floor truly went through: earned cure, dew while it was sensitive, and when its window closed.
import type { SheetBody } from "#contract/sheet.ts";
import { hoursOf } from "../night/clocks.ts";
import { type Course, STEP_MS } from "./play.ts";

const HOUR_MS = 3_600_000;
const STEP_H = STEP_MS / HOUR_MS;
const STEP_MIN = STEP_MS / 60_000;
const HOUR_STEPS = HOUR_MS / STEP_MS;

export interface Pour {
  readonly coat: number;
  readonly fromMs: number;
  readonly toMs: number;
}

export interface FilmTruth {
  readonly pour: Pour;
  /** Earned share of the recoat minimum at each step. */
  readonly earned: Float64Array;
  readonly opensMs: number | null;
  /** The earlier of the strict and the integrated closing; null within the course or for a sheet that stays open. */
  readonly closesMs: number | null;
  readonly sensitive: Uint8Array;
  /** Minutes at or below the dew point so far while sensitive; and with the uncertainty of the sensors counted in. */
  readonly dewedMin: Float64Array;
  readonly nearlyDewedMin: Float64Array;
  /** Minutes below the margin limit so far while sensitive and not looked at since; likewise with the uncertainty. */
  readonly belowMin: Float64Array;
  readonly nearlyBelowMin: Float64Array;
}

/** The strict closing: hours at the hottest hour so far, counted from the start of the pour; and the integral. */
export function closesAtMs(sheet: SheetBody, course: Course, fromMs: number): number | null {
  if (sheet.window !== "closes") return null;
  const first = Math.max(0, Math.ceil((fromMs - course.fromMs) / STEP_MS));
  const untilH = hoursOf(sheet, "recoatUntilH");
  let spent = 0;
  let hottestC = Number.NEGATIVE_INFINITY;
  let sum = 0;
  for (let k = first; k < course.length; k++) {
    const hotC = course.hotC[k] as number;
    const atMs = course.fromMs + k * STEP_MS;
    sum += hotC;
    const count = k - first + 1;
    if (count > HOUR_STEPS) sum -= course.hotC[k - HOUR_STEPS] as number;
    const meanC = sum / Math.min(count, HOUR_STEPS);
    hottestC = count < HOUR_STEPS ? meanC : Math.max(count === HOUR_STEPS ? meanC : hottestC, meanC);
    const gain = STEP_H / untilH(hotC);
    const strictMs = fromMs + untilH(hottestC) * HOUR_MS;
    const integratedMs = spent + gain >= 1 ? atMs + ((1 - spent) / gain) * STEP_MS : Number.POSITIVE_INFINITY;
    const closesMs = Math.min(strictMs, integratedMs);
    // A closing that a hotter hour shows to have passed already is known from then on.
    if (closesMs <= atMs + STEP_MS) return Math.max(closesMs, atMs);
    spent += gain;
  }
  return null;
}

/** Walks the film along the course. `uncertaintyK` of the measured margin at each step; `lookedMs`: found clean then. */
export function filmTruth(
  sheet: SheetBody,
  course: Course,
  pour: Pour,
  uncertaintyK: Float64Array,
  lookedMs: readonly number[],
): FilmTruth {
  const column = () => new Float64Array(course.length);
  const [earned, dewedMin, nearlyDewedMin, belowMin, nearlyBelowMin] = [
    column(),
    column(),
    column(),
    column(),
    column(),
  ];
  const sensitive = new Uint8Array(course.length);
  const limitK = sheet.limits.dewMarginK;
  const [recoatH, dewSafeH] = [hoursOf(sheet, "recoatFromH"), hoursOf(sheet, "dewSafeH")];
  let recoat = 0;
  let dewSafe = 0;
  let opensMs: number | null = null;
  const sums = { dewed: 0, nearlyDewed: 0, below: 0, nearlyBelow: 0 };
  for (let k = 0; k < course.length; k++) {
    const atMs = course.fromMs + k * STEP_MS;
    if (atMs >= pour.fromMs) {
      if (atMs >= pour.toMs) {
        const coldC = course.coldC[k] as number;
        recoat += STEP_H / recoatH(coldC);
        dewSafe += STEP_H / dewSafeH(coldC);
        if (recoat >= 1) opensMs ??= atMs;
      }
      if (lookedMs.some((each) => each >= atMs && each < atMs + STEP_MS)) sums.below = sums.nearlyBelow = 0;
      if (dewSafe < 1) {
        const marginK = course.marginK[k] as number;
        const unsureK = uncertaintyK[k] as number;
        sensitive[k] = 1;
        if (marginK <= 0) sums.dewed += STEP_MIN;
        if (marginK <= unsureK) sums.nearlyDewed += STEP_MIN;
        if (marginK < limitK) sums.below += STEP_MIN;
        if (marginK < limitK + unsureK) sums.nearlyBelow += STEP_MIN;
      }
    }
    earned[k] = recoat;
    dewedMin[k] = sums.dewed;
    nearlyDewedMin[k] = sums.nearlyDewed;
    belowMin[k] = sums.below;
    nearlyBelowMin[k] = sums.nearlyBelow;
  }
  return {
    pour,
    earned,
    opensMs,
    closesMs: closesAtMs(sheet, course, pour.fromMs),
    sensitive,
    dewedMin,
    nearlyDewedMin,
    belowMin,
    nearlyBelowMin,
  };
}
