// Puts a backup in the place of a data folder; the former folder stays beside it.
import {
  chmodSync,
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
  statfsSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { type Checked, checkDatabase, openFile } from "./backup-make.ts";
import { DATABASE_FILE } from "./store/database.ts";
import { type FolderLock, lockFolder } from "./store/folder-lock.ts";
import type { Database } from "./store/sql.ts";

export interface Restored extends Checked {
  readonly folder: string;
  /** Where what stood there before is now; null if there was nothing. */
  readonly former: string | null;
  readonly madeMs: number | null;
}

const ROOM_BYTES = 16 * 1024 * 1024;

/** A volume of its own can be neither renamed nor moved: its contents are. */
function isMountPoint(folder: string): boolean {
  return existsSync(folder) && statSync(folder).dev !== statSync(dirname(folder)).dev;
}

function demandRoomFor(file: string, folder: string): void {
  const { bavail, bsize } = statfsSync(folder);
  const needed = statSync(file).size + ROOM_BYTES;
  if (bavail * bsize < needed)
    throw new Error(`restoring needs ${needed} bytes free in ${folder}: nothing was changed`);
}

const has = (db: Database, table: string) =>
  db.prepare("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?").get(table) !== undefined;

/** Takes the other files out of the database into the folder; gives when the backup was made. */
function unpack(db: Database, folder: string): number | null {
  if (!has(db, "backup_files")) return null;
  const madeMs = (db.prepare("SELECT made_ms FROM backup_about").get()?.[0] ?? null) as number | null;
  for (const [path, mode, body] of db.prepare("SELECT path, mode, body FROM backup_files").all()) {
    const to = resolve(folder, path as string);
    if (relative(folder, to).startsWith(".."))
      throw new Error(`the backup names a file outside of its folder: ${String(path)}`);
    mkdirSync(dirname(to), { recursive: true, mode: 0o700 });
    writeFileSync(to, body as Uint8Array, { mode: mode as number });
  }
  db.together(() => db.exec("DROP TABLE backup_files; DROP TABLE backup_about;"));
  return madeMs;
}

function swap(folder: string, staged: string, former: string, inside: boolean): string | null {
  if (!inside) {
    if (existsSync(folder)) renameSync(folder, former);
    renameSync(staged, folder);
    return existsSync(former) ? former : null;
  }
  const standing = readdirSync(folder).filter((name) => !/^(before-|\.restoring)/.test(name));
  if (standing.length > 0) mkdirSync(former, { mode: 0o700 });
  for (const name of standing) renameSync(join(folder, name), join(former, name));
  for (const name of readdirSync(staged)) renameSync(join(staged, name), join(folder, name));
  rmSync(staged, { recursive: true });
  return standing.length > 0 ? former : null;
}

/**
 * The server must be stopped. Everything is checked before anything is touched; a broken chain is refused unless
 * `brokenToo`. A copy that the server made before a step forward can be restored as well.
 */
export function restoreBackup(file: string, data: string, nowMs: number, brokenToo = false): Restored {
  const folder = resolve(data);
  if (!existsSync(file)) throw new Error(`there is no file ${file}`);
  const inside = isMountPoint(folder);
  const time = new Date(nowMs).toISOString().replace(/[-:.]/g, "");
  const staged = inside ? join(folder, ".restoring") : `${folder}.restoring`;
  const former = inside ? join(folder, `before-${time}`) : `${folder}.before-${time}`;
  let lock: FolderLock | null = null;
  if (existsSync(folder)) lock = lockFolder(folder);
  try {
    mkdirSync(dirname(folder), { recursive: true });
    demandRoomFor(file, dirname(staged));
    rmSync(staged, { recursive: true, force: true });
    mkdirSync(staged, { mode: 0o700 });
    const database = join(staged, DATABASE_FILE);
    copyFileSync(file, database);
    chmodSync(database, 0o600);
    const opened = openFile(database);
    let checked: Checked;
    let madeMs: number | null;
    try {
      checked = checkDatabase(opened.db, file);
      if (checked.broken !== null && !brokenToo)
        throw new Error(
          `the chain of evidence in ${file} is broken: ${checked.broken}; --broken restores it all the same`,
        );
      madeMs = unpack(opened.db, staged);
    } finally {
      opened.close();
    }
    const handle = openSync(database, "r+");
    fsyncSync(handle);
    closeSync(handle);
    return { ...checked, folder, former: swap(folder, staged, former, inside), madeMs };
  } catch (error) {
    rmSync(staged, { recursive: true, force: true });
    if ((error as { code?: string }).code === "SQLITE_NOTADB")
      throw new Error(`${file} is no backup: it is no database`);
    throw error;
  } finally {
    lock?.release();
  }
}
