// The facts that rules look at: flat, each with its unit; null = not known or not asked.
import type { Range, Step } from "#core/cure/sheet.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

export interface Facts {
  readonly nowMs: number;
  readonly pouring: boolean;
  readonly finished: boolean;

  // Data
  readonly slabProbes: number;
  readonly airChips: number;
  readonly slabVoices: number;
  readonly airVoices: number;
  readonly slabAgeMin: number | null;
  readonly airAgeMin: number | null;
  readonly staleAfterMin: number;
  /** A hand reading of slab, air and humidity stands in for live data. */
  readonly handStandsIn: boolean;
  readonly unknownVote: string | null;
  readonly doubts: readonly Doubt[];

  // Record
  readonly sheetDoubt: string | null;
  readonly recordGap: string | null;
  readonly heldSinceMs: number | null;
  /** Hours until crack filler is hard at present slab temperature: Infinity = it earns nothing. */
  readonly fillerHardInH: number | null;
  /** Some of its hours are an estimate of ours. */
  readonly fillerEstimated: boolean;

  // Film; null without one
  readonly film: boolean;
  readonly recoatEarned: number | null;
  readonly recoatEstimated: boolean;
  readonly foundSoftMs: number | null;
  readonly foundHard: boolean;
  readonly sensitive: boolean;
  readonly closedSinceMs: number | null;
  /** Hours since the last abrading of this surface; null if never. */
  readonly abradedH: number | null;

  // Surface
  readonly dewMin: number | null;
  readonly blushSteps: readonly Step[] | null;
  readonly blushSinceMs: number | null;
  readonly foundGreasy: boolean;
  readonly belowMin: number | null;
  readonly gapMin: number | null;
  readonly inspectSinceMs: number | null;
  readonly dustSinceMs: number | null;
  readonly foundDusty: boolean;
  readonly frostPointC: number | null;
  readonly waterLeftGPerM2: number;
  readonly foundDamp: boolean;
  readonly dampSinceMs: number | null;

  // Conditions of the next coat, at the worst probe
  readonly limits: SheetLimitsNow | null;
  readonly slabColdC: number | null;
  readonly slabHotC: number | null;
  readonly coldProbe: string | null;
  readonly hotProbe: string | null;
  readonly airMinC: number | null;
  readonly airMaxC: number | null;
  readonly rhMinPct: number | null;
  readonly rhMaxPct: number | null;
  readonly waterGPerKg: number | null;
  readonly waterMaxGPerKg: number | null;
  readonly dewPointC: number | null;
  readonly marginK: number | null;
  readonly marginUncertaintyK: number | null;
  readonly slopeKPerH: number | null;
  readonly slopeProbe: string | null;
  readonly porous: boolean;
  readonly slabRhPct: number | null;
  readonly slabMverLb: number | null;
  readonly resinC: number | null;
  readonly resinAgeMin: number | null;
  /** Margin of a hand reading of the last half hour; null without one. */
  readonly handMarginK: number | null;
  /** Minutes for which the limits have held without a break, at most 60; null if not known. */
  readonly sustainedMin: number | null;

  // Foreseen within three hours by the middle of the outlook; null without one
  readonly soon: Soon | null;

  // Plan
  readonly finishInH: number | null;
  readonly closesInH: number | null;
  readonly fitsM2: number | null;

  // Night
  readonly night: NightFacts | null;
  /** Hours until a coat poured now is past dew at present conditions. */
  readonly nightHours: number | null;
}

export interface SheetLimitsNow {
  readonly slabC: Range;
  readonly airC: Range;
  readonly rhPct: Range;
  readonly waterGPerKg: Range;
  readonly resinC: Range;
  readonly slabRhMaxPct: number | null;
  readonly slabMverMaxLb: number | null;
  /** The stricter of the next coat's margin limit and that of the film while it is dew-sensitive. */
  readonly dewMarginK: number;
}

/** Extremes of the middle of the outlook over the next three hours. */
export interface Soon {
  readonly slabColdC: number;
  readonly slabHotC: number;
  readonly airMinC: number;
  readonly airMaxC: number;
  readonly marginK: number;
}

export interface NightFacts {
  readonly chanceHolds: number;
  readonly chanceMargin: number;
  readonly chanceSlab: number;
  readonly lowestMarginK: number;
  readonly lowestSlabC: number;
  readonly lowestAtMs: number;
}
