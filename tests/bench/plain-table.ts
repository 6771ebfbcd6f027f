// The peer of the store: the same engine with a plain table and an index, filled with the same readings by bare statements.
import { join } from "node:path";
import Libsql from "libsql";
import { databaseBytes, ZONES } from "./filled.ts";
import { temporaryFolder } from "./leftovers.ts";
import { MINUTE_MS, QUANTITIES, valuesAt } from "./site.ts";

const MINUTES_AT_ONCE = 250;

export interface Plain {
  readonly rowsPerS: number;
  readonly bytesPerReading: number;
}

export async function fillPlain(wantedRows: number, endMs: number): Promise<Plain> {
  const folder = await temporaryFolder();
  const file = join(folder.path, "plain.sqlite");
  try {
    const db = new Libsql(file);
    db.pragma("journal_mode = WAL");
    db.pragma("synchronous = FULL");
    db.pragma("cache_size = -32000");
    db.exec("CREATE TABLE readings (series INTEGER, at_ms INTEGER, value REAL, heard_ms INTEGER)");
    db.exec("CREATE UNIQUE INDEX by_time ON readings (series, at_ms)");
    const insert = db.prepare("INSERT INTO readings VALUES (?, ?, ?, ?)");
    const minutes = Math.ceil(wantedRows / (ZONES * QUANTITIES.length));
    let tookMs = 0;
    for (let first = 0; first < minutes; first += MINUTES_AT_ONCE) {
      const batch: [number, number, number, number][] = [];
      for (let minute = first; minute < Math.min(minutes, first + MINUTES_AT_ONCE); minute++) {
        const atMs = endMs - (minutes - 1 - minute) * MINUTE_MS;
        for (let zone = 0; zone < ZONES; zone++) {
          const values = valuesAt(zone, atMs);
          for (const [at, quantity] of QUANTITIES.entries())
            batch.push([zone * QUANTITIES.length + at, atMs, values[quantity], atMs + 500]);
        }
      }
      const startMs = performance.now();
      db.exec("BEGIN IMMEDIATE");
      for (const row of batch) insert.run(...row);
      db.exec("COMMIT");
      tookMs += performance.now() - startMs;
    }
    db.close();
    const rows = minutes * ZONES * QUANTITIES.length;
    return { rowsPerS: rows / (tookMs / 1000), bytesPerReading: (await databaseBytes(file)) / rows };
  } finally {
    await folder.remove();
  }
}
