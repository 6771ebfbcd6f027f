// The embedded database: opened so that what was committed survives a kill at any moment.
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import Libsql from "libsql";
import { type FolderLock, lockFolder } from "./folder-lock.ts";
import { migrate } from "./migrate.ts";
import { MIGRATIONS } from "./schema.ts";

type Statement = {
  raw(): Statement;
  run(...values: Value[]): { changes: number };
  all(...values: Value[]): unknown[];
  get(...values: Value[]): unknown;
};
export type Value = string | number | null;
export type Row = readonly Value[];

export interface Prepared {
  run(...values: Value[]): { readonly changes: number };
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

export interface OpenOptions {
  /** Largest size of the database in pages of 4 KiB; above it writing fails as on a full disk. */
  readonly maxPages?: number;
}

const FILE = "nightslab.sqlite";
/** How long a write waits for another program that holds the file, ms. */
const BUSY_MS = 1000;

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
        run: (...values) => statement.run(...values),
        all: (...values) => statement.all(...values) as Row[],
        get: (...values) => statement.get(...values) as Row | undefined,
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

/** Opens the database of a data folder, and brings its schema forward. Throws in plain words if it cannot. */
export function openDatabase(folder: string, options: OpenOptions = {}): Database {
  // Names of people stand in the journal.
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const lock: FolderLock = lockFolder(folder);
  try {
    const file = join(folder, FILE);
    const raw = new Libsql(file, { timeout: BUSY_MS });
    const db = wrap(raw);
    raw.pragma("journal_mode = WAL");
    // The engine's own choice with WAL would lose the last commits in a power cut.
    raw.pragma("synchronous = FULL");
    raw.pragma("temp_store = MEMORY");
    raw.pragma("cache_size = -32000");
    migrate(db, file, MIGRATIONS, Date.now());
    if (options.maxPages !== undefined) raw.pragma(`max_page_count = ${options.maxPages}`);
    return {
      ...db,
      close() {
        db.exec("PRAGMA optimize");
        db.close();
        lock.release();
      },
    };
  } catch (error) {
    lock.release();
    throw error;
  }
}
