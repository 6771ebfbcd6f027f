// One series in memory: sorted by time, grown at its end, cut at its beginning.
import { upperIndex } from "#core/zone/heard.ts";
import type { Series } from "#core/zone/site.ts";

export interface LiveSeries extends Series {
  readonly atMs: number[];
  readonly values: number[];
  readonly heardMs: number[];
}

export function emptySeries(node: string, quantity: string): LiveSeries {
  return { node, quantity, atMs: [], values: [], heardMs: [] };
}

export function insertReading(series: LiveSeries, atMs: number, value: number, heardMs: number): void {
  const last = series.atMs.at(-1);
  if (last === undefined || last < atMs) {
    series.atMs.push(atMs);
    series.values.push(value);
    series.heardMs.push(heardMs);
    return;
  }
  const at = upperIndex(series.atMs, atMs);
  if (series.atMs[at - 1] === atMs) return;
  series.atMs.splice(at, 0, atMs);
  series.values.splice(at, 0, value);
  series.heardMs.splice(at, 0, heardMs);
}

/**
 * Drops what lies before `fromMs`, but for the last reading there, and the last there that had been heard by
 * `heardByMs`: a probe that fell silent must not be forgotten. `speaks` names earlier readings that are needed all the same.
 */
export function cutSeries(
  series: LiveSeries,
  fromMs: number,
  heardByMs: number,
  speaks: (atMs: number) => boolean = () => false,
): void {
  const end = upperIndex(series.atMs, fromMs - 1);
  if (end <= 2) return;
  const wanted = new Set(series.atMs.slice(0, end).flatMap((atMs, index) => (speaks(atMs) ? [index] : [])));
  wanted.add(end - 1);
  if ((series.heardMs[end - 1] as number) > heardByMs) {
    let early = end - 1;
    while (early >= 0 && (series.heardMs[early] as number) > heardByMs) early--;
    if (early >= 0) wanted.add(early);
  }
  const keep = [...wanted].sort((a, b) => a - b);
  for (const column of [series.atMs, series.values, series.heardMs]) {
    const kept = keep.map((index) => column[index] as number);
    column.splice(0, end, ...kept);
  }
}
