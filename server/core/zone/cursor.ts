// What a track says at a time: a reading speaks for a while after it was taken.
import { type Track, upperIndex } from "#core/zone/heard.ts";

/** A reading speaks for at most this long after it was taken. */
export const HOLD_MS = 30 * 60_000;

/** What tracks say at each of some times, which stand in order. */
export class Held {
  private readonly known: {
    readonly atMs: readonly number[];
    readonly movedMs: number;
    readonly places: Int32Array;
  }[] = [];
  constructor(private readonly times: Float64Array) {}

  /**
   * The last reading of a track not older than `HOLD_MS` at each time, else NaN. Between two readings further apart than that
   * nothing is held: another probe that went on must not hide half an hour of the gap. Nor is anything held across
   * `movedMs`, when the probe was laid elsewhere.
   */
  of({ atMs, values }: Track, movedMs = Number.NEGATIVE_INFINITY): Float64Array {
    const places = this.placesOf(atMs, movedMs);
    const held = new Float64Array(places.length);
    for (let step = 0; step < held.length; step++) {
      const place = places[step] as number;
      held[step] = place < 0 ? Number.NaN : (values[place] as number);
    }
    return held;
  }

  /** Tracks of one pack have their times in common: where these stand is looked up once. */
  private placesOf(atMs: readonly number[], movedMs: number): Int32Array {
    const found = this.known.find((one) => one.atMs === atMs && one.movedMs === movedMs);
    if (found !== undefined) return found.places;
    const places = placesOn(atMs, this.times, movedMs);
    this.known.push({ atMs, movedMs, places });
    return places;
  }
}

/** The place of the reading that is held at each time, or -1. */
function placesOn(atMs: readonly number[], times: Float64Array, movedMs: number): Int32Array {
  const end = atMs.length;
  const places = new Int32Array(times.length);
  // The first reading that is not yet passed. A line may begin long after its tracks.
  let next = upperIndex(atMs, times[0] ?? Number.NEGATIVE_INFINITY);
  for (let step = 0; step < places.length; step++) {
    const timeMs = times[step] as number;
    // Nearly every time of a line is that of the next reading.
    if (next < end && atMs[next] === timeMs) {
      do next++;
      while (next < end && atMs[next] === timeMs);
      places[step] = next - 1;
      continue;
    }
    while (next < end && (atMs[next] as number) <= timeMs) next++;
    places[step] = isHeld(atMs, next, timeMs, movedMs) ? next - 1 : -1;
  }
  return places;
}

/** Whether the reading before `next` still speaks at a time that lies before `next`. */
function isHeld(atMs: readonly number[], next: number, timeMs: number, movedMs: number): boolean {
  if (next === 0) return false;
  const takenMs = atMs[next - 1] as number;
  if (takenMs === timeMs) return true;
  const nextMs = next < atMs.length ? (atMs[next] as number) : takenMs;
  return timeMs - takenMs <= HOLD_MS && nextMs - takenMs <= HOLD_MS && !(takenMs < movedMs && timeMs >= movedMs);
}
