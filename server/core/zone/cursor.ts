// What a track says at a time: a reading speaks for a while after it was taken.
import type { Track } from "#core/zone/heard.ts";

/** A reading speaks for at most this long after it was taken. */
export const HOLD_MS = 30 * 60_000;

/** A cursor that walks a track forward and tells what it says at a time. */
export class Cursor {
  private index = -1;
  constructor(private readonly track: Track) {}

  /**
   * Value at `atMs` if it is not older than `HOLD_MS`, else NaN. Times must not go back. Between two readings further
   * apart than that nothing is held: another probe that went on must not hide half an hour of the gap. Nor is anything
   * held across `movedMs`, when the probe was laid elsewhere.
   */
  at(atMs: number, movedMs = Number.NEGATIVE_INFINITY): number {
    const { atMs: times, values } = this.track;
    while (this.index + 1 < times.length && (times[this.index + 1] as number) <= atMs) this.index++;
    const takenMs = times[this.index];
    if (takenMs === undefined || atMs - takenMs > HOLD_MS) return Number.NaN;
    if (takenMs < movedMs && atMs >= movedMs) return Number.NaN;
    if (atMs > takenMs && (times[this.index + 1] ?? takenMs) - takenMs > HOLD_MS) return Number.NaN;
    return values[this.index] as number;
  }
}
