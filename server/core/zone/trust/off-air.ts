// How far a slab probe stands off the air, reading by reading.
import { extremesOf } from "#core/zone/extremes.ts";
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import { type Swings, swingsOf } from "#core/zone/trust/gain.ts";

/** Of what both sensors may be off by, and what a probe in the air still feels of the slab. Common practice, no source. */
const BIAS_SHARE = 0.8;
const FEELS_K = 0.3;
const BESIDE_MS = 10 * 60_000;
/** Swings are read over these lags: a slab, even a thin one, lags behind air by more. The short one sees fast heaters. */
const LAGS_MS = [30 * 60_000, 10 * 60_000];
/** The least change of the air that any rule counts as a swing. */
export const SWING_LEAST_K = 0.3;

/** What a chip says of the air, as slab probes are held against it: the same for all of them. */
export interface Air {
  readonly chip: AirChip;
  readonly swings: readonly Swings[];
  /** How far apart its values lie, K; minus infinity where there are none. */
  readonly rangeK: number;
}

export function airOf(chip: AirChip): Air {
  const { lowest, highest } = extremesOf(chip.air.values);
  const rangeK = highest - lowest;
  // Air that never moved as far has no swings.
  const swings = rangeK < SWING_LEAST_K ? [] : LAGS_MS.map((lagMs) => swingsOf(chip.air, lagMs, SWING_LEAST_K));
  return { chip, swings, rangeK };
}

export interface OffAir {
  /** Probe minus air at each reading of the probe, K; NaN where the air was not heard. */
  readonly offK: Float64Array;
  /** The least and the greatest of them; infinite where there are none. */
  readonly lowestK: number;
  readonly highestK: number;
  /** A probe in the air reads no further off it than this. */
  readonly nearK: number;
}

/** The air that a probe is held against: that of its own node speaks of the same moment. */
function airBeside({ node }: SlabProbe, airs: readonly Air[]): Air | null {
  return airs.find(({ chip }) => chip.node.id === node.id) ?? airs[0] ?? null;
}

function offAirOf({ node, track }: SlabProbe, chip: AirChip): OffAir {
  const offK = new Float64Array(track.atMs.length);
  const { atMs, values } = chip.air;
  let lowestK = Number.POSITIVE_INFINITY;
  let highestK = Number.NEGATIVE_INFINITY;
  let at = -1;
  let airMs = Number.NEGATIVE_INFINITY;
  let airC = Number.NaN;
  let nextMs = atMs[0] ?? Number.POSITIVE_INFINITY;
  for (let index = 0; index < offK.length; index++) {
    const takenMs = track.atMs[index] as number;
    while (nextMs <= takenMs + BESIDE_MS / 2) {
      at++;
      airMs = nextMs;
      airC = values[at] as number;
      nextMs = at + 1 < atMs.length ? (atMs[at + 1] as number) : Number.POSITIVE_INFINITY;
    }
    const off = takenMs - airMs <= BESIDE_MS ? (track.values[index] as number) - airC : Number.NaN;
    offK[index] = off;
    if (off < lowestK) lowestK = off;
    if (off > highestK) highestK = off;
  }
  const nearK = FEELS_K + BIAS_SHARE * Math.hypot(node.accuracy.slabK, chip.node.accuracy.airK);
  return { offK, lowestK, highestK, nearK };
}

/** The air that a probe is held against, and how far off it the probe stood. */
export interface Beside {
  readonly air: Air;
  readonly off: OffAir;
}

export function besideOf(probe: SlabProbe, airs: readonly Air[]): Beside | null {
  const air = airBeside(probe, airs);
  return air === null ? null : { air, off: offAirOf(probe, air.chip) };
}

/** Whether a probe never came as near to the air as `withinK`: all that was heard stands off it on one side. */
export function standsOff({ lowestK, highestK }: OffAir, withinK: number): boolean {
  return lowestK > withinK || highestK < -withinK;
}

/** The last reading of a stay in the air that holds at `index`: the next one stands further off it than `withinK`. */
export function lastInAir({ offK }: OffAir, index: number, withinK: number): number {
  let last = index;
  while (last + 1 < offK.length && !(Math.abs(offK[last + 1] as number) > withinK)) last++;
  return last;
}
