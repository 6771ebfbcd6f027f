// What second opinions and salt checks add to the uncertainty of the margin; never less than nothing.
import { marginUncertaintyK, type ProbeAccuracy } from "#core/air/margin.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Track } from "#core/zone/heard.ts";
import type { ZoneProbes } from "#core/zone/probes.ts";
import { type SaltCheck, saltErrorPct } from "#core/zone/salt-check.ts";
import type { Timeline, Voices } from "#core/zone/timeline.ts";
import type { Doubt, DoubtKind } from "#core/zone/trust/doubt.ts";

export interface MarginDoubt {
  /** The true coldest slab may lie this much lower than is read, K. */
  readonly slabK: number;
  /** The true dew point may lie this much higher, K. */
  readonly dewK: number;
}
export const NO_DOUBT: MarginDoubt = { slabK: 0, dewK: 0 };

function now(track: Track, nowMs: number, sinceMs: number): number {
  const lastMs = track.atMs.at(-1) ?? Number.NEGATIVE_INFINITY;
  return nowMs - lastMs > HOLD_MS || lastMs < sinceMs ? Number.NaN : (track.values.at(-1) as number);
}

/** All of the offset, unless the probe speaks and stands that much on the better side of the one that governs. */
function beyond(offsetK: number, betterByK: number): number {
  return betterByK >= 0 ? Math.max(0, offsetK - betterByK) : offsetK;
}

/** Doubts that say by how much a probe may promise too much, K. */
const OFF_BY: ReadonlySet<DoubtKind> = new Set(["off-from-hand", "reads-low", "solvent"]);

/**
 * Takes every doubted probe as if the hand meter, or its neighbour, were right and looks how far that would move the worst
 * spot. A probe that says nothing now counts in full.
 */
export function handDoubt(doubts: readonly Doubt[], voices: Voices, line: Timeline, nowMs: number): MarginDoubt {
  let { slabK, dewK } = NO_DOUBT;
  for (const { probe, kind, measured } of doubts) {
    if (!OFF_BY.has(kind)) continue;
    const slab = voices.slab.find(({ name }) => name === probe);
    const chip = voices.chips.find(({ name, node }) => name === probe || probe === `${node.id}/rh`);
    if (slab !== undefined) {
      const saidC = voices.quarantinedSlab.has(probe) ? Number.NaN : now(slab.track, nowMs, slab.movedMs);
      slabK = Math.max(slabK, beyond(measured, saidC - (line.slabColdC[line.readings] as number)));
    }
    if (chip !== undefined) {
      const saidC = voices.quarantinedChips.has(chip.name)
        ? Number.NaN
        : now(chip.dewPoint, nowMs, Number.NEGATIVE_INFINITY);
      dewK = Math.max(dewK, beyond(measured, (line.dewPointC[line.readings] as number) - saidC));
    }
  }
  return { slabK, dewK };
}

/** The largest error of a salt check among the chips in use, beyond what they state: K of margin on top of `accuracy`. */
export function saltDoubtK(
  checks: readonly SaltCheck[],
  { chips }: Pick<ZoneProbes, "chips">,
  accuracy: ProbeAccuracy,
  airC: number,
  rhPct: number,
  nowMs: number,
): number {
  let widePct = accuracy.rhPct;
  for (const { node, retiredMs } of chips)
    if (retiredMs > nowMs) widePct = Math.max(widePct, saltErrorPct(checks, node.id));
  if (widePct === accuracy.rhPct) return 0;
  return marginUncertaintyK({ ...accuracy, rhPct: widePct }, airC, rhPct) - marginUncertaintyK(accuracy, airC, rhPct);
}
