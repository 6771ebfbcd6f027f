// How a slab probe follows the swings of the air: the share of each swing that it shows at the same time.
import { lastIndexAt, type Track } from "#core/zone/heard.ts";

function valueNear(track: Track, atMs: number, lagMs: number): number {
  const index = lastIndexAt(track.atMs, atMs);
  if (index < 0 || atMs - (track.atMs[index] as number) > lagMs / 2) return Number.NaN;
  return track.values[index] as number;
}

export interface Gain {
  /** Regression of the probe's change on the air's, up and down swings apart. */
  readonly up: number;
  readonly down: number;
  /** Swings up or swings down, whichever are fewer. */
  readonly swings: number;
}

export interface GainAsk {
  readonly fromMs: number;
  readonly toMs: number;
  /** Changes are read over this. */
  readonly lagMs: number;
  /** An air change over the lag that counts as a swing. */
  readonly leastK: number;
}

export function gainIn(probe: Track, air: Track, { fromMs, toMs, lagMs, leastK }: GainAsk): Gain {
  const sums = { upAA: 0, upSA: 0, downAA: 0, downSA: 0 };
  let ups = 0;
  let downs = 0;
  let last = 0;
  const start = lastIndexAt(air.atMs, fromMs) + 1;
  let back = lastIndexAt(air.atMs, (air.atMs[start] ?? 0) - lagMs);
  for (let index = start; index < air.atMs.length; index++) {
    const atMs = air.atMs[index] as number;
    if (atMs > toMs) break;
    const thenMs = atMs - lagMs;
    while ((air.atMs[back + 1] as number) <= thenMs) back++;
    if (back < 0 || thenMs - (air.atMs[back] as number) > lagMs / 2) continue;
    const airChange = (air.values[index] as number) - (air.values[back] as number);
    if (!(Math.abs(airChange) >= leastK)) continue;
    const slabChange = valueNear(probe, atMs, lagMs) - valueNear(probe, atMs - lagMs, lagMs);
    if (Number.isNaN(slabChange)) continue;
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
