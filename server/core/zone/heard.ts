// What the log knew at a moment: journal entries and readings that had been heard by then, nothing later.
import type { JournalEntry } from "#core/zone/journal.ts";
import type { Column, LogSeries, SiteLog } from "#core/zone/site.ts";

/** A moment of judging: what had happened by `nowMs`, as far as it had been heard by `heardByMs`. */
export interface Moment {
  readonly nowMs: number;
  readonly heardByMs: number;
}

/** Entries heard by `heardByMs` that nobody has taken back since; taking back an undoing lets the first entry stand again. */
export function standingEntries(journal: readonly JournalEntry[], heardByMs: number): readonly JournalEntry[] {
  const heard = journal.filter((entry) => entry.heardMs <= heardByMs);
  const undoers = heard.filter((entry) => entry.undoes !== undefined).sort((a, b) => b.heardMs - a.heardMs);
  const undone = new Set<string>();
  for (const entry of undoers) if (!undone.has(entry.id)) undone.add(entry.undoes as string);
  return heard.filter((entry) => !undone.has(entry.id));
}

/** Entries that had happened and been heard, oldest first, without those taken back by a later entry. */
export function entriesAt({ journal }: Pick<SiteLog, "journal">, moment: Moment): readonly JournalEntry[] {
  return standingEntries(journal, moment.heardByMs)
    .filter((entry) => entry.atMs <= moment.nowMs && entry.did !== "undone")
    .map((entry, index) => ({ entry, index }))
    .sort((a, b) => a.entry.atMs - b.entry.atMs || a.entry.heardMs - b.entry.heardMs || a.index - b.index)
    .map(({ entry }) => entry);
}

/** One quantity of one probe, as plain arrays, oldest first. */
export interface Track {
  readonly node: string;
  readonly quantity: string;
  readonly atMs: readonly number[];
  readonly values: readonly number[];
}

/** First index whose time is after `atMs`. */
export function upperIndex(times: readonly number[], atMs: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((times[middle] as number) <= atMs) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The same in a column of a series. */
export function upperPlace(times: Column, atMs: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((times.at(middle) as number) <= atMs) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** A track, and what it was taken from. */
export interface Taken {
  readonly series: LogSeries;
  readonly fromMs: number;
  readonly track: Track;
}

/**
 * Readings of a series from `fromMs` to now that had been heard, plus the last one before `fromMs`: a probe that fell
 * silent long ago must not be forgotten. `beside`, of the same moment, lends its times where both series have them in common.
 */
export function trackAt(series: LogSeries, moment: Moment, fromMs: number, beside: Taken | null = null): Track {
  const end = upperPlace(series.atMs, moment.nowMs);
  let start = Math.max(0, upperPlace(series.atMs, fromMs - 1) - 1);
  const { most = Number.POSITIVE_INFINITY } = series.heardMs;
  const isLate = (heardMs: number) => heardMs > moment.heardByMs;
  let heardMs = most <= moment.heardByMs ? [] : series.heardMs.slice(start, end);
  if (!heardMs.some(isLate)) {
    const isPack =
      beside?.fromMs === fromMs && beside.series.atMs === series.atMs && beside.series.heardMs === series.heardMs;
    return {
      node: series.node,
      quantity: series.quantity,
      atMs: isPack ? beside.track.atMs : series.atMs.slice(start, end),
      values: series.values.slice(start, end),
    };
  }
  // The last reading before the stretch that had been heard may lie further back.
  const first = start;
  while (start > 0 && isLate(series.heardMs.at(start) as number)) start--;
  if (start < first) heardMs = series.heardMs.slice(start, end);
  const atMs = series.atMs.slice(start, end);
  const values = series.values.slice(start, end);
  let kept = 0;
  for (let index = 0; index < heardMs.length; index++) {
    if (isLate(heardMs[index] as number)) continue;
    atMs[kept] = atMs[index] as number;
    values[kept++] = values[index] as number;
  }
  atMs.length = kept;
  values.length = kept;
  return { node: series.node, quantity: series.quantity, atMs, values };
}

/** Index of the last time not after `atMs`, or -1. */
export function lastIndexAt(times: readonly number[], atMs: number): number {
  return upperIndex(times, atMs) - 1;
}
