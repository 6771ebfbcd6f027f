// How far each member of an outlook goes: what it never comes near need not be looked for at every step.
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";

/** Extremes over the steps of an outlook, a value for each member: NaN, which is within no limit, where a step is not a number. */
export interface Reach {
  /** Slab minus dew point, K. */
  readonly lowMarginK: Float64Array;
  readonly lowSlabC: Float64Array;
  readonly highSlabC: Float64Array;
  readonly lowAirC: Float64Array;
  readonly highAirC: Float64Array;
  /** Of the air above its dew point, K. */
  readonly lowGapK: Float64Array;
  readonly highGapK: Float64Array;
  /** Lowest values of the coming three hours; of those of which the highest counts with their sign turned. */
  readonly soon: {
    readonly marginK: Float64Array;
    readonly slabColdC: Float64Array;
    readonly turnedSlabHotC: Float64Array;
    readonly airC: Float64Array;
    readonly turnedAirC: Float64Array;
  };
}

/** Three hours. */
const SOON_STEPS = 18;

export function emptyReach(members: number): Reach {
  return {
    lowMarginK: new Float64Array(members),
    lowSlabC: new Float64Array(members),
    highSlabC: new Float64Array(members),
    lowAirC: new Float64Array(members),
    highAirC: new Float64Array(members),
    lowGapK: new Float64Array(members),
    highGapK: new Float64Array(members),
    soon: {
      marginK: new Float64Array(members),
      slabColdC: new Float64Array(members),
      turnedSlabHotC: new Float64Array(members),
      airC: new Float64Array(members),
      turnedAirC: new Float64Array(members),
    },
  };
}

/** Takes in how far member `index` goes. */
export function measure(reach: Reach, index: number, member: OutlookMember, { steps }: Outlook): void {
  const { slabColdC, slabHotC, airC, dewPointC } = member;
  let lowMarginK = Number.POSITIVE_INFINITY;
  let lowSlabC = Number.POSITIVE_INFINITY;
  let highSlabC = Number.NEGATIVE_INFINITY;
  let lowAirC = Number.POSITIVE_INFINITY;
  let highAirC = Number.NEGATIVE_INFINITY;
  let lowGapK = Number.POSITIVE_INFINITY;
  let highGapK = Number.NEGATIVE_INFINITY;
  // Not a number as soon as one of them is not; comparisons pass that over.
  let sum = 0;
  for (let step = 0; step < steps; step++) {
    const coldC = slabColdC[step] as number;
    const hotC = slabHotC[step] as number;
    const roomC = airC[step] as number;
    const dewC = dewPointC[step] as number;
    const marginK = coldC - dewC;
    const gapK = roomC - dewC;
    sum += hotC + marginK + gapK;
    if (marginK < lowMarginK) lowMarginK = marginK;
    if (coldC < lowSlabC) lowSlabC = coldC;
    if (hotC > highSlabC) highSlabC = hotC;
    if (roomC < lowAirC) lowAirC = roomC;
    if (roomC > highAirC) highAirC = roomC;
    if (gapK < lowGapK) lowGapK = gapK;
    if (gapK > highGapK) highGapK = gapK;
  }
  const known = Number.isNaN(sum) ? Number.NaN : 0;
  reach.lowMarginK[index] = known + lowMarginK;
  reach.lowSlabC[index] = known + lowSlabC;
  reach.highSlabC[index] = known + highSlabC;
  reach.lowAirC[index] = known + lowAirC;
  reach.highAirC[index] = known + highAirC;
  reach.lowGapK[index] = known + lowGapK;
  reach.highGapK[index] = known + highGapK;
  measureSoon(reach, index, member);
}

function measureSoon({ soon }: Reach, index: number, member: OutlookMember): void {
  const { slabColdC, slabHotC, airC, dewPointC } = member;
  let lowMarginK = Number.POSITIVE_INFINITY;
  let lowSlabC = Number.POSITIVE_INFINITY;
  let turnedSlabC = Number.POSITIVE_INFINITY;
  let lowAirC = Number.POSITIVE_INFINITY;
  let turnedAirC = Number.POSITIVE_INFINITY;
  for (let step = 1; step <= SOON_STEPS; step++) {
    const coldC = slabColdC[step] as number;
    const roomC = airC[step] as number;
    lowMarginK = Math.min(lowMarginK, coldC - (dewPointC[step] as number));
    lowSlabC = Math.min(lowSlabC, coldC);
    turnedSlabC = Math.min(turnedSlabC, -(slabHotC[step] as number));
    lowAirC = Math.min(lowAirC, roomC);
    turnedAirC = Math.min(turnedAirC, -roomC);
  }
  soon.marginK[index] = lowMarginK;
  soon.slabColdC[index] = lowSlabC;
  soon.turnedSlabHotC[index] = turnedSlabC;
  soon.airC[index] = lowAirC;
  soon.turnedAirC[index] = turnedAirC;
}
