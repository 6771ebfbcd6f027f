// Which way a quantity goes on: with yesterday's hours or from where it is. Both are launched in the hours that lie
// behind, and what they missed by tells how much each is believed.
import { PAST_STEPS, STEPS_PER_DAY } from "#core/outlook/past.ts";

/** Launched so many hours ago and looked at until now. */
const LAUNCHED_H = [12, 9, 6, 3] as const;

/** What a way usually misses by over these launches, K, and the belief in yesterday's hours before anything is known. */
export interface Usual {
  readonly missK: number;
  readonly patternShare: number;
}

/** Misses below this share of the usual are luck; and the launches overlap, so their likelihood is worth this power. */
const FLOOR_SHARE = 0.12;
const WORTH = 1.5;

/** Share of belief in yesterday's hours. `values`: the last two days without gaps; `first`: the first step that was heard. */
export function patternShareOf(values: Float64Array, first: number, usual: Usual): number {
  let pattern = 0;
  let hold = 0;
  let count = 0;
  for (const backH of LAUNCHED_H) {
    const from = PAST_STEPS - backH * 6;
    if (from - STEPS_PER_DAY < first) continue;
    const departK = (values[from] as number) - (values[from - STEPS_PER_DAY] as number);
    for (let step = from + 3; step <= PAST_STEPS; step += 3) {
      pattern += ((values[step] as number) - (values[step - STEPS_PER_DAY] as number) - departK) ** 2;
      hold += ((values[step] as number) - (values[from] as number)) ** 2;
      count++;
    }
  }
  if (count === 0) return PAST_STEPS - first >= STEPS_PER_DAY ? usual.patternShare : 0;
  const floor = FLOOR_SHARE * usual.missK ** 2 * count;
  const odds = (usual.patternShare / (1 - usual.patternShare)) * ((hold + floor) / (pattern + floor)) ** WORTH;
  return Math.max(0.05, Math.min(0.95, odds / (1 + odds)));
}
