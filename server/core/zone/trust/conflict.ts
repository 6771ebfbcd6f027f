// Two slab probes that lie close together and cannot both be right.
import { lastIndexAt, type Track } from "#core/zone/heard.ts";
import type { SlabProbe } from "#core/zone/probes.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** Two slab probes nearer than this should agree. */
const NEAR_M = 1;
/** Further apart than this without a cause: conflict. */
export const CONFLICT_K = 2;
/** A place with one of these words explains a gradient; the colder probe governs then. */
const CAUSE = /door|edge|wall|ramp|sun|window|heater|duct|drain/i;
const FRESH_MS = 30 * 60_000;

function near(a: SlabProbe, b: SlabProbe): boolean {
  const [from, to] = [a.place, b.place];
  if (from?.xM === undefined || from.yM === undefined || to?.xM === undefined || to.yM === undefined) return false;
  return Math.hypot(from.xM - to.xM, from.yM - to.yM) <= NEAR_M;
}

function explained(probe: SlabProbe): boolean {
  return CAUSE.test(probe.place?.place ?? "");
}

/** Two probes that lie so close that they should agree, with nothing between them that explains a gradient. */
export function alike(a: SlabProbe, b: SlabProbe): boolean {
  return near(a, b) && !explained(a) && !explained(b);
}

/** When the last stretch began in which the two lay too far apart at every reading of `a`. */
function apartSinceMs(a: Track, b: Track): number {
  let sinceMs = a.atMs.at(-1) as number;
  for (let index = a.atMs.length - 1; index >= 0; index--) {
    const takenMs = a.atMs[index] as number;
    const at = lastIndexAt(b.atMs, takenMs);
    if (at < 0 || Math.abs((a.values[index] as number) - (b.values[at] as number)) <= CONFLICT_K) break;
    sinceMs = takenMs;
  }
  return sinceMs;
}

/** Pairs of fresh slab probes in conflict: a doubt for each of the two. */
export function conflictDoubts(slab: readonly SlabProbe[], nowMs: number): Doubt[] {
  const doubts: Doubt[] = [];
  const fresh = slab.filter((probe) => nowMs - (probe.track.atMs.at(-1) ?? Number.NEGATIVE_INFINITY) <= FRESH_MS);
  for (const [index, a] of fresh.entries()) {
    for (const b of fresh.slice(index + 1)) {
      if (!alike(a, b)) continue;
      const apartK = Math.abs((a.track.values.at(-1) as number) - (b.track.values.at(-1) as number));
      if (apartK <= CONFLICT_K) continue;
      const sinceMs = Math.min(apartSinceMs(a.track, b.track), apartSinceMs(b.track, a.track));
      for (const probe of [a, b])
        doubts.push({ probe: probe.name, kind: "conflict", sinceMs, measured: apartK, limit: CONFLICT_K });
    }
  }
  return doubts;
}
