// The vote of a probe that says nothing: its worst offset of the last 48 h from the probes that remain.
import { lastIndexAt, type Track } from "#core/zone/heard.ts";
import type { SlabProbe } from "#core/zone/probes.ts";

const LOOK_BACK_MS = 48 * 3_600_000;
const HOLD_MS = 30 * 60_000;
/** With less in common than this the zone waits. */
export const COMMON_LEAST_H = 12;

/** How far a silent probe may lie from one that speaks, K. */
export interface Offsets {
  readonly coldestK: number;
  readonly hottestK: number;
  readonly commonH: number;
  readonly enough: boolean;
}

/**
 * The time up to which a silent probe is compared: its own last reading. Counted from now, what it said before it fell
 * silent would fade with the days, and leave a hole in the past of a film.
 */
export function lastWordMs(silent: Course, nowMs: number): number {
  return Math.min(nowMs, silent.atMs.at(-1) ?? nowMs);
}

/** Offsets of `silent` minus `other` over the 48 h before `nowMs`, since both lie where they lie. */
export function offsetsOf(silent: SlabProbe, other: SlabProbe, nowMs: number): Offsets {
  return trackOffsets(silent.track, other.track, Math.max(nowMs - LOOK_BACK_MS, silent.movedMs, other.movedMs));
}

/**
 * The vote of a probe against one that speaks: its worst offset in what no fault has spoiled. With too little of that in
 * common, all that it said counts: never less strict.
 */
export function voteOf(silent: SlabProbe, other: SlabProbe, nowMs: number): Offsets {
  const sound = offsetsOf(silent, other, nowMs);
  return sound.enough || silent.said === silent.track
    ? sound
    : offsetsOf({ ...silent, track: silent.said }, other, nowMs);
}

/** Offsets of the same quantity of two chips. */
export function chipOffsets(silent: Course, other: Course, nowMs: number): Offsets {
  return trackOffsets(silent, other, nowMs - LOOK_BACK_MS);
}

type Course = Pick<Track, "atMs" | "values">;

function trackOffsets(silent: Course, other: Course, fromMs: number): Offsets {
  const { atMs, values } = silent;
  let coldestK = Number.POSITIVE_INFINITY;
  let hottestK = Number.NEGATIVE_INFINITY;
  let commonMs = 0;
  let previousMs = Number.NaN;
  const first = lastIndexAt(atMs, fromMs - 1) + 1;
  let at = lastIndexAt(other.atMs, atMs[first] ?? fromMs);
  for (let index = first; index < atMs.length; index++) {
    const takenMs = atMs[index] as number;
    while (at + 1 < other.atMs.length && (other.atMs[at + 1] as number) <= takenMs) at++;
    const heldMs = at < 0 ? Number.POSITIVE_INFINITY : takenMs - (other.atMs[at] as number);
    if (heldMs > HOLD_MS) {
      previousMs = Number.NaN;
      continue;
    }
    const offsetK = (values[index] as number) - (other.values[at] as number);
    coldestK = Math.min(coldestK, offsetK);
    hottestK = Math.max(hottestK, offsetK);
    if (!Number.isNaN(previousMs)) commonMs += Math.min(takenMs - previousMs, HOLD_MS);
    previousMs = takenMs;
  }
  const commonH = commonMs / 3_600_000;
  return { coldestK, hottestK, commonH, enough: commonH >= COMMON_LEAST_H };
}
