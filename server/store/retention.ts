// Readings that have grown old: thinned to one in five minutes, later deleted, never where they are evidence of a coat.
import { dayName, dayStartMs } from "#core/record/chain.ts";
import type { HeadStore, KeptReading, KeptSeries } from "./ports.ts";
import type { Database } from "./sql.ts";

/** One reading of each of these stretches stays: the first, as it was read. */
export const THINNED_TO_MS = 300_000;
const DAY_MS = 86_400_000;
/** Rows that go in one transaction: others wait for no longer than that. */
const CHUNK = 500;

export interface RetentionWish {
  readonly keepRawDays: number;
  /** Null: they stay. */
  readonly deleteAfterDays: number | null;
  readonly nowMs: number;
  /** True for a reading of this node and time that must stay as it is. */
  readonly isEvidence: (node: string, atMs: number) => boolean;
  /** True if every reading taken at that time or before is wherever else it has to be. */
  readonly delivered: (throughMs: number) => boolean;
  /** Asked between two small steps; true ends the round, which goes on from there the next time. */
  readonly isOver: () => boolean;
}

export interface RetentionDone {
  readonly thinnedRows: number;
  readonly deletedRows: number;
  /** False when there is more to do, or something has not been delivered yet. */
  readonly finished: boolean;
}

type How = "thin" | "delete";

function thinnable(rows: readonly KeptReading[]): KeptReading[] {
  let last = Number.NEGATIVE_INFINITY;
  return rows.filter(([atMs]) => {
    const stretch = Math.floor(atMs / THINNED_TO_MS);
    const goes = stretch === last;
    last = stretch;
    return goes;
  });
}

export function createRetention(db: Database, heads: HeadStore) {
  const through = db.prepare("SELECT day FROM thinned_through WHERE site = ? AND how = ?");
  const setThrough = db.prepare(
    "INSERT INTO thinned_through VALUES (?1, ?2, ?3) ON CONFLICT (site, how) DO UPDATE SET day = ?3",
  );
  const closedDays = db.prepare("SELECT day FROM day_heads WHERE site = ? AND day > ? AND day <= ? ORDER BY day");
  const seriesId = db.prepare("SELECT id FROM series WHERE site = ? AND node = ? AND quantity = ?");
  const mark = db.prepare(
    `INSERT INTO thinned VALUES (?1, ?2, ?3, ?4, ?5, ?6)
     ON CONFLICT (site, day, node, quantity) DO UPDATE SET rows_left = ?5, at_ms = ?6`,
  );
  const drop = db.prepare("DELETE FROM readings WHERE series = ? AND at_ms = ?");
  const dropLate = db.prepare("DELETE FROM late_kept WHERE series = ? AND at_ms = ?");
  const turn = () => new Promise<void>((resolve) => setImmediate(resolve));

  /** Takes rows away in small steps; the mark stands before the first of them goes. */
  async function take(site: string, day: number, series: KeptSeries, goes: readonly KeptReading[], nowMs: number) {
    const { node, quantity, rows } = series;
    const id = seriesId.get(site, node, quantity)?.[0] as number;
    for (let from = 0; from < goes.length; from += CHUNK) {
      db.together(() => {
        const whole = from + CHUNK >= goes.length;
        mark.run(site, day, node, quantity, whole ? rows.length - goes.length : rows.length, nowMs);
        for (const [atMs] of goes.slice(from, from + CHUNK)) {
          drop.run(id, atMs);
          dropLate.run(id, atMs);
        }
      });
      await turn();
    }
  }

  async function round(site: string, how: How, days: number, wish: RetentionWish) {
    // A day is old when its last moment is.
    const lastDay = Math.floor((wish.nowMs - days * DAY_MS) / DAY_MS) - 1;
    const done = (through.get(site, how)?.[0] ?? Number.MIN_SAFE_INTEGER) as number;
    let gone = 0;
    for (const [one] of closedDays.all(site, done, lastDay)) {
      const day = one as number;
      // Late packets of later days reach back, earlier ones are delivered by then: its last moment is enough.
      if (!wish.delivered(dayStartMs(day + 1))) return { gone, finished: false };
      for (const series of heads.readings(site, dayName(day))) {
        if (wish.isOver()) return { gone, finished: false };
        if (!series.rows.some(([atMs]) => wish.isEvidence(series.node, atMs))) {
          const goes = how === "delete" ? series.rows : thinnable(series.rows);
          await take(site, day, series, goes, wish.nowMs);
          gone += goes.length;
        }
        await turn();
      }
      db.together(() => setThrough.run(site, how, day));
    }
    return { gone, finished: true };
  }

  return {
    /** One round over a site; what is left of it is done by the next. */
    async run(site: string, wish: RetentionWish): Promise<RetentionDone> {
      const deleted =
        wish.deleteAfterDays === null
          ? { gone: 0, finished: true }
          : await round(site, "delete", wish.deleteAfterDays, wish);
      const thinned = await round(site, "thin", wish.keepRawDays, wish);
      return {
        thinnedRows: thinned.gone,
        deletedRows: deleted.gone,
        finished: deleted.finished && thinned.finished,
      };
    },
  };
}
export type Retention = ReturnType<typeof createRetention>;
