// Sums made from the readings themselves: each stretch is read along the key, and only what it comes to leaves the engine.
import type { Database } from "./sql.ts";
import { MICROS, type Sum } from "./sums.ts";

/** Told of a stretch that has readings; the others are not told. */
export type Told = (stretch: number, sum: Sum) => void;

export interface ReadSums {
  /**
   * `count` stretches one after the other, `stepMs` apart from `fromMs`; each begins and ends on the next whole `grainMs`.
   * Times in whole ms, from 1970 on where the grain is longer than that.
   */
  stretches(series: number, fromMs: number, stepMs: number, count: number, grainMs: number, told: Told): void;
}

/** `quote` writes a number to its last bit; JSON of this engine does not. */
const SUM = `quote(min(value)) || ' ' || quote(max(value)) || ' ' || quote(sum(round(value * ${MICROS}.0))) || ' ' || count(*)`;
/** Numbers are bound as floating point here, hence the casts. */
const [FROM, STEP, GRAIN] = ["CAST(?2 AS INTEGER)", "CAST(?3 AS INTEGER)", "CAST(?5 AS INTEGER)"] as const;
const onGrain = (ms: string) => `${ms} + (${GRAIN} - (${ms}) % ${GRAIN}) % ${GRAIN}`;
// A look along the key for each step: grouping would sort all rows first. All is one text, since every row and every number
// on the way out costs more than a reading here.
const STRETCHES = `
  WITH RECURSIVE steps (step, from_ms) AS (
    SELECT 0, ${FROM} UNION ALL SELECT step + 1, from_ms + ${STEP} FROM steps WHERE step < ?4 - 1
  )
  SELECT group_concat(step || ' ' || (
    SELECT ${SUM} FROM readings
    WHERE series = ?1 AND at_ms >= ${onGrain("from_ms")} AND at_ms < ${onGrain(`from_ms + ${STEP}`)} HAVING count(*) > 0
  ), ' ') FROM steps`;
/** Numbers that a stretch is told in. */
const WORDS = 5;

export function createReadSums(db: Database): ReadSums {
  const read = db.prepare(STRETCHES);
  return {
    stretches(series, fromMs, stepMs, count, grainMs, told) {
      const text = count > 0 ? (read.get(series, fromMs, stepMs, count, grainMs)?.[0] as string | null) : null;
      if (text === null) return;
      const words = text.split(" ");
      const number = (place: number) => Number(words[place]);
      for (let at = 0; at < words.length; at += WORDS)
        told(number(at), { min: number(at + 1), max: number(at + 2), micros: number(at + 3), count: number(at + 4) });
    },
  };
}
