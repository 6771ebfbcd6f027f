// Which day keeps what is heard now: the day it was heard, or the first that is still open.
import { dayOf } from "#core/record/chain.ts";
import type { Database } from "./sql.ts";

const HOUR_MS = 3_600_000;

export interface KeptDays {
  /** The day that keeps something heard at this time. */
  dayFor(site: string, heardMs: number): number;
  /** A reading of this time has been kept by that day. */
  kept(site: string, day: number, atMs: number): void;
  /** Nothing more is kept by this day, nor by any before it. */
  shut(site: string, day: number): void;
}

interface Bounds {
  fromMs: number;
  toMs: number;
}

export function createKeptDays(db: Database): KeptDays {
  const lastClosed = db.prepare("SELECT max(day) FROM day_heads WHERE site = ?");
  const find = db.prepare("SELECT from_ms, to_ms FROM heard_days WHERE site = ? AND day = ?");
  const widen = db.prepare(
    `INSERT INTO heard_days VALUES (?1, ?2, ?3, ?4)
     ON CONFLICT (site, day) DO UPDATE SET from_ms = min(from_ms, ?3), to_ms = max(to_ms, ?4)`,
  );
  const shutThrough = new Map<string, number>();
  const bounds = new Map<string, Bounds>();
  /** Readings come by the pack, mostly all of one site and day. */
  let last: { readonly site: string; readonly day: number; readonly bounds: Bounds } | null = null;
  db.onUndone(() => {
    bounds.clear();
    last = null;
  });

  const through = (site: string): number => {
    const known = shutThrough.get(site);
    if (known !== undefined) return known;
    const day = (lastClosed.get(site)?.[0] ?? Number.NEGATIVE_INFINITY) as number;
    shutThrough.set(site, day);
    return day;
  };
  const boundsOf = (site: string, day: number): Bounds => {
    const key = `${site}/${day}`;
    const known = bounds.get(key);
    if (known !== undefined) return known;
    const row = find.get(site, day);
    const found =
      row === undefined ? { fromMs: Infinity, toMs: -Infinity } : { fromMs: row[0] as number, toMs: row[1] as number };
    bounds.set(key, found);
    return found;
  };
  return {
    dayFor: (site, heardMs) => Math.max(dayOf(heardMs), through(site) + 1),
    kept(site, day, atMs) {
      const known = last?.site === site && last.day === day ? last.bounds : boundsOf(site, day);
      if (known !== last?.bounds) last = { site, day, bounds: known };
      if (atMs >= known.fromMs && atMs <= known.toMs) return;
      // To whole hours: a reading a minute must not write this row every minute.
      known.fromMs = Math.min(known.fromMs, Math.floor(atMs / HOUR_MS) * HOUR_MS);
      known.toMs = Math.max(known.toMs, Math.ceil((atMs + 1) / HOUR_MS) * HOUR_MS);
      widen.run(site, day, known.fromMs, known.toMs);
    },
    shut: (site, day) => void shutThrough.set(site, Math.max(day, through(site))),
  };
}
