// A slab probe that follows the air through its fast swings, in size and without delay, has come off the slab.
import { lastIndexAt, type Track } from "#core/zone/heard.ts";
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** Swings are read over these lags: a slab, even a thin one, lags behind air by more. The short one sees fast heaters. */
const LAGS_MS = [30 * 60_000, 10 * 60_000];
/** An air change over the lag that counts as a swing. */
const SWING_K = 1;
/** Share of the air's swing that the probe shows at the same time. A slab on ground shows under 0.2, a thin one under 0.5. */
const FOLLOWS = 0.75;
/** Swings up and swings down, each at least this many, so that one cooling or one warming is not taken for it. */
const SWINGS_EACH_WAY = 2;
/**
 * Air that goes one way takes no swings to tell: while its means of an hour move this far, a probe that never leaves it by
 * more than the second number lies in it. Concrete of 50 mm over foam already lags by more. Common practice, no source.
 */
const RIDES = { airK: 3, withinK: 0.5, leastReadings: 12 } as const;
const HOUR_MS = 3_600_000;
const BLOCK_MS = 6 * 3_600_000;
const BLOCKS = 8;

function valueNear(track: Track, atMs: number, lagMs: number): number {
  const index = lastIndexAt(track.atMs, atMs);
  if (index < 0 || atMs - (track.atMs[index] as number) > lagMs / 2) return Number.NaN;
  return track.values[index] as number;
}

interface Gain {
  /** Regression of the probe's change on the air's, up and down swings apart. */
  readonly up: number;
  readonly down: number;
  readonly swings: number;
}

function gainIn(probe: Track, air: Track, fromMs: number, toMs: number, lagMs: number): Gain {
  const sums = { upAA: 0, upSA: 0, downAA: 0, downSA: 0 };
  let ups = 0;
  let downs = 0;
  let last = 0;
  const start = lastIndexAt(air.atMs, fromMs) + 1;
  for (let index = start; index < air.atMs.length; index++) {
    const atMs = air.atMs[index] as number;
    if (atMs > toMs) break;
    const airChange = (air.values[index] as number) - valueNear(air, atMs - lagMs, lagMs);
    const slabChange = valueNear(probe, atMs, lagMs) - valueNear(probe, atMs - lagMs, lagMs);
    if (Number.isNaN(airChange) || Number.isNaN(slabChange) || Math.abs(airChange) < SWING_K) continue;
    const way = Math.sign(airChange);
    if (way > 0) {
      sums.upAA += airChange * airChange;
      sums.upSA += airChange * slabChange;
      if (last !== way) ups++;
    } else {
      sums.downAA += airChange * airChange;
      sums.downSA += airChange * slabChange;
      if (last !== way) downs++;
    }
    last = way;
  }
  return {
    up: sums.upAA > 0 ? sums.upSA / sums.upAA : Number.NaN,
    down: sums.downAA > 0 ? sums.downSA / sums.downAA : Number.NaN,
    swings: Math.min(ups, downs),
  };
}

interface Ride {
  /** How far the hourly means of the air moved, and the most that the probe stood off the air. */
  readonly airK: number;
  readonly apartK: number;
}

/** Both read over one block; null where there is too little of either. */
function rideIn(probe: Track, air: Track, fromMs: number, toMs: number): Ride | null {
  const hours = new Map<number, { sum: number; count: number }>();
  let apartK = 0;
  let readings = 0;
  for (let index = lastIndexAt(air.atMs, fromMs) + 1; index < air.atMs.length; index++) {
    const atMs = air.atMs[index] as number;
    if (atMs > toMs) break;
    const slabC = valueNear(probe, atMs, HOUR_MS / 2);
    if (Number.isNaN(slabC)) continue;
    const airC = air.values[index] as number;
    const hour = Math.floor((atMs - fromMs) / HOUR_MS);
    const mean = hours.get(hour) ?? { sum: 0, count: 0 };
    mean.sum += airC;
    mean.count++;
    hours.set(hour, mean);
    apartK = Math.max(apartK, Math.abs(airC - slabC));
    readings++;
  }
  if (readings < RIDES.leastReadings) return null;
  const means = [...hours.values()].map(({ sum, count }) => sum / count);
  return { airK: Math.max(...means) - Math.min(...means), apartK };
}

/** A probe that rode with the air through the block; null when the air did not move far, or the probe stood off it. */
function rides(probe: Track, chips: readonly AirChip[], fromMs: number, toMs: number): Ride | null {
  for (const { air } of chips) {
    const ride = rideIn(probe, air, fromMs, toMs);
    if (ride !== null && ride.airK >= RIDES.airK && ride.apartK <= RIDES.withinK) return ride;
  }
  return null;
}

/**
 * Reads the last 48 h in blocks; the latest block with enough swings decides, so that a calm night neither convicts
 * nor acquits. `sinceMs` is the start of the first block in a row that convicts.
 */
export function detachedDoubt(probe: SlabProbe, chips: readonly AirChip[], nowMs: number): Doubt | null {
  let doubt: Doubt | null = null;
  for (let block = 0; block < BLOCKS; block++) {
    const toMs = nowMs - block * BLOCK_MS;
    const fromMs = Math.max(toMs - BLOCK_MS, probe.movedMs);
    if (fromMs >= toMs) break;
    const gains = chips
      .flatMap((chip) => LAGS_MS.map((lagMs) => gainIn(probe.track, chip.air, fromMs, toMs, lagMs)))
      .filter((gain) => gain.swings >= SWINGS_EACH_WAY);
    const ride = rides(probe.track, chips, fromMs, toMs);
    if (ride !== null) {
      doubt = { probe: probe.name, kind: "detached", sinceMs: fromMs, measured: ride.airK, limit: RIDES.airK };
      continue;
    }
    if (gains.length === 0) continue;
    const follows = gains.map((gain) => Math.min(gain.up, gain.down));
    const most = Math.max(...follows);
    if (!(most >= FOLLOWS)) break;
    doubt = { probe: probe.name, kind: "detached", sinceMs: fromMs, measured: most, limit: FOLLOWS };
  }
  return doubt;
}
