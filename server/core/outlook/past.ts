// The last two days of a zone on equal steps, from which the plain outlook is made.
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Timeline } from "#core/zone/timeline.ts";

export const STEP_MS = 10 * 60_000;
export const STEPS_PER_DAY = 144;
/** Two nights on steps that end now. */
export const PAST_STEPS = 2 * STEPS_PER_DAY;

/** Arrays of `PAST_STEPS + 1` values; the last is now, NaN where nothing was heard. */
export interface Past {
  readonly slabColdC: Float64Array;
  readonly slabHotC: Float64Array;
  readonly airC: Float64Array;
  readonly dewPointC: Float64Array;
  /** Share of the steps of the last day, and of the day before, at which all was known. */
  readonly lastDay: number;
  readonly dayBefore: number;
  /** Something was heard a day ago or before: there is a whole day to go by. */
  readonly wholeDay: boolean;
}

const COLUMNS = ["slabColdC", "slabHotC", "airC", "dewPointC"] as const;

/** Value between two readings that lie no further apart than a reading speaks; NaN in a gap. */
function fill(line: Timeline, source: Float64Array, nowMs: number): Float64Array {
  const out = new Float64Array(PAST_STEPS + 1).fill(Number.NaN);
  let before = -1;
  let after = 0;
  for (let step = 0; step <= PAST_STEPS; step++) {
    const atMs = nowMs - (PAST_STEPS - step) * STEP_MS;
    while (after < line.readings && (line.atMs[after] as number) <= atMs) {
      if (!Number.isNaN(source[after] as number)) before = after;
      after++;
    }
    if (before < 0) continue;
    let next = after;
    while (next < line.readings && Number.isNaN(source[next] as number)) next++;
    const beforeMs = line.atMs[before] as number;
    const nextMs = next < line.readings ? (line.atMs[next] as number) : Number.POSITIVE_INFINITY;
    const from = source[before] as number;
    if (nextMs - beforeMs <= HOLD_MS) {
      out[step] = from + (((source[next] as number) - from) * (atMs - beforeMs)) / (nextMs - beforeMs);
    } else if (atMs - beforeMs <= HOLD_MS) out[step] = from;
  }
  return out;
}

function coverage(columns: readonly Float64Array[], from: number, to: number): number {
  let known = 0;
  for (let step = from; step < to; step++)
    if (columns.every((column) => !Number.isNaN(column[step] as number))) known++;
  return known / (to - from);
}

/** The past on steps that end at `nowMs`. */
export function pastOf(line: Timeline, nowMs: number): Past {
  const sources = { slabColdC: line.slabColdC, slabHotC: line.slabHotC, airC: line.airMinC, dewPointC: line.dewPointC };
  const [slabColdC, slabHotC, airC, dewPointC] = COLUMNS.map((name) => fill(line, sources[name], nowMs)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const columns = [slabColdC, slabHotC, airC, dewPointC];
  return {
    slabColdC,
    slabHotC,
    airC,
    dewPointC,
    lastDay: coverage(columns, STEPS_PER_DAY, 2 * STEPS_PER_DAY),
    dayBefore: coverage(columns, 0, STEPS_PER_DAY),
    wholeDay: columns.every((column) => column.subarray(0, STEPS_PER_DAY + 1).some((value) => !Number.isNaN(value))),
  };
}
