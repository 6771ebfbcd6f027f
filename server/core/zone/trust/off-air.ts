// How far a slab probe stands off the air, reading by reading.
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";

/** Of what both sensors may be off by, and what a probe in the air still feels of the slab. Common practice, no source. */
const BIAS_SHARE = 0.8;
const FEELS_K = 0.3;
const BESIDE_MS = 10 * 60_000;

export interface OffAir {
  /** Probe minus air at each reading of the probe, K; NaN where the air was not heard. */
  readonly offK: Float64Array;
  /** A probe in the air reads no further off it than this. */
  readonly nearK: number;
}

/** The chip that a probe is held against: that of its own node speaks of the same moment. */
function chipBeside({ node }: SlabProbe, chips: readonly AirChip[]): AirChip | null {
  return chips.find((chip) => chip.node.id === node.id) ?? chips[0] ?? null;
}

function offAirOf({ node, track }: SlabProbe, chip: AirChip): OffAir {
  const offK = new Float64Array(track.atMs.length).fill(Number.NaN);
  const { atMs, values } = chip.air;
  let at = -1;
  for (let index = 0; index < offK.length; index++) {
    const takenMs = track.atMs[index] as number;
    while (at + 1 < atMs.length && (atMs[at + 1] as number) <= takenMs + BESIDE_MS / 2) at++;
    if (at >= 0 && takenMs - (atMs[at] as number) <= BESIDE_MS)
      offK[index] = (track.values[index] as number) - (values[at] as number);
  }
  return { offK, nearK: FEELS_K + BIAS_SHARE * Math.hypot(node.accuracy.slabK, chip.node.accuracy.airK) };
}

/** The chip that a probe is held against, and how far off it the probe stood. */
export interface Beside {
  readonly chip: AirChip;
  readonly off: OffAir;
}

export function besideOf(probe: SlabProbe, chips: readonly AirChip[]): Beside | null {
  const chip = chipBeside(probe, chips);
  return chip === null ? null : { chip, off: offAirOf(probe, chip) };
}

/** The last reading of a stay in the air that holds at `index`: the next one stands further off it than `withinK`. */
export function lastInAir({ offK }: OffAir, index: number, withinK: number): number {
  let last = index;
  while (last + 1 < offK.length && !(Math.abs(offK[last + 1] as number) > withinK)) last++;
  return last;
}
