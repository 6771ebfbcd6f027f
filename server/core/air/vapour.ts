// Saturation pressure of water vapour over water and over ice, their inverses, and vapour pressure from humidity.
import { demandPositive, demandWithin, type ValidRange } from "#core/guard.ts";

/** e = e0 exp(a t / (b + t)): a Magnus form. It is cheap and its inverse is exact. */
export interface MagnusSet {
  readonly e0Pa: number;
  readonly a: number;
  readonly bC: number;
}

/**
 * Over liquid water, supercooled too. Bolton 1980, Mon. Weather Rev. 108, 1046-1053, equation 10.
 * Against the reference formulations of IAPWS and Murphy-Koop: 0.13 % at most from 5 to 40 °C, 0.41 % from -30 to 50 °C.
 * It was chosen among seven such sets for its error where slabs live, and because it meets the ice curve at 0 °C exactly.
 */
export const OVER_WATER: MagnusSet = { e0Pa: 611.2, a: 17.67, bC: 243.5 };

/** Over ice. Sonntag 1990, Z. Meteorol. 70, 340-344, as in the WMO guide No. 8; within 0.1 % of IAPWS from -30 to 0 °C. */
export const OVER_ICE: MagnusSet = { e0Pa: 611.2, a: 22.46, bC: 272.62 };

/** Temperatures taken, °C. Stated accuracies hold from -30 to 50; beyond, 1.3 % at 70 and 3.4 % at 100. */
export const TEMP_RANGE_C: ValidRange = { min: -80, max: 100 };
/** Ice exists up to 0 °C; a little beyond is allowed for the meeting of both curves. */
export const ICE_TEMP_RANGE_C: ValidRange = { min: -100, max: 0.01 };
/** Relative humidities, %. Some sensors say a little more than 100 when they are wet. */
export const RH_RANGE_PCT: ValidRange = { min: 0.001, max: 110 };

/** Saturation pressure over liquid water, Pa; `tempC` in TEMP_RANGE_C; within 0.41 % from -30 to 50 °C. */
export function saturationVapourPa(tempC: number): number {
  demandWithin("tempC", tempC, TEMP_RANGE_C);
  return OVER_WATER.e0Pa * Math.exp((OVER_WATER.a * tempC) / (OVER_WATER.bC + tempC));
}

/** Saturation pressure over ice, Pa; `tempC` in ICE_TEMP_RANGE_C; within 0.1 % from -30 to 0 °C. */
export function saturationIcePa(tempC: number): number {
  demandWithin("tempC", tempC, ICE_TEMP_RANGE_C);
  return OVER_ICE.e0Pa * Math.exp((OVER_ICE.a * tempC) / (OVER_ICE.bC + tempC));
}

/** Vapour pressure of air, Pa. Relative humidity counts over liquid water at all temperatures, as sensors report it. */
export function vapourPa(airC: number, rhPct: number): number {
  demandWithin("airC", airC, TEMP_RANGE_C);
  demandWithin("rhPct", rhPct, RH_RANGE_PCT);
  return (rhPct / 100) * saturationVapourPa(airC);
}

/** Relative humidity over water, %, of air at `airC` that holds `pressurePa` of vapour; above 100 = supersaturated. */
export function rhPctFromVapour(airC: number, pressurePa: number): number {
  demandPositive("pressurePa", pressurePa);
  return (100 * pressurePa) / saturationVapourPa(airC);
}

/** Temperature, °C, at which `pressurePa` of vapour is saturated over the set's surface: the exact inverse of the form. */
export function saturationTempC(set: MagnusSet, pressurePa: number): number {
  demandPositive("pressurePa", pressurePa);
  const log = Math.log(pressurePa / set.e0Pa);
  return (set.bC * log) / (set.a - log);
}
