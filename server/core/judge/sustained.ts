// For how long the limits of the next coat have held without a break.
import type { SheetLimitsNow } from "#core/judge/facts.ts";
import { SUSTAINED_MIN } from "#core/judge/rules/not-sustained.ts";
import { waterAtDewPointGPerKg } from "#core/zone/conditions.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Timeline } from "#core/zone/timeline.ts";

const MINUTE_MS = 60_000;

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

/** The last stretch in which every limit held. */
export interface GoodTime {
  /** null when nothing is known now, or a limit fails. */
  readonly fromMs: number | null;
  readonly lastMs: number;
  /** Its beginning is known: a failure or a gap lies before it, or it is long enough. */
  readonly begun: boolean;
}

/** A gap breaks good time like a failure, and the silence since the last reading is not good time. */
export function goodTimeOf(line: Timeline, limits: SheetLimitsNow, altitudeM: number, nowMs: number): GoodTime {
  let fromMs: number | null = null;
  let lastMs = nowMs;
  for (let index = line.readings - 1; index >= 0; index--) {
    const takenMs = line.atMs[index] as number;
    if (Number.isNaN(line.marginK[index] as number)) continue;
    if ((fromMs ?? nowMs) - takenMs > HOLD_MS) return { fromMs, lastMs, begun: true };
    if (!limitsHoldAt(line, index, limits, altitudeM)) return { fromMs, lastMs, begun: true };
    if (fromMs === null) lastMs = takenMs;
    fromMs = takenMs;
    if (lastMs - takenMs >= SUSTAINED_MIN * MINUTE_MS) return { fromMs, lastMs, begun: true };
  }
  return { fromMs, lastMs, begun: false };
}

/** Minutes of good readings without a break, up to the last one, at most 60; null when nothing is known now. */
export function goodMinOf({ fromMs, lastMs }: Pick<GoodTime, "fromMs" | "lastMs">): number | null {
  if (fromMs === null) return null;
  return lastMs - fromMs >= SUSTAINED_MIN * MINUTE_MS ? SUSTAINED_MIN : (lastMs - fromMs) / MINUTE_MS;
}
