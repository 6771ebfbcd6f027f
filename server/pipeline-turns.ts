// When in the minute each zone has its turn to be judged, whatever was heard of it.
import { LOOK_WITHIN_MS } from "#core/judge/look-again.ts";
import type { ZoneRef } from "./pipeline-queue.ts";

const MINUTE_MS = 60_000;
/** No zone goes unjudged for longer, by the site's clock: soon after that a look at it is not enough any more. */
export const UNJUDGED_MS = LOOK_WITHIN_MS - 3000;
/** Who was judged within this has its turn of the minute left out: the next one still comes within the time above. */
const FRESH_MS = UNJUDGED_MS - MINUTE_MS;

export interface Turn {
  readonly zone: ZoneRef;
  /** From now, ms of the site's clock. */
  readonly inMs: number;
}

/**
 * The turns of the coming minute, the first one first. Each zone has a place of its own, so that the turns of a thousand
 * zones do not stand in one line before whatever is heard; on the way there no turn comes too late. `unjudgedMs`: how long
 * ago a zone was judged; negative where the clock was set back since, infinite where it never was.
 */
export function turnsOf(zones: readonly ZoneRef[], unjudgedMs: (zone: ZoneRef) => number): readonly Turn[] {
  const turns = zones.map((zone, index) => {
    const passedMs = unjudgedMs(zone);
    const leftMs = passedMs < 0 ? 0 : Math.max(0, UNJUDGED_MS - passedMs);
    return { zone, inMs: Math.min((index / zones.length) * MINUTE_MS, leftMs) };
  });
  return turns.sort((a, b) => a.inMs - b.inMs);
}

export const isFresh = (unjudgedMs: number): boolean => unjudgedMs >= 0 && unjudgedMs < FRESH_MS;
