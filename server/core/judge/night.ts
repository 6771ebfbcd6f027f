// The night ahead of a coat poured now: the chance that it holds, and how low the margin will go.
import type { NightAhead } from "#core/judge/call.ts";
import type { PourAhead } from "#core/judge/member-walk.ts";
import type { Outlook } from "#core/outlook/outlook.ts";
import { weightedQuantile } from "#core/outlook/quantile.ts";

export interface Night extends NightAhead {
  /** Chance that the margin alone holds, and that the minimum slab temperature alone holds. */
  readonly chanceMargin: number;
  readonly chanceSlab: number;
  /** 10 % quantile of the coldest slab. */
  readonly lowestSlabC: number;
}

/** Looks at each member from now to the end of the dew-sensitive time of a coat poured now. */
export function nightOf(outlook: Outlook, pours: readonly PourAhead[], limitK: number, minC: number | null): Night {
  const weights = outlook.members.map((member) => member.weight);
  const lows: number[] = [];
  const colds: number[] = [];
  const hours: number[] = [];
  const at: number[] = [];
  let chanceMargin = 0;
  let chanceSlab = 0;
  let chanceHolds = 0;
  for (const [index, member] of outlook.members.entries()) {
    const pour = pours[index] as PourAhead;
    const length = member.slabColdC.length;
    const end = Math.min(pour.endStep[0] as number, length - 1);
    let low = Number.POSITIVE_INFINITY;
    let lowStep = 0;
    let cold = Number.POSITIVE_INFINITY;
    for (let step = 0; step <= end; step++) {
      const slabC = member.slabColdC[step] as number;
      const marginK = slabC - (member.dewPointC[step] as number);
      if (marginK < low) {
        low = marginK;
        lowStep = step;
      }
      cold = Math.min(cold, slabC);
    }
    lows.push(low);
    colds.push(cold);
    at.push(outlook.fromMs + lowStep * outlook.stepMs);
    hours.push((end * outlook.stepMs) / 3_600_000);
    const ends = (pour.endStep[0] as number) < length;
    if (low >= limitK) chanceMargin += member.weight;
    if (ends && (minC === null || cold >= minC)) chanceSlab += member.weight;
    if (pour.holds[0] === 1) chanceHolds += member.weight;
  }
  const quantile = (values: readonly number[], q: number) => weightedQuantile(values, weights, q);
  const lowest = lows.indexOf(Math.min(...lows));
  return {
    hours: quantile(hours, 0.5),
    chanceHolds: Math.min(1, chanceHolds),
    chanceMargin: Math.min(1, chanceMargin),
    chanceSlab: Math.min(1, chanceSlab),
    lowestMarginK: [quantile(lows, 0.1), quantile(lows, 0.5), quantile(lows, 0.9)],
    lowestAtMs: at[lowest] as number,
    lowestSlabC: quantile(colds, 0.1),
  };
}
