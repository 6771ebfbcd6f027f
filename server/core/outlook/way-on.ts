// Which way a quantity goes on: with yesterday's hours or from where it is. Both are launched in the hours that lie
// behind, and what they missed by tells how much each is believed and how wide it is spread.
import { PAST_STEPS, STEPS_PER_DAY } from "#core/outlook/past.ts";

/** Launched so many hours ago and looked at until now. */
const LAUNCHED_H = [12, 9, 6, 3] as const;

export interface WayOn {
  /** Share of belief in yesterday's hours. */
  readonly patternShare: number;
  /** Spread of each way against the usual one: below 1 where it missed by less than usual. */
  readonly patternScale: number;
  readonly holdScale: number;
}

/** What a way usually misses by over these launches, K, and the belief in yesterday's hours before anything is known. */
export interface Usual {
  readonly missK: number;
  readonly patternShare: number;
  /** Spread is never narrowed below this: two calm days do not promise a third. */
  readonly leastScale: number;
}

/** What is usual counts as so many looks, beside the launches, which count as this many. */
const USUAL_LOOKS = 1.2;
const LAUNCH_LOOKS = 6;
/** Misses below this share of the usual are luck; and the launches overlap, so their likelihood is worth this power. */
const FLOOR_SHARE = 0.12;
const WORTH = 1.5;
const MOST_SCALE = 2;

function scaleOf(squares: number, { missK, leastScale }: Usual): number {
  const mean = (USUAL_LOOKS + LAUNCH_LOOKS * (squares / missK ** 2)) / (USUAL_LOOKS + LAUNCH_LOOKS);
  return Math.max(leastScale, Math.min(MOST_SCALE, Math.sqrt(mean)));
}

/** `values`: the last two days without gaps; `first`: the first step that was heard. */
export function wayOn(values: Float64Array, first: number, usual: Usual): WayOn {
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
  if (count === 0) {
    const whole = PAST_STEPS - first >= STEPS_PER_DAY;
    return { patternShare: whole ? usual.patternShare : 0, patternScale: 1, holdScale: 1 };
  }
  const floor = FLOOR_SHARE * usual.missK ** 2 * count;
  const odds = (usual.patternShare / (1 - usual.patternShare)) * ((hold + floor) / (pattern + floor)) ** WORTH;
  return {
    patternShare: Math.max(0.05, Math.min(0.95, odds / (1 + odds))),
    patternScale: scaleOf(pattern / count, usual),
    holdScale: scaleOf(hold / count, usual),
  };
}
