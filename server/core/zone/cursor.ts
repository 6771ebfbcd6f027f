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
  const end = atMs.length;
  const held = new Float64Array(times.length);
  // The first reading that is not yet passed.
  let next = 0;
  for (let step = 0; step < held.length; step++) {
    const timeMs = times[step] as number;
    // Nearly every time of a line is that of the next reading.
    if (next < end && atMs[next] === timeMs) {
      do next++;
      while (next < end && atMs[next] === timeMs);
      held[step] = values[next - 1] as number;
      continue;
    }
    while (next < end && (atMs[next] as number) <= timeMs) next++;
    held[step] = isHeld(atMs, next, timeMs, movedMs) ? (values[next - 1] as number) : Number.NaN;
  }
  return held;
}

/** Whether the reading before `next` still speaks at a time that lies before `next`. */
function isHeld(atMs: readonly number[], next: number, timeMs: number, movedMs: number): boolean {
  if (next === 0) return false;
  const takenMs = atMs[next - 1] as number;
  if (takenMs === timeMs) return true;
  const nextMs = next < atMs.length ? (atMs[next] as number) : takenMs;
  return timeMs - takenMs <= HOLD_MS && nextMs - takenMs <= HOLD_MS && !(takenMs < movedMs && timeMs >= movedMs);
}
