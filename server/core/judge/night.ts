// The night ahead of a coat poured now: the chance that it holds, and how low the margin will go.
import type { NightAhead } from "#core/judge/call.ts";
import type { PourAhead } from "#core/judge/member-walk.ts";
import type { ReadingError } from "#core/judge/reading-error.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { weightedQuantile, weightedQuantiles } from "#core/outlook/quantile.ts";

export interface Night extends NightAhead {
  /** Chance that the margin alone holds, and that the minimum slab temperature alone holds. */
  readonly chanceMargin: number;
  readonly chanceSlab: number;
  /** 10 % quantile of the coldest slab. */
  readonly lowestSlabC: number;
}

/** Standard normal values in the middle of equal fifths of belief. */
const FIFTHS = [-1.2816, -0.5244, 0, 0.5244, 1.2816] as const;

/** Chance that something read as `aboveK` above a limit is truly above it. Logistic form of the normal, within 0.01. */
function chanceAbove(aboveK: number, spreadK: number): number {
  return spreadK > 0 ? 1 / (1 + Math.exp((-1.702 * aboveK) / spreadK)) : aboveK >= 0 ? 1 : 0;
}

/** Looks at each member from now to the end of the dew-sensitive time of a coat poured now. */
export function nightOf(
  outlook: Outlook,
  pours: readonly PourAhead[],
  limitK: number,
  minC: number | null,
  error: ReadingError,
): Night {
  const { members } = outlook;
  const weights = new Float64Array(members.length);
  const colds = new Float64Array(members.length);
  const hours = new Float64Array(members.length);
  // Of each member the low that is read, and what it may truly be.
  const lows = new Float64Array(FIFTHS.length * members.length);
  const lowWeights = new Float64Array(lows.length);
  let lowest = Number.POSITIVE_INFINITY;
  let lowestStep = 0;
  let chanceMargin = 0;
  let chanceSlab = 0;
  let chanceHolds = 0;
  for (let index = 0; index < members.length; index++) {
    const member = members[index] as OutlookMember;
    const pour = pours[index] as PourAhead;
    const { length } = member.slabColdC;
    const end = Math.min(pour.endStep, length - 1);
    let low = pour.lowMarginK;
    let cold = pour.coldC;
    if (low < lowest) {
      lowest = low;
      lowestStep = pour.lowStep;
    }
    low += error.dampK - error.doubtK;
    cold -= error.slabDoubtK;
    for (let fifth = 0; fifth < FIFTHS.length; fifth++) {
      lows[FIFTHS.length * index + fifth] = low + (FIFTHS[fifth] as number) * error.marginK;
      lowWeights[FIFTHS.length * index + fifth] = member.weight;
    }
    weights[index] = member.weight;
    colds[index] = cold;
    hours[index] = (end * outlook.stepMs) / 3_600_000;
    const ends = pour.endStep < length;
    const aboveDew = chanceAbove(low - limitK, error.marginK);
    const aboveCold = !ends ? 0 : minC === null ? 1 : chanceAbove(cold - minC, error.slabK);
    chanceMargin += member.weight * aboveDew;
    chanceSlab += member.weight * aboveCold;
    chanceHolds += member.weight * aboveDew * aboveCold;
  }
  const [lowEnd, middle, highEnd] = weightedQuantiles(lows, lowWeights, [0.1, 0.5, 0.9]) as [number, number, number];
  return {
    hours: weightedQuantile(hours, weights, 0.5),
    chanceHolds: Math.min(1, chanceHolds),
    chanceMargin: Math.min(1, chanceMargin),
    chanceSlab: Math.min(1, chanceSlab),
    lowestMarginK: [lowEnd, middle, highEnd],
    lowestAtMs: outlook.fromMs + lowestStep * outlook.stepMs,
    lowestSlabC: weightedQuantile(colds, weights, 0.1),
  };
}
