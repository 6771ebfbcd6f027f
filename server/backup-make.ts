// A backup: one file with the whole database as it stood at one moment, and whatever else stood in the data folder.
import {
  chmodSync,
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
} from "node:fs";
import { dirname, join, resolve } from "node:path";
import Libsql from "libsql";
import { ChainBroken, type ChainSound, checkChain } from "./store/chain-check.ts";
import { DATABASE_FILE } from "./store/database.ts";
import { copiesOf, copyInto, demandRoom, versionOf } from "./store/migrate.ts";
import { MIGRATIONS } from "./store/schema.ts";
import { type Database, wrap } from "./store/sql.ts";

/** How long to wait while a server writes, ms. */
const BUSY_MS = 10_000;
export const NEWEST_VERSION = MIGRATIONS.length;

export interface Checked {
  readonly version: number;
  /** Null where the chain was not looked at: an older program wrote the database, and the new one has not run on it. */
  readonly sites: readonly ChainSound[] | null;
  /** The first link that is broken; null if none is. A copy of a broken chain is a faithful copy all the same. */
  readonly broken: string | null;
}

export interface Made extends Checked {
  readonly path: string;
  readonly bytes: number;
  readonly files: number;
}

/** Beside the database in a backup: files of the data folder, and what the backup is. */
const EXTRA = `
CREATE TABLE backup_files (path TEXT PRIMARY KEY, mode INTEGER NOT NULL, body BLOB NOT NULL);
CREATE TABLE backup_about (made_ms INTEGER NOT NULL, files INTEGER NOT NULL);
`;

/** What stands in a data folder beside the database, and belongs to the house: not locks, copies or leftovers. */
function otherFiles(folder: string): string[] {
  const copies = new Set(existsSync(join(folder, DATABASE_FILE)) ? copiesOf(join(folder, DATABASE_FILE)) : []);
  const skipped = (name: string) =>
    name.startsWith(DATABASE_FILE) || name.startsWith("server.lock") || /^(before-|\.restoring)/.test(name);
  const below = (at: string): string[] =>
    readdirSync(join(folder, at), { withFileTypes: true }).flatMap((entry) => {
      const path = join(at, entry.name);
      if (at === "" && (skipped(entry.name) || copies.has(join(folder, path)))) return [];
      if (entry.isDirectory()) return below(path);
      return entry.isFile() ? [path] : [];
    });
  return below("");
}

/** Throws if the file is damaged or of a newer program; a broken chain is told in the answer. */
export function checkDatabase(db: Database, what: string): Checked {
  const said = db.prepare("PRAGMA integrity_check").all();
  if (said.length !== 1 || said[0]?.[0] !== "ok")
    throw new Error(`${what} is damaged: ${said.slice(0, 3).map(String).join("; ")}`);
  const version = versionOf(db);
  if (version === 0) throw new Error(`${what} is no database of this program`);
  if (version > NEWEST_VERSION)
    throw new Error(`${what} has version ${version}, and this program knows versions up to ${NEWEST_VERSION}`);
  if (version < NEWEST_VERSION) return { version, sites: null, broken: null };
  try {
    return { version, sites: checkChain(db), broken: null };
  } catch (error) {
    if (error instanceof ChainBroken) return { version, sites: null, broken: error.message };
    throw error;
  }
}

export function openFile(file: string): { readonly db: Database; close(): void } {
  const raw = new Libsql(file, { timeout: BUSY_MS });
  const db = wrap(raw);
  return { db, close: () => void raw.close() };
}

function addFiles(db: Database, folder: string, nowMs: number): number {
  db.exec("PRAGMA journal_mode = DELETE");
  const paths = otherFiles(folder);
  db.together(() => {
    db.exec(EXTRA);
    const add = db.prepare("INSERT INTO backup_files VALUES (?, ?, ?)");
    for (const path of paths)
      add.run(path, statSync(join(folder, path)).mode & 0o777, readFileSync(join(folder, path)));
    db.prepare("INSERT INTO backup_about VALUES (?, ?)").run(nowMs, paths.length);
  });
  return paths.length;
}

/**
 * Writes a backup of a data folder to `to`, which must not be there; a server may run on the folder meanwhile. The file
 * has its name only when it is whole, checked and on the disk; its owner alone can read it.
 */
export function makeBackup(folder: string, to: string, nowMs: number): Made {
  const file = join(folder, DATABASE_FILE);
  const path = resolve(to);
  if (!existsSync(file)) throw new Error(`there is nothing to back up in the data folder ${folder}`);
  if (existsSync(path)) throw new Error(`${path} is there already, and nothing is overwritten`);
  if (!existsSync(dirname(path))) throw new Error(`there is no folder ${dirname(path)}`);
  const part = `${path}.unchecked`;
  for (const end of ["", "-journal", "-wal", "-shm"]) rmSync(part + end, { force: true });
  const live = openFile(file);
  try {
    demandRoom(live.db, dirname(path), "the backup");
    copyInto(live.db, part);
  } finally {
    live.close();
  }
  try {
    const copy = openFile(part);
    let checked: Checked;
    let files: number;
    try {
      files = addFiles(copy.db, folder, nowMs);
      checked = checkDatabase(copy.db, "the copy");
    } finally {
      copy.close();
    }
    chmodSync(part, 0o600);
    const handle = openSync(part, "r+");
    fsyncSync(handle);
    closeSync(handle);
    renameSync(part, path);
    return { ...checked, path, bytes: statSync(path).size, files };
  } catch (error) {
    rmSync(part, { force: true });
    throw error;
  }
}

/** What a check found, in lines for a person. */
export function sayChecked({ version, sites, broken }: Checked): string[] {
  if (broken !== null) return [`The copy is whole, but the chain of evidence is broken: ${broken}`];
  if (sites === null)
    return [`Whole. It has version ${version}: its chain is checked once this program has run on it.`];
  return [
    "Whole, and the chain of evidence holds:",
    ...sites.map(
      ({ site, days, entries, calls, readings, thinned }) =>
        `  ${site}: ${days} closed days, ${entries} entries, ${calls} calls, ${readings} readings${thinned === 0 ? "" : `; ${thinned} series of days thinned since, their digests stand`}`,
    ),
  ];
}
