// Humidity fixed points: the air over a saturated salt solution in a closed bag.
import { demandWithin, type ValidRange } from "#core/guard.ts";

export const SALTS = ["sodium-chloride", "magnesium-chloride"] as const;
export type Salt = (typeof SALTS)[number];

/** Temperatures of the table, °C. */
export const SALT_RANGE_C: ValidRange = { min: 0, max: 50 };
const STEP_K = 5;
/** % RH over water at 0, 5, ... 50 °C. */
const POINTS_PCT: Readonly<Record<Salt, readonly number[]>> = {
  "sodium-chloride": [75.51, 75.65, 75.67, 75.61, 75.47, 75.29, 75.09, 74.87, 74.68, 74.52, 74.43],
  "magnesium-chloride": [33.66, 33.6, 33.47, 33.3, 33.07, 32.78, 32.44, 32.05, 31.6, 31.1, 30.54],
};

/**
 * Relative humidity, %, over a saturated solution at `tempC` (0 to 50 °C), both at one temperature. Evaluated points of
 * L. Greenspan, J. Res. NBS 81A (1977) 89, stated there within 0.4 % RH, straight between the steps of 5 K (less than
 * 0.02 %). Table figures from memory; checked at 5 to 25 °C against a table that was read. Throws RangeError outside.
 */
export function saltPointPct(salt: Salt, tempC: number): number {
  demandWithin("tempC", tempC, SALT_RANGE_C);
  const table = POINTS_PCT[salt];
  const low = Math.min(table.length - 2, Math.floor(tempC / STEP_K));
  const from = table[low] as number;
  return from + ((table[low + 1] as number) - from) * (tempC / STEP_K - low);
}
