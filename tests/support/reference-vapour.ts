// Reference saturation pressures, far too slow for the hot path: the measure of the short form that the product uses.

/** Over water from 0 °C: IAPWS SR1-86(1992), Wagner and Pruss 2002, equation 2.5. Pa. */
function wagnerPrussPa(tempK: number): number {
  const v = 1 - tempK / 647.096;
  const sum =
    -7.85951783 * v +
    1.84408259 * v ** 1.5 -
    11.7866497 * v ** 3 +
    22.6807411 * v ** 3.5 -
    15.9618719 * v ** 4 +
    1.80122502 * v ** 7.5;
  return 22.064e6 * Math.exp((647.096 / tempK) * sum);
}

/** Over supercooled water: Murphy and Koop 2005, equation 10. Pa. */
function murphyKoopPa(tempK: number): number {
  const log = Math.log(tempK);
  const bend = Math.tanh(0.0415 * (tempK - 218.8)) * (53.878 - 1331.22 / tempK - 9.44523 * log + 0.014025 * tempK);
  return Math.exp(54.842763 - 6763.22 / tempK - 4.21 * log + 0.000367 * tempK + bend);
}

export function referenceWaterPa(tempC: number): number {
  return tempC >= 0 ? wagnerPrussPa(tempC + 273.15) : murphyKoopPa(tempC + 273.15);
}

/** Over ice: IAPWS R14-08(2011). Pa. */
export function referenceIcePa(tempC: number): number {
  const theta = (tempC + 273.15) / 273.16;
  const sum = -21.2144006 * theta ** 0.00333333333 + 27.3203819 * theta ** 1.20666667 - 6.1059813 * theta ** 1.70333333;
  return 611.657 * Math.exp(sum / theta);
}

/** Temperature, °C, at which the reference over water has this pressure: by halving, to 1e-9 K. */
export function referenceDewPointC(vapourPa: number): number {
  let low = -100;
  let high = 100;
  for (let i = 0; i < 48; i++) {
    const middle = (low + high) / 2;
    if (referenceWaterPa(middle) > vapourPa) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
