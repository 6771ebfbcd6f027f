// Whether the limits of the next sheet truly hold, bare or with something to spare, and for how long they have held.
import type { SheetBody } from "#contract/sheet.ts";
import { pressureAtPa, saturationOverWaterPa, waterKgPerKg } from "../building/vapour.ts";
import { type Course, STEP_MS } from "./play.ts";

const STEP_MIN = STEP_MS / 60_000;
const VAPOUR_J_PER_KG_K = 461.5;
const LATENT_J_PER_KG = 2.5e6;

export interface Accuracy {
  readonly slabK: number;
  readonly airK: number;
  readonly rhPct: number;
}

/** What must be left over: temperatures, humidity, and the margin at each step. */
export interface Spare {
  readonly slabK: number;
  readonly airK: number;
  readonly rhPct: number;
  readonly marginK: (step: number) => number;
}
export const NO_SPARE: Spare = { slabK: 0, airK: 0, rhPct: 0, marginK: () => 0 };

/** Uncertainty of a measured margin at each step, K: slab, air and humidity through Clausius and Clapeyron. */
export function marginUncertaintyK(course: Course, accuracy: Accuracy): Float64Array {
  return course.dewPointC.map((dewPointC, k) => {
    const dewK = dewPointC + 273.15;
    const perPct = (VAPOUR_J_PER_KG_K * dewK ** 2) / LATENT_J_PER_KG / Math.max(5, course.rhPct[k] as number);
    const perK = (dewK / ((course.airC[k] as number) + 273.15)) ** 2;
    return Math.hypot(accuracy.slabK, accuracy.airK * perK, accuracy.rhPct * perPct);
  });
}

function within(value: number, [min, max]: readonly [number | null, number | null], spare: number): boolean {
  return (min === null || value >= min + spare) && (max === null || value <= max - spare);
}

/** True if every limit of the sheet holds at a step; `limitK` is the margin limit that governs there. */
export function limitsHold(
  sheet: SheetBody,
  course: Course,
  altitudeM: number,
  k: number,
  limitK: number,
  spare: Spare,
): boolean {
  const at = (column: Float64Array) => column[k] as number;
  const { slabC, airC, rhPct, waterGPerKg } = sheet.limits;
  const water = 1000 * waterKgPerKg(saturationOverWaterPa(at(course.dewPointC)), pressureAtPa(altitudeM));
  return (
    within(at(course.coldC), [slabC[0], null], spare.slabK) &&
    within(at(course.hotC), [null, slabC[1]], spare.slabK) &&
    within(at(course.airC), airC, spare.airK) &&
    within(at(course.rhPct), rhPct, spare.rhPct) &&
    within(water, waterGPerKg, (water * spare.rhPct) / Math.max(5, at(course.rhPct))) &&
    at(course.marginK) >= limitK + spare.marginK(k)
  );
}

/** Minutes for which `holds` has been true without a break, at each step. */
export function heldMin(length: number, holds: (step: number) => boolean): Float64Array {
  const out = new Float64Array(length);
  let since = -1;
  for (let k = 0; k < length; k++) {
    if (!holds(k)) since = -1;
    else if (since < 0) since = k;
    out[k] = since < 0 ? -1 : (k - since) * STEP_MIN;
  }
  return out;
}
