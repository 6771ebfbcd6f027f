// Dew point and frost point. Convention: relative humidity and dew point are over liquid water at ALL temperatures
// (WMO guide No. 8, METAR, humidity sensors). Other makers mean ice below 0 °C: their "dew point" is our frost point.
import { OVER_ICE, OVER_WATER, RH_RANGE_PCT, saturationTempC, TEMP_RANGE_C } from "#core/air/vapour.ts";
import { demandWithin, type ValidRange } from "#core/guard.ts";

/** Dew and frost points that can be turned into each other and into humidity, °C. */
export const DEW_POINT_RANGE_C: ValidRange = { min: -150, max: 105 };

/** ln(rh/100) + a t/(b + t): the logarithm of the vapour pressure over e0. */
function logVapour(airC: number, rhPct: number): number {
  demandWithin("airC", airC, TEMP_RANGE_C);
  demandWithin("rhPct", rhPct, RH_RANGE_PCT);
  return Math.log(rhPct / 100) + (OVER_WATER.a * airC) / (OVER_WATER.bC + airC);
}

/**
 * Dew point over liquid water, °C. `airC` and `rhPct` from the same chip.
 * Within 0.04 K of the IAPWS and Murphy-Koop reference for 5 to 40 °C and 30 % or more, 0.09 K from -30 to 50 °C and 5 % up.
 */
export function dewPointC(airC: number, rhPct: number): number {
  const log = logVapour(airC, rhPct);
  return (OVER_WATER.bC * log) / (OVER_WATER.a - log);
}

/** Derivatives of the dew point: K per K of air temperature and K per 1 % of relative humidity. Analytic. */
export interface DewPointSlope {
  readonly kPerK: number;
  readonly kPerRhPct: number;
}

export function dewPointSlope(airC: number, rhPct: number): DewPointSlope {
  const log = logVapour(airC, rhPct);
  const { a, bC } = OVER_WATER;
  const perLog = (a * bC) / (a - log) ** 2;
  return { kPerK: (perLog * a * bC) / (bC + airC) ** 2, kPerRhPct: perLog / rhPct };
}

/** Relative humidity over water, %, of air at `airC` with this dew point; above 100 if the dew point is the higher one. */
export function rhPctFromDewPoint(airC: number, dewPointC: number): number {
  demandWithin("airC", airC, TEMP_RANGE_C);
  demandWithin("dewPointC", dewPointC, DEW_POINT_RANGE_C);
  return 100 * Math.exp(magnusExponent(OVER_WATER, dewPointC) - magnusExponent(OVER_WATER, airC));
}

/**
 * Frost point, °C: where vapour settles as ice. Humidity over water in, result over ice, so it lies above the dew point
 * (a dew point of -5.64 is a frost point of -5). At dew points above 0 °C there is no frost: the dew point is given.
 */
export function frostPointC(airC: number, rhPct: number): number {
  return frostPointFromDewPointC(dewPointC(airC, rhPct));
}

/** Frost point, °C, of the same vapour; a dew point above 0 °C is given back. Within 0.02 K from -40 to 0 °C. */
export function frostPointFromDewPointC(dewPointC: number): number {
  demandWithin("dewPointC", dewPointC, DEW_POINT_RANGE_C);
  if (dewPointC > 0) return dewPointC;
  return saturationTempC(OVER_ICE, OVER_WATER.e0Pa * Math.exp(magnusExponent(OVER_WATER, dewPointC)));
}

/** Dew point, °C, of the same vapour; a frost point above 0 °C cannot be one and is given back as a dew point. */
export function dewPointFromFrostPointC(frostPointC: number): number {
  demandWithin("frostPointC", frostPointC, DEW_POINT_RANGE_C);
  if (frostPointC > 0) return frostPointC;
  return saturationTempC(OVER_WATER, OVER_ICE.e0Pa * Math.exp(magnusExponent(OVER_ICE, frostPointC)));
}

function magnusExponent(set: { readonly a: number; readonly bC: number }, tempC: number): number {
  return (set.a * tempC) / (set.bC + tempC);
}
