// One series in memory: sorted by time, grown at its end, cut at its beginning.
import { upperIndex } from "#core/zone/heard.ts";
import type { Series } from "#core/zone/site.ts";

export interface LiveSeries extends Series {
  /** These two may be those of other series of its node as well: `node-series.ts`. */
  atMs: number[];
  heardMs: number[];
  readonly values: number[];
}

export function emptySeries(node: string, quantity: string): LiveSeries {
  return { node, quantity, atMs: [], values: [], heardMs: [] };
}

/** Where a reading of this time goes; null where one of it stands. */
export function placeOf({ atMs: times }: Pick<LiveSeries, "atMs">, atMs: number): number | null {
  const last = times.at(-1);
  if (last === undefined || last < atMs) return times.length;
  const at = upperIndex(times, atMs);
  return times[at - 1] === atMs ? null : at;
}

export function putAt(column: number[], place: number, value: number): void {
  if (place === column.length) column.push(value);
  else column.splice(place, 0, value);
}

/** For a series whose columns are its own. */
export function insertReading(series: LiveSeries, atMs: number, value: number, heardMs: number): void {
  const place = placeOf(series, atMs);
  if (place === null) return;
  putAt(series.atMs, place, atMs);
  putAt(series.values, place, value);
  putAt(series.heardMs, place, heardMs);
}

/**
 * Drops what lies before `fromMs`, but for the last reading there, and the last there that had been heard by
 * `heardByMs`: a probe that fell silent must not be forgotten. `speaks` names earlier readings that are needed all the same.
 * `others` are the series that have their times in common with this one.
 */
export function cutSeries(
  series: LiveSeries,
  fromMs: number,
  heardByMs: number,
  speaks: (atMs: number) => boolean = () => false,
  others: readonly LiveSeries[] = [],
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
  for (const column of [series.atMs, series.heardMs, series.values, ...others.map(({ values }) => values)]) {
    const kept = keep.map((index) => column[index] as number);
    column.splice(0, end, ...kept);
  }
}
