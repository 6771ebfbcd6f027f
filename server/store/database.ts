// The embedded database: opened so that what was committed survives a kill at any moment.
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import Libsql from "libsql";
import { type FolderLock, lockFolder } from "./folder-lock.ts";
import { migrate } from "./migrate.ts";
import { MIGRATIONS } from "./schema.ts";
import { type Database, wrap } from "./sql.ts";

export interface OpenOptions {
  /** Largest size of the database in pages of 4 KiB; above it writing fails as on a full disk. */
  readonly maxPages?: number;
}

export const DATABASE_FILE = "nightslab.sqlite";
/** How long a write waits for another program that holds the file, ms. */
const BUSY_MS = 1000;

/** Opens the database of a data folder, and brings its schema forward. Throws in plain words if it cannot. */
export function openDatabase(folder: string, options: OpenOptions = {}): Database {
  // Names of people stand in the journal.
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const lock: FolderLock = lockFolder(folder);
  try {
    const file = join(folder, DATABASE_FILE);
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
