// The few calls of the database engine that the rest of the store makes, and transactions that undo themselves.
import type Libsql from "libsql";

type Statement = {
  raw(): Statement;
  run(values: Value[]): { changes: number };
  all(values: Value[]): unknown[];
  get(values: Value[]): unknown;
};
export type Value = string | number | Uint8Array | null;
export type Row = readonly Value[];

export interface Prepared {
  run(...values: Value[]): { readonly changes: number };
  /** The same for hundreds of values: as one list. */
  runList(values: readonly Value[]): { readonly changes: number };
  all(...values: Value[]): Row[];
  get(...values: Value[]): Row | undefined;
}

/** The few calls that the rest of the store makes; rows are arrays in the order of the columns. */
export interface Database {
  prepare(sql: string): Prepared;
  exec(sql: string): void;
  /** Commits what `work` did, or nothing of it. Inside another one it is part of that. */
  together<T>(work: () => T): T;
  /** Called when work was undone: what was remembered of it must be forgotten. */
  onUndone(forget: () => void): void;
  close(): void;
}

export function wrap(db: Libsql.Database): Database {
  const forgetters: (() => void)[] = [];
  let depth = 0;
  const undo = () => {
    // A full disk undoes the transaction by itself.
    if (db.inTransaction) db.exec("ROLLBACK");
    for (const forget of forgetters) forget();
  };
  return {
    prepare(sql) {
      const statement = db.prepare(sql) as unknown as Statement;
      // Reading statements give arrays; asking a writing statement for that is an error in this engine.
      if (/^\s*(select|with|pragma)/i.test(sql)) statement.raw();
      return {
        // As one list: handed over one by one, the engine's own door gathers them anew.
        run: (...values) => statement.run(values),
        runList: (values) => statement.run(values as Value[]),
        all: (...values) => statement.all(values) as Row[],
        get: (...values) => statement.get(values) as Row | undefined,
      };
    },
    exec: (sql) => void db.exec(sql),
    together(work) {
      if (depth > 0) return work();
      db.exec("BEGIN IMMEDIATE");
      depth += 1;
      try {
        const result = work();
        db.exec("COMMIT");
        return result;
      } catch (error) {
        undo();
        throw error;
      } finally {
        depth -= 1;
      }
    },
    onUndone: (forget) => void forgetters.push(forget),
    close: () => void db.close(),
  };
}
