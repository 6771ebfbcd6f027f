// What a track says at a time: a reading speaks for a while after it was taken.
import type { Track } from "#core/zone/heard.ts";

/** A reading speaks for at most this long after it was taken. */
export const HOLD_MS = 30 * 60_000;

/**
 * What a track says at each of `times`, which stand in order: its last reading not older than `HOLD_MS`, else NaN. Between
 * two readings further apart than that nothing is held: another probe that went on must not hide half an hour of the gap.
 * Nor is anything held across `movedMs`, when the probe was laid elsewhere.
 */
export function heldOn(track: Track, times: Float64Array, movedMs = Number.NEGATIVE_INFINITY): Float64Array {
  const { atMs, values } = track;
  const held = new Float64Array(times.length);
  let at = -1;
  for (let step = 0; step < held.length; step++) {
    const timeMs = times[step] as number;
    while (at + 1 < atMs.length && (atMs[at + 1] as number) <= timeMs) at++;
    const takenMs = at < 0 ? Number.NEGATIVE_INFINITY : (atMs[at] as number);
    // Nearly every time of a line is that of a reading.
    held[step] =
      timeMs === takenMs || isHeld(takenMs, atMs[at + 1] ?? takenMs, timeMs, movedMs)
        ? (values[at] as number)
        : Number.NaN;
  }
  return held;
}

/** Whether a reading, followed by one at `nextMs`, still speaks at a later time. */
function isHeld(takenMs: number, nextMs: number, timeMs: number, movedMs: number): boolean {
  return timeMs - takenMs <= HOLD_MS && nextMs - takenMs <= HOLD_MS && !(takenMs < movedMs && timeMs >= movedMs);
}
