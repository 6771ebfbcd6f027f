// What the data folder holds at the end of a trial, against every pack that was acknowledged.
import { join } from "node:path";
import Libsql from "libsql";
import { NODES, nodeId, type Packs, QUANTITIES, SITE, timeOf, valuesOf } from "./floor.ts";

export interface Kept {
  /** Readings of acknowledged packs that are not there. */
  readonly lost: number;
  /** Readings with another value than was sent. */
  readonly wrong: number;
  /** Rows beyond one for each reading. */
  readonly doubled: number;
  readonly readings: number;
}

/** The server must have stopped. `count`: packs of each node. */
export function readKept(data: string, packs: Packs, count: number): Kept {
  const db = new Libsql(join(data, "nightslab.sqlite"));
  try {
    const rows = db.prepare(
      `SELECT at_ms, value FROM readings JOIN series ON series.id = readings.series
       WHERE site = ? AND node = ? AND quantity = ? ORDER BY at_ms`,
    );
    let [lost, wrong, doubled, readings] = [0, 0, 0, 0];
    for (let node = 0; node < NODES; node++) {
      for (const quantity of QUANTITIES) {
        const found = rows.all(SITE.id, nodeId(node), quantity) as { at_ms: number; value: number }[];
        const values = new Map(found.map(({ at_ms, value }) => [at_ms, value]));
        readings += found.length;
        doubled += found.length - values.size;
        for (let pack = 0; pack < count; pack++) {
          const atMs = timeOf(packs, node, pack);
          const value = values.get(atMs);
          if (value === undefined) lost += 1;
          else if (value !== valuesOf(node, atMs)[quantity]) wrong += 1;
          values.delete(atMs);
        }
        doubled += values.size;
      }
    }
    return { lost, wrong, doubled, readings };
  } finally {
    db.close();
  }
}
