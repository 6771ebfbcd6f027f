// Makes sums of half days that are over, in small steps beside everything else; goes on after a kill where it was.
import type { ReadSums } from "./read-sums.ts";
import type { Database } from "./sql.ts";
import { bodyOf, CELLS, HALF_DAY_MS, halfDayOf, SHORTEST_CELL_MS, type Sum, type Sums } from "./sums.ts";

/** Buffers of nodes that were out of reach for a while have mostly come by then: what comes later is summed up anew. */
const SETTLED_MS = 6 * 3_600_000;
/** Half days of one transaction, half a millisecond each: others wait for no longer than that. */
const AT_ONCE = 8;

export interface MakeSums {
  /**
   * Makes what is missing of half days that ended six hours before `nowMs`. `turn` is awaited between two small steps: whoever
   * else has work does it then; false ends it. Gives how many half days it summed up.
   */
  run(nowMs: number, turn: () => Promise<boolean>): Promise<number>;
}

type Wanted = readonly [series: number, halfDay: number];

export function createMakeSums(db: Database, sums: Sums, reads: ReadSums): MakeSums {
  const due = db.prepare("SELECT series, half_day FROM sums WHERE body IS NULL ORDER BY series, half_day");
  const allSeries = db.prepare("SELECT id FROM series ORDER BY id");
  const firstReading = db.prepare("SELECT min(at_ms) FROM readings WHERE series = ?");
  const lastReading = db.prepare("SELECT max(at_ms) FROM readings WHERE series = ?");
  const firstMade = db.prepare("SELECT min(half_day) FROM sums WHERE series = ?");
  const lastMade = db.prepare("SELECT max(half_day) FROM sums WHERE series = ?");
  const numberOf = (statement: typeof due, series: number) => (statement.get(series)?.[0] ?? null) as number | null;
  /** Through which half day all series were looked at: then only what is due is looked for until the next is over. */
  let lookedThrough = Number.NEGATIVE_INFINITY;

  function make([series, halfDay]: Wanted): void {
    const quarters: (Sum | null)[] = Array(CELLS).fill(null);
    const fromMs = halfDay * HALF_DAY_MS;
    reads.stretches(series, fromMs, SHORTEST_CELL_MS, CELLS, 1, (at, sum) => void (quarters[at] = sum));
    sums.put(series, halfDay, bodyOf(quarters));
  }

  /**
   * A transaction that nobody waits for the disk for: a power cut may take its sums, and those are made again. What is
   * committed after it, and waited for, takes it along.
   */
  function unsynced<T>(work: () => T): T {
    db.exec("PRAGMA synchronous = NORMAL");
    try {
      return db.together(work);
    } finally {
      db.exec("PRAGMA synchronous = FULL");
    }
  }

  /** What is missing, half days without readings between others included; null after each series, which takes time too. */
  function* missing(last: number): Generator<Wanted | null> {
    for (const row of due.all()) yield row as unknown as Wanted;
    if (lookedThrough >= last) return;
    for (const [id] of allSeries.all()) {
      const series = id as number;
      const [firstMs, lastMs] = [numberOf(firstReading, series), numberOf(lastReading, series)];
      if (firstMs !== null && lastMs !== null) {
        const first = Math.max(0, halfDayOf(firstMs));
        const end = Math.min(last, halfDayOf(lastMs));
        const madeFrom = numberOf(firstMade, series) ?? end + 1;
        const madeTo = numberOf(lastMade, series) ?? end;
        // Towards the newer ones, and from the oldest backwards: a gap that a kill leaves would never be seen again.
        for (let halfDay = Math.min(madeFrom - 1, end); halfDay >= first; halfDay--) yield [series, halfDay];
        for (let halfDay = madeTo + 1; halfDay <= end; halfDay++) yield [series, halfDay];
      }
      yield null;
    }
    lookedThrough = last;
  }

  return {
    async run(nowMs, turn) {
      const wanted = missing(halfDayOf(nowMs - SETTLED_MS) - 1);
      let made = 0;
      for (let over = false; !over; ) {
        made += unsynced(() => {
          let some = 0;
          for (let step = 0; step < AT_ONCE && !over; step++) {
            const { done = false, value } = wanted.next();
            over = done;
            if (done || value === null) continue;
            make(value);
            some += 1;
          }
          return some;
        });
        if (!over && !(await turn())) break;
      }
      return made;
    },
  };
}
