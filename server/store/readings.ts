// Readings in the embedded database, keyed by series and time.
import { dayOf } from "#core/record/chain.ts";
import type { KeptDays } from "./kept-days.ts";
import type { Outbox } from "./outbox.ts";
import type { ReadRange } from "./read-range.ts";
import type { ReadSums } from "./read-sums.ts";
import type { Database, Prepared } from "./sql.ts";
import { bucketsOf } from "./steps.ts";
import { KnownTimes } from "./known-times.ts";
import type { Sums } from "./sums.ts";
import type { HeardReading, Landed, ReadingStore } from "./ports.ts";

interface Series {
  readonly id: number;
  /** Null until readings of it come. */
  times: KnownTimes | null;
}

type Numbers = readonly [atMs: number, value: number, heardMs: number];

/** Rows of one statement. With a statement for each row the way into the engine takes twice as long as the engine. */
const AT_ONCE: readonly number[] = [64, 16, 4];
/** Series, time, value. When they were heard is mostly the same of all. */
const OWN_COLUMNS = 3;

export interface ReadingParts {
  readonly days: KeptDays;
  readonly outbox: Pick<Outbox, "landed">;
  readonly sums: Sums;
  readonly reads: ReadSums;
  readonly ranges: ReadRange;
}

export function createReadings(db: Database, { days, outbox, sums, reads, ranges }: ReadingParts): ReadingStore {
  /** By site and node, then by quantity. */
  const known = new Map<string, Map<string, Map<string, Series>>>();
  // An id handed out in work that was undone points to nothing.
  db.onUndone(() => {
    known.clear();
    lastNode = null;
    lastKept = null;
  });
  const findSeries = db.prepare("SELECT id FROM series WHERE site = ? AND node = ? AND quantity = ?");
  const addSeries = db.prepare("INSERT INTO series (site, node, quantity) VALUES (?, ?, ?)");
  const seriesOfSite = db.prepare("SELECT id, node, quantity FROM series WHERE site = ? ORDER BY node, quantity");
  const insertion = (rows: number) =>
    db.prepare(
      `INSERT OR IGNORE INTO readings (series, at_ms, value, heard_ms) VALUES ${Array(rows).fill("(?, ?, ?, ?)").join(", ")}`,
    );
  /** The first value is when all of them were heard: each that is handed over costs as much as a column that is written. */
  const insertionAtOnce = (rows: number) => {
    const own = (row: number) => [2, 3, 4].map((place) => `?${row * OWN_COLUMNS + place}`).join(", ");
    const all = Array.from({ length: rows }, (_, row) => `(${own(row)}, ?1)`);
    return db.prepare(`INSERT OR IGNORE INTO readings (series, at_ms, value, heard_ms) VALUES ${all.join(", ")}`);
  };
  const insert = insertion(1);
  const insertMany = AT_ONCE.map((rows) => ({ rows, statement: insertion(rows) }));
  const insertKnown = [...AT_ONCE, 1].map((rows) => ({ rows, statement: insertionAtOnce(rows) }));
  const mark = db.prepare("SAVEPOINT rows");
  const takeBack = db.prepare("ROLLBACK TO rows");
  const forgetMark = db.prepare("RELEASE rows");
  const late = db.prepare("INSERT INTO late_kept (series, at_ms, day) VALUES (?, ?, ?)");
  const valueAt = db.prepare("SELECT value FROM readings WHERE series = ? AND at_ms = ?");
  const newest = db.prepare("SELECT at_ms, value, heard_ms FROM readings WHERE series = ? ORDER BY at_ms DESC LIMIT 1");
  const before = db.prepare(
    "SELECT at_ms, value, heard_ms FROM readings WHERE series = ? AND at_ms < ? AND heard_ms <= ? ORDER BY at_ms DESC LIMIT 1",
  );

  /** Readings come by the pack, all of one node. */
  let lastNode: { readonly site: string; readonly node: string; readonly own: Map<string, Series> } | null = null;
  const ofNode = (site: string, node: string): Map<string, Series> => {
    if (lastNode?.site === site && lastNode.node === node) return lastNode.own;
    const own = known.get(site)?.get(node);
    // Anybody may ask for a node that is not there: it is not remembered.
    if (own === undefined) return new Map();
    lastNode = { site, node, own };
    return own;
  };
  const seriesOf = (site: string, node: string, quantity: string): Series | null => {
    const own = ofNode(site, node);
    const one = own.get(quantity);
    if (one !== undefined) return one;
    const id = findSeries.get(site, node, quantity)?.[0] as number | undefined;
    if (id === undefined) return null;
    const found: Series = { id, times: null };
    own.set(quantity, found);
    if (own.size > 1) return found;
    const nodes = known.get(site) ?? new Map<string, Map<string, Series>>();
    known.set(site, nodes.set(node, own));
    return found;
  };
  const seriesFor = (site: string, node: string, quantity: string): Series => {
    const one = seriesOf(site, node, quantity);
    if (one !== null) return one;
    addSeries.run(site, node, quantity);
    return seriesOf(site, node, quantity) as Series;
  };
  const idOf = (site: string, node: string, quantity: string): number | null =>
    seriesOf(site, node, quantity)?.id ?? null;
  /** What is heard in one transaction is mostly kept by one day. */
  let lastKept: {
    readonly site: string;
    readonly heardMs: number;
    readonly day: number;
    readonly isLate: boolean;
  } | null = null;
  const keptBy = (site: string, heardMs: number) => {
    if (lastKept?.site === site && lastKept.heardMs === heardMs) return lastKept;
    const day = days.dayFor(site, heardMs);
    return (lastKept = { site, heardMs, day, isLate: day !== dayOf(heardMs) });
  };
  /** Readings older than this may be in a sum, which then no longer holds; as of the transaction that stores them. */
  let summedBeforeMs = 0;
  const noteKept = (series: number, { site, atMs, heardMs }: HeardReading): void => {
    const { day, isLate } = keptBy(site, heardMs);
    if (isLate) late.run(series, atMs, day);
    days.kept(site, day, atMs);
    outbox.landed(series, atMs);
    if (atMs < summedBeforeMs) sums.late(series, atMs);
  };
  const add = (reading: HeardReading): Landed => {
    const { site, node, quantity, atMs, value, heardMs } = reading;
    const { id: series } = seriesFor(site, node, quantity);
    if (insert.run(series, atMs, value, heardMs).changes > 0) {
      noteKept(series, reading);
      return "stored";
    }
    return valueAt.get(series, atMs)?.[0] === value ? "same" : "conflict";
  };
  /** All of them, where all are new; else none, and which are must be found one by one. */
  const addNew = (statement: Prepared, readings: readonly HeardReading[]): boolean => {
    const series = readings.map(({ site, node, quantity }) => seriesFor(site, node, quantity).id);
    const values: number[] = [];
    for (const [index, { atMs, value, heardMs }] of readings.entries())
      values.push(series[index] as number, atMs, value, heardMs);
    mark.run();
    const allNew = statement.runList(values).changes === readings.length;
    if (!allNew) takeBack.run();
    forgetMark.run();
    if (allNew) for (const [index, reading] of readings.entries()) noteKept(series[index] as number, reading);
    return allNew;
  };
  interface Span {
    readonly from: number;
    readonly to: number;
  }
  const addHeardAt = (heardMs: number, readings: readonly HeardReading[], series: readonly number[], span: Span) => {
    let { from } = span;
    for (const { rows, statement } of insertKnown) {
      if (span.to - from < rows) continue;
      const values = Array<number>(1 + rows * OWN_COLUMNS);
      values[0] = heardMs;
      for (; span.to - from >= rows; from += rows) {
        for (let row = 0; row < rows; row++) {
          const { atMs, value } = readings[from + row] as HeardReading;
          values[row * OWN_COLUMNS + 1] = series[from + row] as number;
          values[row * OWN_COLUMNS + 2] = atMs;
          values[row * OWN_COLUMNS + 3] = value;
        }
        if (statement.runList(values).changes !== rows) throw new Error("a reading stands where none was known");
      }
    }
  };
  /** What is known to be new needs no way to take it back. */
  const addKnown = (readings: readonly HeardReading[], series: readonly number[]): void => {
    for (let from = 0; from < readings.length; ) {
      const { heardMs } = readings[from] as HeardReading;
      let to = from + 1;
      while (to < readings.length && readings[to]?.heardMs === heardMs) to++;
      addHeardAt(heardMs, readings, series, { from, to });
      from = to;
    }
    for (let at = 0; at < readings.length; at++) noteKept(series[at] as number, readings[at] as HeardReading);
  };
  const append = (readings: readonly HeardReading[]): Landed[] => {
    summedBeforeMs = sums.beforeMs();
    lastKept = null;
    const series = Array<number>(readings.length);
    const others: number[] = [];
    for (let at = 0; at < readings.length; at++) {
      const { site, node, quantity, atMs, heardMs } = readings[at] as HeardReading;
      const one = seriesFor(site, node, quantity);
      one.times ??= new KnownTimes((newest.get(one.id)?.[0] ?? Number.NEGATIVE_INFINITY) as number);
      series[at] = one.id;
      if (!one.times.take(atMs, heardMs)) others.push(at);
    }
    const answers = Array<Landed>(readings.length).fill("stored");
    if (others.length === 0) {
      addKnown(readings, series);
      return answers;
    }
    const isOther = new Set(others);
    addKnown(
      readings.filter((_, at) => !isOther.has(at)),
      series.filter((_, at) => !isOther.has(at)),
    );
    const theirs = appendOthers(others.map((at) => readings[at] as HeardReading));
    for (const [index, at] of others.entries()) answers[at] = theirs[index] as Landed;
    return answers;
  };
  const appendOthers = (readings: readonly HeardReading[]): Landed[] => {
    const answers: Landed[] = [];
    for (const { rows, statement } of insertMany) {
      while (readings.length - answers.length >= rows) {
        const some = readings.slice(answers.length, answers.length + rows);
        if (addNew(statement, some)) for (const _ of some) answers.push("stored");
        else answers.push(...some.map(add));
      }
    }
    answers.push(...readings.slice(answers.length).map(add));
    return answers;
  };

  return {
    append: (readings) => db.together(() => append(readings)),
    range(site, node, quantity, fromMs, toMs) {
      const id = idOf(site, node, quantity);
      const columns = id === null ? { atMs: [], values: [], heardMs: [] } : ranges.range(id, fromMs, toMs);
      return { node, quantity, ...columns };
    },
    lastBefore(site, node, quantity, beforeMs, heardByMs) {
      const id = idOf(site, node, quantity);
      const row = (id === null ? undefined : before.get(id, beforeMs, heardByMs)) as Numbers | undefined;
      return row === undefined ? null : { site, node, quantity, atMs: row[0], value: row[1], heardMs: row[2] };
    },
    latest(site) {
      const series = seriesOfSite.all(site) as unknown as (readonly [number, string, string])[];
      return series.flatMap(([id, node, quantity]) => {
        const row = newest.get(id) as Numbers | undefined;
        return row === undefined ? [] : [{ site, node, quantity, atMs: row[0], value: row[1], heardMs: row[2] }];
      });
    },
    buckets(site, node, quantity, fromMs, stepMs, points) {
      const id = idOf(site, node, quantity);
      if (id === null) return Array.from({ length: points }, () => ({ min: null, mean: null, max: null }));
      const steps = { series: id, fromMs: Math.trunc(fromMs), stepMs: Math.trunc(stepMs), points };
      return bucketsOf(sums, reads, steps);
    },
  };
}
