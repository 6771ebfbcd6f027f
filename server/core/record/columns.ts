// Conditions of a stretch as columns: one row in five minutes, each a moment that was really read. Gaps stay gaps.
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Timeline } from "#core/zone/timeline.ts";

/** One row in this time, as an inspector's log asks for at most. Common practice, no source. */
export const ROW_MS = 5 * 60_000;

export interface ConditionColumns {
  readonly atMs: number[];
  readonly slabColdC: (number | null)[];
  readonly slabHotC: (number | null)[];
  readonly airC: (number | null)[];
  readonly rhPct: (number | null)[];
  readonly dewPointC: (number | null)[];
  readonly marginK: (number | null)[];
}

export function noColumns(): ConditionColumns {
  return { atMs: [], slabColdC: [], slabHotC: [], airC: [], rhPct: [], dewPointC: [], marginK: [] };
}

const known = (value: number | undefined): number | null =>
  value === undefined || Number.isNaN(value) ? null : Math.round(value * 100) / 100;

function push(columns: ConditionColumns, line: Timeline, index: number): void {
  columns.atMs.push(line.atMs[index] as number);
  columns.slabColdC.push(known(line.slabColdC[index]));
  columns.slabHotC.push(known(line.slabHotC[index]));
  columns.airC.push(known(line.airMinC[index]));
  columns.rhPct.push(known(line.rhMaxPct[index]));
  columns.dewPointC.push(known(line.dewPointC[index]));
  columns.marginK.push(known(line.marginK[index]));
}

function pushEmpty(columns: ConditionColumns, atMs: number): void {
  for (const column of Object.values(columns) as (number | null)[][]) column.push(null);
  columns.atMs[columns.atMs.length - 1] = atMs;
}

/** The row that speaks for a step: that of the lowest margin, since the worst moment must not fall between two rows. */
function worst(line: Timeline, from: number, to: number): number {
  let best = from;
  for (let index = from; index < to; index++) {
    const marginK = line.marginK[index] as number;
    const bestK = line.marginK[best] as number;
    if (Number.isNaN(bestK) || marginK < bestK) best = index;
  }
  return best;
}

/** Appends the rows from `fromMs` (included) to `toMs`; an empty row stands where a gap begins. */
export function appendColumns(columns: ConditionColumns, line: Timeline, fromMs: number, toMs: number): void {
  let index = 0;
  while (index < line.readings && (line.atMs[index] as number) < fromMs) index++;
  while (index < line.readings && (line.atMs[index] as number) <= toMs) {
    const step = Math.floor((line.atMs[index] as number) / ROW_MS);
    let end = index;
    while (
      end < line.readings &&
      Math.floor((line.atMs[end] as number) / ROW_MS) === step &&
      (line.atMs[end] as number) <= toMs
    )
      end++;
    const row = worst(line, index, end);
    const lastMs = columns.atMs.at(-1);
    if (lastMs !== undefined && (line.atMs[row] as number) - lastMs > HOLD_MS) pushEmpty(columns, lastMs + HOLD_MS);
    push(columns, line, row);
    index = end;
  }
}
