// How a slab probe follows the swings of the air: the share of each swing that it shows at the same time.
import { lastIndexAt, type Track } from "#core/zone/heard.ts";

/** The readings of an air that had changed by at least `leastK` over a lag, in their order. */
export interface Swings {
  /** Changes are read over this. */
  readonly lagMs: number;
  readonly leastK: number;
  readonly atMs: readonly number[];
  /** By how much it had changed, K. */
  readonly changeK: readonly number[];
  /** How often the air turned from rising to falling, or back, up to each of them. */
  readonly turns: readonly number[];
}

/** The swings of an air: reckoned once for all probes and windows that are held against it. */
export function swingsOf({ atMs, values }: Track, lagMs: number, leastK: number): Swings {
  const swings = { atMs: [] as number[], changeK: [] as number[], turns: [] as number[] };
  let back = -1;
  let lastK = 0;
  let turned = 0;
  for (let index = 0; index < atMs.length; index++) {
    const takenMs = atMs[index] as number;
    const thenMs = takenMs - lagMs;
    while ((atMs[back + 1] as number) <= thenMs) back++;
    if (back < 0 || thenMs - (atMs[back] as number) > lagMs / 2) continue;
    const changeK = (values[index] as number) - (values[back] as number);
    if (!(Math.abs(changeK) >= leastK)) continue;
    if (changeK * lastK < 0) turned++;
    lastK = changeK;
    swings.atMs.push(takenMs);
    swings.changeK.push(changeK);
    swings.turns.push(turned);
  }
  return { lagMs, leastK, ...swings };
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
  /** An air change over the lag that counts as a swing, K: not less than that of the swings. */
  readonly leastK: number;
  /** Swings up and swings down, each at least this many. */
  readonly eachWay: number;
}

/**
 * How `probe` follows the air from after `fromMs` to `toMs`; null with fewer swings than asked for. How often the air turned
 * says without the probe that there are too few: leaving some out can only make them fewer.
 */
export function gainIn(probe: Track, swings: Swings, { fromMs, toMs, leastK, eachWay }: GainAsk): Gain | null {
  const { atMs, turns } = swings;
  const first = lastIndexAt(atMs, fromMs) + 1;
  const last = lastIndexAt(atMs, toMs);
  if (last < first || (turns[last] as number) - (turns[first] as number) + 1 < 2 * eachWay) return null;
  const gain = gainOver(probe, swings, first, last, leastK);
  return gain.swings >= eachWay ? gain : null;
}

function gainOver(probe: Track, { lagMs, atMs, changeK }: Swings, first: number, last: number, leastK: number): Gain {
  const sums = { upAA: 0, upSA: 0, downAA: 0, downSA: 0 };
  let ups = 0;
  let downs = 0;
  let lastWay = 0;
  const now = new Walk(probe, lagMs, atMs[first] as number);
  const then = new Walk(probe, lagMs, (atMs[first] as number) - lagMs);
  for (let index = first; index <= last; index++) {
    const airChange = changeK[index] as number;
    if (!(Math.abs(airChange) >= leastK)) continue;
    const takenMs = atMs[index] as number;
    const slabChange = now.near(takenMs) - then.near(takenMs - lagMs);
    if (Number.isNaN(slabChange)) continue;
    const way = Math.sign(airChange);
    if (way > 0) {
      sums.upAA += airChange * airChange;
      sums.upSA += airChange * slabChange;
      if (lastWay !== way) ups++;
    } else {
      sums.downAA += airChange * airChange;
      sums.downSA += airChange * slabChange;
      if (lastWay !== way) downs++;
    }
    lastWay = way;
  }
  return {
    up: sums.upAA > 0 ? sums.upSA / sums.upAA : Number.NaN,
    down: sums.downAA > 0 ? sums.downSA / sums.downAA : Number.NaN,
    swings: Math.min(ups, downs),
  };
}

/** Walks a track forward and tells what it said last, not longer ago than half a lag; else NaN. */
class Walk {
  private at: number;
  constructor(
    private readonly track: Track,
    private readonly lagMs: number,
    fromMs: number,
  ) {
    this.at = lastIndexAt(track.atMs, fromMs);
  }

  near(timeMs: number): number {
    const { atMs, values } = this.track;
    while (this.at + 1 < atMs.length && (atMs[this.at + 1] as number) <= timeMs) this.at++;
    if (this.at < 0 || timeMs - (atMs[this.at] as number) > this.lagMs / 2) return Number.NaN;
    return values[this.at] as number;
  }
}
