// Saturation pressure from a table: for ensembles, which ask a hundred thousand times an outlook.
import { OVER_WATER, saturationVapourPa } from "#core/air/vapour.ts";

const TABLE = { fromC: -80, toC: 90, perK: 10 } as const;
const SATURATED_PA = Float64Array.from({ length: (TABLE.toC - TABLE.fromC) * TABLE.perK + 1 }, (_, index) =>
  saturationVapourPa(TABLE.fromC + index / TABLE.perK),
);

/** From each entry to the next. */
const RISE_PA = SATURATED_PA.map((pa, index) => (SATURATED_PA[index + 1] ?? pa) - pa);

/** The end that is held. */
const LAST = SATURATED_PA.length - 2;

/** Saturation pressure over water, Pa, from a table in tenths of a degree: within 0.001 %; ends held; NaN for NaN. */
export function saturatedPa(tempC: number): number {
  const place = (tempC - TABLE.fromC) * TABLE.perK;
  if (!(place > 0)) return place <= 0 ? (SATURATED_PA[0] as number) : Number.NaN;
  if (place >= LAST) return SATURATED_PA[LAST] as number;
  // Above zero: cut is floored.
  const low = place | 0;
  return (SATURATED_PA[low] as number) + (RISE_PA[low] as number) * (place - low);
}

/** Logarithm of a vapour pressure, Pa, over that at 0 °C. */
export const logOfPa = (pa: number): number => Math.log(pa / OVER_WATER.e0Pa);

/** Dew point, °C, of the logarithm of a vapour pressure: the inverse. */
export const dewPointOfLog = (log: number): number => (OVER_WATER.bC * log) / (OVER_WATER.a - log);

/** By how much the logarithm of a pressure changes may be summed up to this share; beyond, it is asked for. */
const SMALL = 0.04;

/**
 * The logarithm of `pa` from that of a pressure near it: four terms of the series for the logarithm of a ratio, which
 * cost less than asking for one. Within 1e-13.
 */
export function logFrom(lastLog: number, lastPa: number, pa: number): number {
  const ratio = (pa - lastPa) / (pa + lastPa);
  if (!(ratio < SMALL && ratio > -SMALL)) return logOfPa(pa);
  const square = ratio * ratio;
  return lastLog + ratio * (2 + square * (2 / 3 + square * (2 / 5 + square * (2 / 7))));
}
