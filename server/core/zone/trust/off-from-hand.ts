// A probe that promised more than a hand reading beside it: it stays in doubt until a later hand reading agrees.
import type { Opinion } from "#core/zone/second-opinion.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** `measured`: how much more it promised, K of slab or dew point; `limit`: what both may be off by, K. */
export function offFromHandDoubts(opinions: readonly Opinion[]): Doubt[] {
  const open = new Map<string, Doubt>();
  for (const { probe, of, hopeful, within, offset, bound, atMs } of opinions) {
    if (of !== "slab" && of !== "dew") continue;
    if (hopeful)
      open.set(probe, { probe, kind: "off-from-hand", sinceMs: atMs, measured: Math.abs(offset), limit: bound });
    // Off the other way is no agreement either.
    else if (within) open.delete(probe);
  }
  return [...open.values()];
}
