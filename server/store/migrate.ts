// Brings a database forward to the schema of this program, with a copy of the file before it is touched.
import { chmodSync, closeSync, fsyncSync, openSync, readdirSync, renameSync, rmSync, statfsSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import type { Database } from "./sql.ts";

export interface Migration {
  readonly number: number;
  readonly name: string;
  readonly sql: string;
}

export interface MigrateOptions {
  /** Free bytes of the disk that holds a folder; asked of the system unless given. */
  readonly freeBytes?: (folder: string) => number;
}

/** Copies from before a step that stay; older ones go. */
const KEPT = 3;
/** What a step itself may need beside the copy. */
const ROOM_BYTES = 16 * 1024 * 1024;
const MEGABYTE = 1024 * 1024;

function freeOnDisk(folder: string): number {
  const { bavail, bsize } = statfsSync(folder);
  return bavail * bsize;
}

/** Number of the newest step that a database has taken; 0 for one that is empty. */
export function versionOf(db: Database): number {
  if (db.prepare("SELECT 1 FROM sqlite_master WHERE name = 'migrations'").get() === undefined) return 0;
  return (db.prepare("SELECT coalesce(max(number), 0) FROM migrations").get()?.[0] ?? 0) as number;
}

/** The copies beside a file that were made before a step, newest first: `nightslab.sqlite.v5-20260203T120000000Z`. */
export function copiesOf(file: string): string[] {
  const name = `${basename(file)}.v`;
  const stamp = (of: string): [number, string] => {
    const [version = "", time = ""] = of.slice(name.length).split("-");
    return [Number(version), time];
  };
  return readdirSync(dirname(file))
    .filter((one) => one.startsWith(name) && /^\d+-\d{8}T\d{9}Z$/.test(one.slice(name.length)))
    .sort((a, b) => {
      const [[versionA, timeA], [versionB, timeB]] = [stamp(a), stamp(b)];
      return versionB - versionA || (timeB > timeA ? 1 : -1);
    })
    .map((one) => join(dirname(file), one));
}

function sizeOf(db: Database): number {
  const pragma = (name: string) => Number(db.prepare(`PRAGMA ${name}`).get()?.[0] ?? 0);
  return pragma("page_count") * pragma("page_size");
}

/** Writes a whole copy of a database, on the disk when this returns; readable by its owner alone. */
export function copyInto(db: Database, path: string): void {
  rmSync(`${path}.part`, { force: true });
  db.exec(`VACUUM INTO '${`${path}.part`.replaceAll("'", "''")}'`);
  const handle = openSync(`${path}.part`, "r+");
  try {
    chmodSync(`${path}.part`, 0o600);
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
  renameSync(`${path}.part`, path);
}

/** Throws in plain words where there is no room for a copy. */
export function demandRoom(db: Database, folder: string, what: string, freeBytes = freeOnDisk): void {
  const [needed, free] = [sizeOf(db) + ROOM_BYTES, freeBytes(folder)];
  if (free >= needed) return;
  throw new Error(
    `${what} needs ${Math.ceil(needed / MEGABYTE)} MB free in ${folder}, and there are ${Math.floor(free / MEGABYTE)}: nothing was changed`,
  );
}

function backUp(db: Database, file: string, version: number, nowMs: number, options: MigrateOptions): void {
  demandRoom(db, dirname(file), `the copy of ${file} before it is brought forward`, options.freeBytes);
  const time = new Date(nowMs).toISOString().replace(/[-:.]/g, "");
  copyInto(db, `${file}.v${version}-${time}`);
  for (const old of copiesOf(file).slice(KEPT)) rmSync(old, { force: true });
}

/** Runs what is missing, each step whole or not at all. A file from a newer program is refused and left as it is. */
export function migrate(
  db: Database,
  file: string,
  migrations: readonly Migration[],
  nowMs: number,
  options: MigrateOptions = {},
): void {
  const version = versionOf(db);
  const newest = migrations.at(-1)?.number ?? 0;
  if (version > newest) {
    throw new Error(
      `${file} has version ${version}, and this program knows versions up to ${newest}: run the newer program, or restore the copy that it made`,
    );
  }
  const missing = migrations.filter((migration) => migration.number > version);
  if (missing.length === 0) return;
  if (version > 0) backUp(db, file, version, nowMs, options);
  else
    db.exec(
      "CREATE TABLE IF NOT EXISTS migrations (number INTEGER PRIMARY KEY, name TEXT NOT NULL, at_ms INTEGER NOT NULL)",
    );
  for (const { number, name, sql } of missing) {
    db.together(() => {
      db.exec(sql);
      db.prepare("INSERT INTO migrations (number, name, at_ms) VALUES (?, ?, ?)").run(number, name, nowMs);
    });
  }
}
