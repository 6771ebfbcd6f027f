// A data folder as it is after a year: five zones, four quantities each, one reading a minute up to now, in the order of life.
import { stat } from "node:fs/promises";
import { join } from "node:path";
import Libsql from "libsql";
import { createApp } from "../../server/app.ts";
import { checkSettings } from "../../server/settings.ts";
import type { HeardReading } from "../../server/store/ports.ts";
import { openStore } from "../../server/store/store.ts";
import { type TemporaryFolder, temporaryFolder } from "./leftovers.ts";
import { setUpSite } from "./set-up.ts";
import { MINUTE_MS, nodeId, QUANTITIES, SITE, valuesAt } from "./site.ts";

export const ZONES = 5;
/** File of the database in a data folder. */
const DATABASE = "nightslab.sqlite";
/** Readings of one transaction, about. */
const AT_ONCE = 20_000;

export interface Filled {
  readonly data: string;
  readonly rows: number;
  readonly rowsPerS: number;
  readonly bytesPerReading: number;
  /** Time of the newest readings, epoch ms. */
  readonly endMs: number;
  remove(): Promise<void>;
}

/** Size of a database file with nothing left in its log. */
export async function databaseBytes(file: string): Promise<number> {
  const db = new Libsql(file);
  db.pragma("wal_checkpoint(TRUNCATE)");
  db.close();
  return (await stat(file)).size;
}

/** An empty data folder of the bench's site with its zones. */
export async function emptyFolder(): Promise<TemporaryFolder> {
  const folder = await temporaryFolder();
  const checked = checkSettings({ data: folder.path, logLevel: "error" });
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  const app = createApp(checked.value, { dashboardDir: null });
  await setUpSite(app, ZONES);
  await app.stop();
  return folder;
}

/** One reading of every quantity of every zone. */
export function readingsAt(atMs: number, zones = ZONES): HeardReading[] {
  return Array.from({ length: zones }, (_, index) => index).flatMap((index) => {
    const values = valuesAt(index, atMs);
    const node = nodeId(index);
    return QUANTITIES.map((quantity) => ({
      site: SITE.id,
      node,
      quantity,
      atMs,
      value: values[quantity],
      heardMs: atMs + 500,
    }));
  });
}

export async function fillFolder(wantedRows: number): Promise<Filled> {
  const folder = await emptyFolder();
  const data = folder.path;
  const bytes = () => databaseBytes(join(data, DATABASE));
  const emptyBytes = await bytes();
  const perMinute = ZONES * QUANTITIES.length;
  const minutes = Math.ceil(wantedRows / perMinute);
  const minutesAtOnce = Math.ceil(AT_ONCE / perMinute);
  const endMs = Math.floor(Date.now() / MINUTE_MS) * MINUTE_MS;
  const store = openStore(data);
  let tookMs = 0;
  let stored = 0;
  try {
    for (let first = 0; first < minutes; first += minutesAtOnce) {
      const batch: HeardReading[] = [];
      for (let minute = first; minute < Math.min(minutes, first + minutesAtOnce); minute++)
        batch.push(...readingsAt(endMs - (minutes - 1 - minute) * MINUTE_MS));
      const startMs = performance.now();
      stored += store.readings.append(batch).filter((answer) => answer === "stored").length;
      tookMs += performance.now() - startMs;
    }
    // Through the year a server sums up each half day when it is over.
    await store.sums.run(endMs, async () => true);
  } finally {
    store.close();
  }
  const rows = minutes * perMinute;
  if (stored !== rows) throw new Error(`${stored} of ${rows} readings were stored`);
  return {
    data,
    rows,
    rowsPerS: rows / (tookMs / 1000),
    bytesPerReading: ((await bytes()) - emptyBytes) / rows,
    endMs,
    remove: () => folder.remove(),
  };
}
