// For how long the limits of the next coat have held without a break.
import type { SheetLimitsNow } from "#core/judge/facts.ts";
import { SUSTAINED_MIN } from "#core/judge/rules/not-sustained.ts";
import { waterAtDewPointGPerKg } from "#core/zone/conditions.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Timeline } from "#core/zone/timeline.ts";

function within(value: number, [min, max]: readonly [number | null, number | null]): boolean {
  return (min === null || value >= min) && (max === null || value <= max);
}

/** True if every limit holds at one point of the timeline. */
export function limitsHoldAt(line: Timeline, index: number, limits: SheetLimitsNow, altitudeM: number): boolean {
  const at = (column: Float64Array) => column[index] as number;
  const air = Number.isNaN(at(line.airMinC))
    ? // A chip that keeps its dew point only says nothing of air and humidity.
      true
    : within(at(line.airMinC), [limits.airC[0], null]) &&
      within(at(line.airMaxC), [null, limits.airC[1]]) &&
      within(at(line.rhMinPct), [limits.rhPct[0], null]) &&
      within(at(line.rhMaxPct), [null, limits.rhPct[1]]);
  const [leastWater, mostWater] = limits.waterGPerKg;
  return (
    air &&
    within(at(line.slabColdC), [limits.slabC[0], null]) &&
    within(at(line.slabHotC), [null, limits.slabC[1]]) &&
    at(line.marginK) >= limits.dewMarginK &&
    (leastWater === null || waterAtDewPointGPerKg(at(line.dewPointMinC), altitudeM) >= leastWater) &&
    (mostWater === null || waterAtDewPointGPerKg(at(line.dewPointC), altitudeM) <= mostWater)
  );
}

/**
 * Minutes of good readings without a break, up to the last one, at most 60; null when nothing is known now. A gap breaks
 * it like a failure, and the silence since the last reading is not good time.
 */
export function sustainedMinOf(
  line: Timeline,
  limits: SheetLimitsNow,
  altitudeM: number,
  nowMs: number,
): number | null {
  let goodFromMs: number | null = null;
  let lastMs = nowMs;
  for (let index = line.readings - 1; index >= 0; index--) {
    const takenMs = line.atMs[index] as number;
    if (Number.isNaN(line.marginK[index] as number)) continue;
    if ((goodFromMs ?? nowMs) - takenMs > HOLD_MS) break;
    if (!limitsHoldAt(line, index, limits, altitudeM)) break;
    if (goodFromMs === null) lastMs = takenMs;
    goodFromMs = takenMs;
    if (lastMs - takenMs >= SUSTAINED_MIN * 60_000) return SUSTAINED_MIN;
  }
  return goodFromMs === null ? null : (lastMs - goodFromMs) / 60_000;
}
