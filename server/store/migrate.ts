// Brings a database forward to the schema of this program, with a copy of the file before it is touched.
import { existsSync, renameSync, rmSync } from "node:fs";
import type { Database } from "./sql.ts";

export interface Migration {
  readonly number: number;
  readonly name: string;
  readonly sql: string;
}

function versionOf(db: Database): number {
  db.exec(
    "CREATE TABLE IF NOT EXISTS migrations (number INTEGER PRIMARY KEY, name TEXT NOT NULL, at_ms INTEGER NOT NULL)",
  );
  return (db.prepare("SELECT coalesce(max(number), 0) FROM migrations").get()?.[0] ?? 0) as number;
}

/** Where the copy of a file stands that was made before the step to `number`. */
export function backupPath(file: string, number: number): string {
  return `${file}.before-${number}`;
}

function backUp(db: Database, file: string, number: number): void {
  const path = backupPath(file, number);
  // The first copy is the one from before; a second run after a failure must not replace it.
  if (existsSync(path)) return;
  rmSync(`${path}.part`, { force: true });
  db.exec(`VACUUM INTO '${`${path}.part`.replaceAll("'", "''")}'`);
  renameSync(`${path}.part`, path);
}

/** Runs what is missing, each step whole or not at all. A file from a newer program is refused and left as it is. */
export function migrate(db: Database, file: string, migrations: readonly Migration[], nowMs: number): void {
  const version = versionOf(db);
  const newest = migrations.at(-1)?.number ?? 0;
  if (version > newest) {
    throw new Error(
      `${file} has version ${version}, and this program knows versions up to ${newest}: run the newer program, or restore the copy that it made`,
    );
  }
  const missing = migrations.filter((migration) => migration.number > version);
  const [first] = missing;
  if (first === undefined) return;
  if (version > 0) backUp(db, file, first.number);
  for (const { number, name, sql } of missing) {
    db.together(() => {
      db.exec(sql);
      db.prepare("INSERT INTO migrations (number, name, at_ms) VALUES (?, ?, ?)").run(number, name, nowMs);
    });
  }
}
