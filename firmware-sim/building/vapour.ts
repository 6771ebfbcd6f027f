// Vapour arithmetic of the simulated building. It is not the server's: two makers of one number keep each other honest.

/** Gas constant of air over that of water vapour. */
const RATIO = 0.621945;

/**
 * Saturation pressure, Pa, over water (ice below 0 °C). Range -100 to 60 °C, within 0.1 %.
 * Source: Murphy and Koop 2005, Q. J. R. Meteorol. Soc. 131, equations 7 and 10.
 */
export function saturationPa(tempC: number): number {
  const tK = tempC + 273.15;
  if (tempC < 0) return Math.exp(9.550426 - 5723.265 / tK + 3.53068 * Math.log(tK) - 0.00728332 * tK);
  const ln = 54.842763 - 6763.22 / tK - 4.21 * Math.log(tK) + 0.000367 * tK;
  const bend = 53.878 - 1331.22 / tK - 9.44523 * Math.log(tK) + 0.014025 * tK;
  return Math.exp(ln + Math.tanh(0.0415 * (tK - 218.8)) * bend);
}

/** Saturation pressure over (supercooled) water at any temperature: what humidity sensors refer to. */
export function saturationOverWaterPa(tempC: number): number {
  const tK = tempC + 273.15;
  const ln = 54.842763 - 6763.22 / tK - 4.21 * Math.log(tK) + 0.000367 * tK;
  const bend = 53.878 - 1331.22 / tK - 9.44523 * Math.log(tK) + 0.014025 * tK;
  return Math.exp(ln + Math.tanh(0.0415 * (tK - 218.8)) * bend);
}

/** Kilograms of vapour per kilogram of dry air. */
export function waterKgPerKg(vapourPa: number, pressurePa: number): number {
  return (RATIO * vapourPa) / (pressurePa - vapourPa);
}

export function vapourPaOf(waterKg: number, pressurePa: number): number {
  return (waterKg * pressurePa) / (RATIO + waterKg);
}

/** Temperature, °C, at which `vapourPa` saturates over water; by Newton's steps on the logarithm, to 1e-6 K. */
export function dewPointOverWaterC(vapourPa: number): number {
  let tempC = 10;
  for (let i = 0; i < 30; i++) {
    const here = Math.log(saturationOverWaterPa(tempC) / vapourPa);
    const slope =
      (Math.log(saturationOverWaterPa(tempC + 0.01)) - Math.log(saturationOverWaterPa(tempC - 0.01))) / 0.02;
    const step = here / slope;
    tempC -= step;
    if (Math.abs(step) < 1e-6) return tempC;
  }
  throw new RangeError(`no dew point for ${vapourPa} Pa`);
}

/** Standard pressure at a height (ISA troposphere), Pa. */
export function pressureAtPa(altitudeM: number): number {
  return 101_325 * (1 - 2.25577e-5 * altitudeM) ** 5.25588;
}
