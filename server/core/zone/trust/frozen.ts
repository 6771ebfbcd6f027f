// A probe whose number stopped: it repeats itself to the last digit while what it must follow has moved.
import { lastIndexAt, type Track } from "#core/zone/heard.ts";
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** Repeated exactly for so long and so often. Common practice, no source. */
const STRETCH_MS = 3 * 3_600_000;
const REPEATS = 8;
/**
 * What must have moved meanwhile, by means of an hour so that a cycling heater proves nothing. A heavy slab shows at least
 * a tenth of a slow change of its air over hours, several steps of the coarsest probe; air that warms by 4 K with the same
 * water in it loses a fifth of its humidity. Common practice, no source.
 */
const AIR_FOR_SLAB_K = 4;
const SLAB_BESIDE_K = 1.5;
const AIR_BESIDE_K = 2.5;
const AIR_FOR_RH_K = 4;
const RH_BESIDE_PCT = 10;
/** A chip at its stop says 100 without being frozen: that has a file of its own. */
const RH_STOP_PCT = 99;
const HOUR_MS = 3_600_000;

interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** The stretch of equal values that a track ends with; null if it is short. */
function repeatedOf({ atMs, values }: Track): Stretch | null {
  const last = values.length - 1;
  let first = last;
  while (first > 0 && values[first - 1] === values[last]) first--;
  if (last - first + 1 < REPEATS) return null;
  const [fromMs, toMs] = [atMs[first] as number, atMs[last] as number];
  return toMs - fromMs >= STRETCH_MS ? { fromMs, toMs } : null;
}

/** How far the hourly means of a track lie apart within a stretch. */
function movedIn({ atMs, values }: Track, { fromMs, toMs }: Stretch): number {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let startMs = fromMs; startMs < toMs; startMs += HOUR_MS) {
    let sum = 0;
    let count = 0;
    for (let at = lastIndexAt(atMs, startMs) + 1; at < atMs.length && (atMs[at] as number) <= startMs + HOUR_MS; at++) {
      sum += values[at] as number;
      count++;
    }
    if (count === 0) continue;
    lowest = Math.min(lowest, sum / count);
    highest = Math.max(highest, sum / count);
  }
  return highest > lowest ? highest - lowest : 0;
}

interface Proof {
  readonly track: Track;
  readonly least: number;
}

/** The proof that goes furthest beyond what is asked of it; null if none does. */
function frozen(probe: string, track: Track, proofs: readonly Proof[]): Doubt | null {
  const stretch = repeatedOf(track);
  if (stretch === null) return null;
  let best: Doubt | null = null;
  for (const { track: other, least } of proofs) {
    const measured = movedIn(other, stretch);
    if (measured >= least && (best === null || measured / least > best.measured / best.limit))
      best = { probe, kind: "frozen", sinceMs: stretch.fromMs, measured, limit: least };
  }
  return best;
}

/** A slab probe is held against the air and the other slab probes of its zone. */
export function frozenSlabDoubt(probe: SlabProbe, slab: readonly SlabProbe[], chips: readonly AirChip[]): Doubt | null {
  return frozen(probe.name, probe.track, [
    ...chips.map((chip) => ({ track: chip.air, least: AIR_FOR_SLAB_K })),
    ...slab.filter((other) => other !== probe).map((other) => ({ track: other.track, least: SLAB_BESIDE_K })),
  ]);
}

/** The air of a chip is held against other chips and the slab, its humidity against its own air and other chips. */
export function frozenChipDoubts(chip: AirChip, chips: readonly AirChip[], slab: readonly SlabProbe[]): Doubt[] {
  const others = chips.filter((other) => other !== chip);
  const air = frozen(chip.name, chip.air, [
    ...others.map((other) => ({ track: other.air, least: AIR_BESIDE_K })),
    ...slab.map((probe) => ({ track: probe.track, least: AIR_BESIDE_K })),
  ]);
  const stopped = (chip.rh.values.at(-1) ?? 0) >= RH_STOP_PCT;
  const rh = stopped
    ? null
    : frozen(`${chip.node.id}/rh`, chip.rh, [
        { track: chip.air, least: AIR_FOR_RH_K },
        ...others.map((other) => ({ track: other.rh, least: RH_BESIDE_PCT })),
      ]);
  return [air, rh].filter((doubt) => doubt !== null);
}
