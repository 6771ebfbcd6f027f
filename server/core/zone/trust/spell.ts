// A spell of doubt: a stretch of readings that a fault has spoiled. It stays out of the past after the fault has ended.
import type { Track } from "#core/zone/heard.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

export interface Spell extends Doubt {
  /** The last reading that it spoils; infinite while nothing better was said since. */
  readonly untilMs: number;
}

/** The end of a spell whose last bad reading is at `index`: open if the track ends there. */
export function endOf({ atMs }: Pick<Track, "atMs">, index: number): number {
  return index >= atMs.length - 1 ? Number.POSITIVE_INFINITY : (atMs[index] as number);
}

/** A stretch of readings by index, both ends in it. */
export interface Run {
  readonly first: number;
  readonly last: number;
}

/** Every stretch of readings for which `is` holds. */
export function runsOf(length: number, is: (index: number) => boolean): Run[] {
  const runs: Run[] = [];
  let first = -1;
  for (let index = 0; index <= length; index++) {
    const holds = index < length && is(index);
    if (holds && first < 0) first = index;
    if (!holds && first >= 0) {
      runs.push({ first, last: index - 1 });
      first = -1;
    }
  }
  return runs;
}
