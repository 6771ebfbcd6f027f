// Sums of readings: least, greatest, total and number of each quarter of an hour, kept by half days beside the readings.
import type { Database } from "./sql.ts";

export const HALF_DAY_MS = 43_200_000;
/** Earlier and later than this nothing is summed up: division rounds another way there, and no node was there. */
const HALF_DAYS = { from: 0, to: 200_000 } as const;

/** Readings of a stretch of time. `micros`: their total, each rounded to a millionth, in millionths. */
export interface Sum {
  readonly min: number;
  readonly max: number;
  readonly micros: number;
  readonly count: number;
}

/**
 * Totals are whole numbers, so that they come to the same to the last bit however a stretch is cut, up to 2^53 millionths:
 * nine million readings of a thousand. A half day with a larger reading has no sums; no door takes one in.
 */
export const MICROS = 1_000_000;
const MOST_VALUE = 1000;
/** Holds two bytes. */
const MOST_COUNT = 65_535;

/** A half day in quarters of an hour or, where it has few readings, in hours: a sum should stand for some of them. */
const CUTS = [
  { cells: 48, fromCount: 400 },
  { cells: 12, fromCount: 100 },
] as const;
/** Quarters of an hour in half a day, and how long one is, ms. */
export const CELLS = CUTS[0].cells;
export const SHORTEST_CELL_MS = HALF_DAY_MS / CELLS;
/** Three numbers of eight bytes and one of two. */
const CELL_BYTES = 26;

/** A half day that was looked at and has none; one that is void has no body at all. */
const NO_SUMS = new Uint8Array(0);

/** One half day as it is kept. */
export interface HalfDay {
  readonly fromMs: number;
  /** How long each cell is, ms. */
  readonly cellMs: number;
  readonly cells: number;
  readonly body: DataView;
}

const inRange = (halfDay: number) => halfDay >= HALF_DAYS.from && halfDay < HALF_DAYS.to;
export const halfDayOf = (atMs: number): number => Math.floor(atMs / HALF_DAY_MS);

function joined(one: Sum | null, other: Sum): Sum {
  if (one === null) return other;
  return {
    min: Math.min(one.min, other.min),
    max: Math.max(one.max, other.max),
    micros: one.micros + other.micros,
    count: one.count + other.count,
  };
}

/** Each number with its low byte first: a folder may move to a machine of another kind. */
function packed(cells: readonly (Sum | null)[]): Uint8Array {
  const bytes = new Uint8Array(cells.length * CELL_BYTES);
  const view = new DataView(bytes.buffer);
  for (const [at, cell] of cells.entries()) {
    if (cell === null) continue;
    view.setFloat64(at * 24, cell.min, true);
    view.setFloat64(at * 24 + 8, cell.max, true);
    view.setFloat64(at * 24 + 16, cell.micros, true);
    view.setUint16(cells.length * 24 + at * 2, cell.count, true);
  }
  return bytes;
}

/** What is kept of a half day, from its quarters of an hour; null where reading its readings is as good. */
export function bodyOf(quarters: readonly (Sum | null)[]): Uint8Array | null {
  const all = quarters.filter((one) => one !== null);
  const count = all.reduce((sum, one) => sum + one.count, 0);
  const cut = CUTS.find(({ fromCount }) => count >= fromCount);
  if (cut === undefined || all.some(({ min, max }) => !(min >= -MOST_VALUE && max <= MOST_VALUE))) return null;
  const each = quarters.length / cut.cells;
  const cells = Array.from({ length: cut.cells }, (_, cell) =>
    quarters
      .slice(cell * each, (cell + 1) * each)
      .reduce<Sum | null>((sum, one) => (one === null ? sum : joined(sum, one)), null),
  );
  return cells.some((cell) => cell !== null && cell.count > MOST_COUNT) ? null : packed(cells);
}

/** How many readings a cell has; nothing else of it stands for anything where it has none. */
export const countIn = ({ body, cells }: HalfDay, cell: number): number => body.getUint16(cells * 24 + cell * 2, true);
export const minIn = ({ body }: HalfDay, cell: number): number => body.getFloat64(cell * 24, true);
export const maxIn = ({ body }: HalfDay, cell: number): number => body.getFloat64(cell * 24 + 8, true);
export const microsIn = ({ body }: HalfDay, cell: number): number => body.getFloat64(cell * 24 + 16, true);

export interface Sums {
  /**
   * Readings of this time or later are in no sum, epoch ms; a reading of before that must be told of. To be asked before
   * readings are stored, in the same turn of the event loop.
   */
  beforeMs(): number;
  /** A reading of a time before that was stored: call it in the same transaction. */
  late(series: number, atMs: number): void;
  /** The sums of a half day, null for none worth keeping: call it in the transaction in which its readings were read. */
  put(series: number, halfDay: number, body: Uint8Array | null): void;
  /** The half days that have sums and touch this stretch, in their order. */
  halfDays(series: number, fromMs: number, toMs: number): HalfDay[];
}

export function createSums(db: Database): Sums {
  const before = db.prepare("SELECT before_ms FROM sums_before");
  const voids = db.prepare("UPDATE sums SET body = NULL WHERE series = ? AND half_day = ? AND body IS NOT NULL");
  const kept = db.prepare(
    "SELECT half_day, body FROM sums WHERE series = ? AND half_day BETWEEN ? AND ? AND length(body) > 0 ORDER BY half_day",
  );
  const put = db.prepare("INSERT INTO sums VALUES (?1, ?2, ?3) ON CONFLICT (series, half_day) DO UPDATE SET body = ?3");
  const raise = db.prepare("UPDATE sums_before SET before_ms = max(before_ms, ?)");
  /** Every packet asks for it. It rises by `put` alone, so that one process must make sums and store readings. */
  let knownBeforeMs: number | null = null;
  /** What was voided since it was last asked for: a buffer brings many readings of one half day. */
  const voided = new Set<number>();
  db.onUndone(() => {
    knownBeforeMs = null;
    voided.clear();
  });
  return {
    beforeMs() {
      voided.clear();
      return (knownBeforeMs ??= before.get()?.[0] as number);
    },
    late(series, atMs) {
      const halfDay = halfDayOf(atMs);
      const key = series * HALF_DAYS.to + halfDay;
      if (!inRange(halfDay) || voided.has(key)) return;
      voided.add(key);
      voids.run(series, halfDay);
    },
    put(series, halfDay, body) {
      put.run(series, halfDay, body ?? NO_SUMS);
      raise.run((halfDay + 1) * HALF_DAY_MS);
      knownBeforeMs = null;
    },
    halfDays(series, fromMs, toMs) {
      return kept.all(series, halfDayOf(fromMs), halfDayOf(toMs - 1)).map(([halfDay, body]) => {
        const { buffer, byteOffset, byteLength } = body as Uint8Array;
        const cells = byteLength / CELL_BYTES;
        return {
          fromMs: (halfDay as number) * HALF_DAY_MS,
          cellMs: HALF_DAY_MS / cells,
          cells,
          body: new DataView(buffer, byteOffset, byteLength),
        };
      });
    },
  };
}
