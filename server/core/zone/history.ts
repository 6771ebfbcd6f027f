// Past conditions of a zone on equal steps, for strips and charts. Gaps stay gaps.
import type { SiteLog } from "#core/zone/site.ts";
import { zoneState } from "#core/zone/state.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Timeline } from "#core/zone/timeline.ts";

export interface ConditionsHistory {
  readonly fromMs: number;
  readonly stepMs: number;
  readonly slabColdC: readonly (number | null)[];
  readonly slabHotC: readonly (number | null)[];
  readonly airC: readonly (number | null)[];
  readonly rhPct: readonly (number | null)[];
  readonly dewPointC: readonly (number | null)[];
  readonly marginK: readonly (number | null)[];
}

/** Value of one column at each step: the last reading not after it, held as long as a reading speaks. */
function sampled(line: Timeline, column: Float64Array, times: readonly number[]): (number | null)[] {
  let index = -1;
  return times.map((atMs) => {
    while (index + 1 < line.readings && (line.atMs[index + 1] as number) <= atMs) index++;
    if (index < 0 || atMs - (line.atMs[index] as number) > HOLD_MS) return null;
    const value = column[index] as number;
    return Number.isNaN(value) ? null : value;
  });
}

const timesFrom = (fromMs: number, toMs: number, stepMs: number): number[] =>
  Array.from({ length: Math.max(0, Math.floor((toMs - fromMs) / stepMs) + 1) }, (_, step) => fromMs + step * stepMs);

/** Margins at the start of each step, K, by a timeline that is there already. */
export function marginsOf(line: Timeline, fromMs: number, toMs: number, stepMs: number): (number | null)[] {
  return sampled(line, line.marginK, timesFrom(fromMs, toMs, stepMs));
}

/**
 * Conditions at the start of each step from `fromMs` to `toMs`, from what had been heard by `heardByMs`.
 * The judge's own look-back bounds it: two days, or since the last pour.
 */
export function conditionsHistory(
  log: SiteLog,
  zone: string,
  fromMs: number,
  toMs: number,
  stepMs: number,
  heardByMs: number,
): ConditionsHistory {
  const { line } = zoneState(log, zone, { nowMs: Math.max(toMs, fromMs), heardByMs });
  const times = timesFrom(fromMs, toMs, stepMs);
  return {
    fromMs,
    stepMs,
    slabColdC: sampled(line, line.slabColdC, times),
    slabHotC: sampled(line, line.slabHotC, times),
    airC: sampled(line, line.airMinC, times),
    rhPct: sampled(line, line.rhMaxPct, times),
    dewPointC: sampled(line, line.dewPointC, times),
    marginK: sampled(line, line.marginK, times),
  };
}
