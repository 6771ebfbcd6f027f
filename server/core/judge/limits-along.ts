// The limits of the next coat along a member of the outlook: margin aside, whether they hold at a step.
import { OVER_WATER, saturationTempC, TEMP_RANGE_C } from "#core/air/vapour.ts";
import { saturatedPa } from "#core/air/vapour-table.ts";
import { pressureAtAltitudePa, waterGPerKg } from "#core/air/water.ts";
import { keptWithin } from "#core/guard.ts";
import type { SheetLimitsNow } from "#core/judge/facts.ts";
import type { Reach } from "#core/judge/reach.ts";
import type { OutlookMember } from "#core/outlook/outlook.ts";

/** Limits of relative humidity can be seen without reckoning it where air is within these and as far from its dew point. */
export interface SureGap {
  readonly airLeastC: number;
  readonly airMostC: number;
  /** Air at least this far above its dew point is surely dry enough, K. */
  readonly dryFromK: number;
  /** Air at most this far above its dew point is surely damp enough, K. */
  readonly dampToK: number;
}

/** Beyond these nothing is sure, °C. */
const SURE_C = { min: -40, max: 60 } as const;
/** Added to a gap for what the table of saturation pressures is off by: it changes humidity by a hundred times as much. */
const SLACK_K = 0.01;

/** How far air at `airC` of relative humidity `rhPct` is above its dew point, K. */
const gapKOf = (airC: number, rhPct: number) => airC - saturationTempC(OVER_WATER, (saturatedPa(airC) * rhPct) / 100);

/**
 * The gaps from which on limits of humidity are surely kept. At one gap humidity rises with the air, since saturation
 * pressure rises by a smaller share the warmer it is: a gap that is wide enough in the warmest air is so in any, and one
 * that is narrow enough in the coldest.
 */
export function sureGapOf({ airC, rhPct }: SheetLimitsNow): SureGap {
  const airLeastC = Math.max(airC[0] ?? SURE_C.min, SURE_C.min);
  const airMostC = Math.min(airC[1] ?? SURE_C.max, SURE_C.max);
  const [least, most] = rhPct;
  return {
    airLeastC,
    airMostC,
    dryFromK:
      most === null ? Number.NEGATIVE_INFINITY : most > 0 ? gapKOf(airMostC, most) + SLACK_K : Number.POSITIVE_INFINITY,
    dampToK:
      least === null
        ? Number.POSITIVE_INFINITY
        : least > 0 && least < 100
          ? gapKOf(airLeastC, least) - SLACK_K
          : Number.NEGATIVE_INFINITY,
  };
}

/** The limits of the conditions, laid out for tens of thousands of looks; open ends lie at infinity. */
export interface Hold {
  readonly dewMarginK: number;
  readonly slabLeastC: number;
  readonly slabMostC: number;
  readonly airLeastC: number;
  readonly airMostC: number;
  readonly rhLeastPct: number;
  readonly rhMostPct: number;
  readonly waterLeastGPerKg: number;
  readonly waterMostGPerKg: number;
  readonly pressurePa: number;
  readonly damped: boolean;
  readonly watered: boolean;
  readonly sure: SureGap;
}

export function holdOf(limits: SheetLimitsNow, altitudeM: number): Hold {
  const { dewMarginK, slabC, airC, rhPct, waterGPerKg: water } = limits;
  return {
    dewMarginK,
    slabLeastC: slabC[0] ?? Number.NEGATIVE_INFINITY,
    slabMostC: slabC[1] ?? Number.POSITIVE_INFINITY,
    airLeastC: airC[0] ?? Number.NEGATIVE_INFINITY,
    airMostC: airC[1] ?? Number.POSITIVE_INFINITY,
    rhLeastPct: rhPct[0] ?? Number.NEGATIVE_INFINITY,
    rhMostPct: rhPct[1] ?? Number.POSITIVE_INFINITY,
    waterLeastGPerKg: water[0] ?? Number.NEGATIVE_INFINITY,
    waterMostGPerKg: water[1] ?? Number.POSITIVE_INFINITY,
    pressurePa: pressureAtAltitudePa(altitudeM),
    damped: rhPct[0] !== null || rhPct[1] !== null,
    watered: water[0] !== null || water[1] !== null,
    sure: sureGapOf(limits),
  };
}

/** Whether slab, air and humidity of a member are within their limits at a step; the margin is asked for elsewhere. */
export function conditionsHold(member: OutlookMember, step: number, hold: Hold): boolean {
  if ((member.slabColdC[step] as number) < hold.slabLeastC) return false;
  if ((member.slabHotC[step] as number) > hold.slabMostC) return false;
  const roomC = member.airC[step] as number;
  const dewPointC = member.dewPointC[step] as number;
  const { sure } = hold;
  const gapK = roomC - dewPointC;
  const surely =
    roomC >= sure.airLeastC && roomC <= sure.airMostC && gapK >= sure.dryFromK && gapK <= sure.dampToK && !hold.watered;
  return surely || reckonedToHold(roomC, dewPointC, hold);
}

/** The same of air and humidity where it is not seen at once. */
function reckonedToHold(roomC: number, dewPointC: number, hold: Hold): boolean {
  const airC = keptWithin(roomC, TEMP_RANGE_C);
  if (airC < hold.airLeastC || airC > hold.airMostC) return false;
  if (!hold.damped && !hold.watered) return true;
  const dewC = keptWithin(Math.min(dewPointC, airC), TEMP_RANGE_C);
  const rhPct = (100 * saturatedPa(dewC)) / saturatedPa(airC);
  if (hold.damped && (rhPct < hold.rhLeastPct || rhPct > hold.rhMostPct)) return false;
  const waterG = hold.watered ? waterGPerKg(dewC, 100, hold.pressurePa) : Number.NaN;
  return !(waterG < hold.waterLeastGPerKg || waterG > hold.waterMostGPerKg);
}

/** Whether slab, air and humidity of a member that goes so far are surely within their limits at every step. */
export function conditionsAlwaysHold(
  reach: Reach,
  index: number,
  { slabLeastC, slabMostC, sure, watered }: Hold,
): boolean {
  const at = (column: Float64Array) => column[index] as number;
  return (
    at(reach.lowSlabC) >= slabLeastC &&
    at(reach.highSlabC) <= slabMostC &&
    at(reach.lowAirC) >= sure.airLeastC &&
    at(reach.highAirC) <= sure.airMostC &&
    at(reach.lowGapK) >= sure.dryFromK &&
    at(reach.highGapK) <= sure.dampToK &&
    !watered
  );
}
