// The outbox: readings and calls on their way to a time-series engine beside this database. It is the landing itself:
// what is due is noted in the transaction that keeps it, so that a day without the engine loses nothing.
import type { CallBody } from "#contract/call.ts";
import type { HeardReading } from "./ports.ts";
import type { Database } from "./sql.ts";

export interface OutCall {
  readonly site: string;
  readonly call: CallBody;
}

/** What goes out next, in order. Nothing is due less until `done`: a batch that was cut off goes out once more. */
export type Batch = {
  /** All of it has arrived, or was put aside. `refused` holds lines that were, with the reason. */
  done(refused: readonly RefusedLine[], nowMs: number): void;
} & (
  | { readonly kind: "readings"; readonly items: readonly HeardReading[] }
  | { readonly kind: "calls"; readonly items: readonly OutCall[] }
);

export interface RefusedLine {
  readonly line: string;
  readonly reason: string;
}

export interface OutboxState {
  /** Readings and calls that were kept since there is a target and have not arrived. */
  readonly behind: number;
  /** When the oldest of them was heard, epoch ms; null if none waits. */
  readonly sinceMs: number | null;
  /** Series whose readings from before there was a target are not all out. */
  readonly historySeries: number;
  readonly refused: number;
}

export interface Outbox {
  /** Says where things go from now on; null for nowhere. Another target than before gets all there is from the beginning. */
  aim(target: string | null): void;
  /** A reading was kept: call it in the same transaction. */
  landed(series: number, atMs: number): void;
  /** The next of what is due, `most` items at most; null if nothing is. */
  next(most: number): Batch | null;
  /** True if every reading taken at `throughMs` or before has arrived, or nothing is to go anywhere. */
  delivered(throughMs: number): boolean;
  state(): OutboxState;
  /** The newest of what was refused. */
  refused(most: number): (RefusedLine & { readonly refusedMs: number })[];
}

type ReadingRow = readonly [
  seq: number,
  site: string,
  node: string,
  quantity: string,
  atMs: number,
  value: number,
  heardMs: number,
];

const readingOf = ([, site, node, quantity, atMs, value, heardMs]: ReadingRow): HeardReading => ({
  site,
  node,
  quantity,
  atMs,
  value,
  heardMs,
});

export function createOutbox(db: Database): Outbox {
  const target = db.prepare("SELECT target, calls_seq FROM outbox_target");
  const setTarget = db.prepare("UPDATE outbox_target SET target = ?, calls_seq = ?");
  const setCalls = db.prepare("UPDATE outbox_target SET calls_seq = ?");
  const add = db.prepare("INSERT INTO outbox_due (series, at_ms) VALUES (?, ?)");
  // What was deleted meanwhile is not there to be sent: it is due no more.
  const due = db.prepare(
    `SELECT due.seq, site, node, quantity, readings.at_ms, value, heard_ms
     FROM (SELECT seq, series, at_ms FROM outbox_due ORDER BY seq LIMIT ?) AS due
     JOIN series ON series.id = due.series
     JOIN readings ON readings.series = due.series AND readings.at_ms = due.at_ms ORDER BY due.seq`,
  );
  const lastOf = db.prepare("SELECT max(seq) FROM (SELECT seq FROM outbox_due ORDER BY seq LIMIT ?)");
  const dropDue = db.prepare("DELETE FROM outbox_due WHERE seq <= ?");
  const history = db.prepare("SELECT series, next_ms, to_ms FROM outbox_history ORDER BY series LIMIT 1");
  const older = db.prepare(
    `SELECT 0, site, node, quantity, at_ms, value, heard_ms FROM readings JOIN series ON series.id = readings.series
     WHERE readings.series = ? AND at_ms BETWEEN ? AND ? ORDER BY at_ms LIMIT ?`,
  );
  const moveOn = db.prepare("UPDATE outbox_history SET next_ms = ? WHERE series = ?");
  const dropHistory = db.prepare("DELETE FROM outbox_history WHERE series = ?");
  const calls = db.prepare("SELECT seq, site, body FROM calls WHERE seq > ? ORDER BY seq LIMIT ?");
  const putAside = db.prepare("INSERT INTO outbox_refused (line, reason, refused_ms) VALUES (?, ?, ?)");
  const dueThrough = db.prepare(
    `SELECT EXISTS (SELECT 1 FROM outbox_due WHERE at_ms <= ?1) OR EXISTS (SELECT 1 FROM outbox_history WHERE next_ms <= ?1)`,
  );
  // Rows go in at one end and out at the other: the numbers have no gaps.
  const dueCount = db.prepare("SELECT coalesce(max(seq) - min(seq) + 1, 0) FROM outbox_due");
  const callCount = db.prepare("SELECT count(*), min(heard_ms) FROM calls WHERE seq > ?");
  const oldest = db.prepare(
    `SELECT heard_ms FROM readings JOIN (SELECT series, at_ms FROM outbox_due ORDER BY seq LIMIT 1) AS due
     ON readings.series = due.series AND readings.at_ms = due.at_ms`,
  );
  const historyCount = db.prepare("SELECT count(*) FROM outbox_history");
  const refusedCount = db.prepare("SELECT count(*) FROM outbox_refused");
  const refusedRows = db.prepare("SELECT line, reason, refused_ms FROM outbox_refused ORDER BY id DESC LIMIT ?");

  const aimedAt = () => (target.get()?.[0] ?? null) as string | null;
  const callsSeq = () => (target.get()?.[1] ?? 0) as number;
  let aimed = aimedAt() !== null;

  /** Whatever a batch leaves behind is written whole or not at all. */
  const finish =
    (forget: () => void): Batch["done"] =>
    (refused, nowMs) =>
      db.together(() => {
        for (const { line, reason } of refused) putAside.run(line, reason, nowMs);
        forget();
      });

  const nextDue = (most: number): Batch | null => {
    const last = lastOf.get(most)?.[0] as number | null;
    if (last === null) return null;
    const rows = due.all(most) as unknown as ReadingRow[];
    return { kind: "readings", items: rows.map(readingOf), done: finish(() => void dropDue.run(last)) };
  };
  const nextCalls = (most: number): Batch | null => {
    const rows = calls.all(callsSeq(), most) as unknown as (readonly [number, string, string])[];
    const last = rows.at(-1)?.[0];
    if (last === undefined) return null;
    const items = rows.map(([, site, body]) => ({ site, call: JSON.parse(body) as CallBody }));
    return { kind: "calls", items, done: finish(() => void setCalls.run(last)) };
  };
  const nextHistory = (most: number): Batch | null => {
    const row = history.get() as readonly [number, number, number] | undefined;
    if (row === undefined) return null;
    const [series, nextMs, toMs] = row;
    const items = (older.all(series, nextMs, toMs, most) as unknown as ReadingRow[]).map(readingOf);
    const lastMs = items.length < most ? toMs : (items.at(-1)?.atMs ?? toMs);
    const forget = () => void (lastMs >= toMs ? dropHistory.run(series) : moveOn.run(lastMs + 1, series));
    return { kind: "readings", items, done: finish(forget) };
  };

  return {
    aim(wanted) {
      if (aimedAt() === wanted) return;
      db.together(() => {
        db.exec("DELETE FROM outbox_due; DELETE FROM outbox_history;");
        setTarget.run(wanted, 0);
        if (wanted === null) return;
        db.exec(
          `INSERT INTO outbox_history SELECT id, first_ms, last_ms FROM (SELECT id,
             (SELECT min(at_ms) FROM readings WHERE series = id) AS first_ms,
             (SELECT max(at_ms) FROM readings WHERE series = id) AS last_ms FROM series) WHERE first_ms IS NOT NULL`,
        );
      });
      aimed = wanted !== null;
    },
    landed(series, atMs) {
      if (aimed) add.run(series, atMs);
    },
    next: (most) => (aimed ? (nextDue(most) ?? nextCalls(most) ?? nextHistory(most)) : null),
    delivered: (throughMs) => !aimed || dueThrough.get(throughMs)?.[0] === 0,
    state() {
      const [callsBehind = 0, firstCallMs = null] = aimed ? (callCount.get(callsSeq()) ?? []) : [];
      const firsts = [oldest.get()?.[0] ?? null, firstCallMs].filter((one) => one !== null) as number[];
      return {
        behind: (dueCount.get()?.[0] as number) + (callsBehind as number),
        sinceMs: firsts.length === 0 ? null : Math.min(...firsts),
        historySeries: historyCount.get()?.[0] as number,
        refused: refusedCount.get()?.[0] as number,
      };
    },
    refused: (most) =>
      refusedRows.all(most).map(([line, reason, refusedMs]) => ({
        line: line as string,
        reason: reason as string,
        refusedMs: refusedMs as number,
      })),
  };
}
