// Edits of a site log for properties of the whole call: what was heard by a time, what fell silent, another order.
import type { JournalEntry } from "#core/zone/journal.ts";
import type { PlainLog, Series } from "#core/zone/site.ts";
import type { Random } from "./random-night.ts";

function kept(series: Series, keep: (index: number) => boolean): Series {
  const only = <T>(list: readonly T[]) => list.filter((_, index) => keep(index));
  return { ...series, atMs: only(series.atMs), values: only(series.values), heardMs: only(series.heardMs) };
}

/** The log as it stood at a moment: series of which nothing had been heard are not there at all. */
export function heardBy(log: PlainLog, byMs: number): PlainLog {
  return {
    ...log,
    journal: log.journal.filter((item: JournalEntry) => item.heardMs <= byMs),
    series: log.series
      .map((item) => kept(item, (index) => (item.heardMs[index] as number) <= byMs))
      .filter((item) => item.atMs.length > 0),
    feeds: log.feeds.filter((fetch) => fetch.fetchedMs <= byMs),
  };
}

/** Without the readings of the last `spanMs`. */
export function withoutLast(log: PlainLog, nowMs: number, spanMs: number): PlainLog {
  return {
    ...log,
    series: log.series.map((item) => kept(item, (index) => (item.atMs[index] as number) <= nowMs - spanMs)),
  };
}

/** Without what some series (`node/quantity`) said after a time. */
export function cutSeries(log: PlainLog, silent: readonly string[], fromMs: number): PlainLog {
  const series = log.series.map((item) =>
    silent.includes(`${item.node}/${item.quantity}`)
      ? kept(item, (index) => (item.atMs[index] as number) < fromMs)
      : item,
  );
  return { ...log, series };
}

function reordered<T>(list: readonly T[], random: Random): T[] {
  return list
    .map((item) => ({ item, place: random() }))
    .sort((a, b) => a.place - b.place)
    .map(({ item }) => item);
}

/** The same log, listed in another order. */
export function shuffled(log: PlainLog, random: Random): PlainLog {
  return {
    ...log,
    sheets: reordered(log.sheets, random),
    nodes: reordered(log.nodes, random),
    journal: reordered(log.journal, random),
    series: reordered(log.series, random),
  };
}
