// What sensors may be off by while a night passes: drawn once for each member of the outlook, since an offset stays.
import type { ZoneState } from "#core/zone/state.ts";

/** The members of an outlook begin with what was read at the worst spot; the truth lies around it. */
export interface ReadingError {
  /** Standard deviation of margin and of slab temperature, K. */
  readonly marginK: number;
  readonly slabK: number;
  /** How much too damp the dampest of several chips reads, K: the largest of many readings is too large on average. */
  readonly dampK: number;
  /**
   * What second opinions add: margin and slab are taken so much lower. A shift and no wider spread, since a wider one
   * would also help what fails.
   */
  readonly doubtK: number;
  readonly slabDoubtK: number;
}

/** Of two or more chips with independent errors the dampest reads too damp by this share of a standard deviation. */
const DAMPEST_OF_TWO = 0.56;

/** Stated accuracies are bounds of two standard deviations. Chips that differ by more than their errors differ in truth. */
export function readingErrorOf({ conditions, line }: ZoneState): ReadingError {
  const { marginDoubtK: doubtK, slabDoubtK } = conditions;
  const marginK = Math.max(0, (conditions.marginUncertaintyK ?? doubtK) - doubtK) / 2;
  const { dewPointC, dewPointMinC, readings } = line;
  const apartK = (dewPointC[readings] as number) - (dewPointMinC[readings] as number);
  const live = conditions.source === "live" && apartK > 0;
  const dampK = live ? Math.min(apartK / 2, DAMPEST_OF_TWO * marginK) : 0;
  return { marginK, slabK: marginK / 2, dampK, doubtK, slabDoubtK };
}

/** Share of the golden section, and of its cube: sequences that fill (0, 1) evenly and do not follow each other. */
const SEQUENCES = [0.6180339887498949, 0.7548776662466927] as const;

/** Standard normal value of member `index`, the same for ever: logistic form, within 0.05 of the normal between 2 and 98 %. */
export function luckOf(index: number, kind: 0 | 1): number {
  const place = ((index + 0.5) * SEQUENCES[kind]) % 1;
  return Math.log(place / (1 - place)) / 1.702;
}
