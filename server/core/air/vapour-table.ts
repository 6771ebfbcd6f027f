// Saturation pressure from a table: for ensembles, which ask a hundred thousand times an outlook.
import { OVER_WATER, saturationVapourPa } from "#core/air/vapour.ts";

const TABLE = { fromC: -80, toC: 90, perK: 10 } as const;
const SATURATED_PA = Float64Array.from({ length: (TABLE.toC - TABLE.fromC) * TABLE.perK + 1 }, (_, index) =>
  saturationVapourPa(TABLE.fromC + index / TABLE.perK),
);

/** The end that is held. */
const LAST = SATURATED_PA.length - 2;

/** Saturation pressure over water, Pa, from a table in tenths of a degree: within 0.001 %; ends held; NaN for NaN. */
export function saturatedPa(tempC: number): number {
  const place = (tempC - TABLE.fromC) * TABLE.perK;
  if (!(place > 0)) return place <= 0 ? (SATURATED_PA[0] as number) : Number.NaN;
  if (place >= LAST) return SATURATED_PA[LAST] as number;
  // Above zero: cut is floored.
  const low = place | 0;
  const from = SATURATED_PA[low] as number;
  return from + ((SATURATED_PA[low + 1] as number) - from) * (place - low);
}

/** Dew point, °C, of a vapour pressure: the inverse. */
export function dewPointOfPa(pa: number): number {
  const log = Math.log(pa / OVER_WATER.e0Pa);
  return (OVER_WATER.bC * log) / (OVER_WATER.a - log);
}
