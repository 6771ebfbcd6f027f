// One series in memory: sorted by time, grown at its end, cut at its beginning.
import { upperPlace } from "#core/zone/heard.ts";
import type { Column, Series } from "#core/zone/site.ts";
import { type LiveColumn, Shelf } from "./columns.ts";

export interface LiveSeries extends Series<LiveColumn> {
  /** These two may be those of other series of its node as well: `node-series.ts`. */
  atMs: LiveColumn;
  heardMs: LiveColumn;
  readonly values: LiveColumn;
}

/** `shelf`: that of its node, where it has one. */
export function emptySeries(node: string, quantity: string, shelf = new Shelf()): LiveSeries {
  return { node, quantity, atMs: shelf.times(), values: shelf.values(), heardMs: shelf.times() };
}

/** A series with readings in the order of their times. */
export function filledSeries(
  node: string,
  quantity: string,
  readings: Record<"atMs" | "values" | "heardMs", readonly number[]>,
): LiveSeries {
  const series = emptySeries(node, quantity);
  for (const column of ["atMs", "values", "heardMs"] as const) series[column].fill(readings[column]);
  return series;
}

/** Where a reading of this time goes; null where one of it stands. */
export function placeOf({ atMs: times }: { readonly atMs: Column }, atMs: number): number | null {
  const last = times.at(-1);
  if (last === undefined || last < atMs) return times.length;
  const at = upperPlace(times, atMs);
  return times.at(at - 1) === atMs && at > 0 ? null : at;
}

/** For a series whose columns are its own. */
export function insertReading(series: LiveSeries, atMs: number, value: number, heardMs: number): void {
  const place = placeOf(series, atMs);
  if (place === null) return;
  series.atMs.insert(place, atMs);
  series.values.insert(place, value);
  series.heardMs.insert(place, heardMs);
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
  const end = upperPlace(series.atMs, fromMs - 1);
  if (end <= 2) return;
  const wanted = new Set(series.atMs.slice(0, end).flatMap((atMs, index) => (speaks(atMs) ? [index] : [])));
  wanted.add(end - 1);
  if ((series.heardMs.at(end - 1) as number) > heardByMs) {
    let early = end - 1;
    while (early >= 0 && (series.heardMs.at(early) as number) > heardByMs) early--;
    if (early >= 0) wanted.add(early);
  }
  const keep = [...wanted].sort((a, b) => a - b);
  for (const column of [series.atMs, series.heardMs, series.values, ...others.map(({ values }) => values)])
    column.cut(end, keep);
}
