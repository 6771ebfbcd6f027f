// The node's own dew point, in the short arithmetic a small processor affords.

/**
 * Dew point over water, °C, from the same chip's temperature and humidity.
 * Magnus form with 17.27 and 237.3 (Tetens 1930); within 0.12 K of the exact value from -10 to 40 °C.
 */
export function nodeDewPointC(airC: number, rhPct: number): number {
  const gamma = Math.log(Math.max(1, rhPct) / 100) + (17.27 * airC) / (237.3 + airC);
  // Adding zero turns the minus zero of rounding into zero.
  return Math.round(((237.3 * gamma) / (17.27 - gamma)) * 100) / 100 + 0;
}
