// Wet-bulb temperature: what a wetted surface in moving air comes to.
import { frostPointC } from "#core/air/dew-point.ts";
import { saturationIcePa, saturationVapourPa } from "#core/air/vapour.ts";
import { waterGPerKg, waterGPerKgFromVapour } from "#core/air/water.ts";

/** Halvings of a bracket of at most 200 K: to 1e-10 K. */
const HALVINGS = 41;

/** Humidity ratio, g/kg, of air at `airC` whose wet bulb is `wetC`: ASHRAE 2017, chapter 1, equations 33 and 35 (ice below 0). */
function waterAtWetBulb(airC: number, wetC: number, pressurePa: number): number {
  const iced = wetC < 0;
  const saturated = waterGPerKgFromVapour(iced ? saturationIcePa(wetC) : saturationVapourPa(wetC), pressurePa) / 1000;
  const kgPerKg = iced
    ? ((2830 - 0.24 * wetC) * saturated - 1.006 * (airC - wetC)) / (2830 + 1.86 * airC - 2.1 * wetC)
    : ((2501 - 2.326 * wetC) * saturated - 1.006 * (airC - wetC)) / (2501 + 1.86 * airC - 4.186 * wetC);
  return 1000 * kgPerKg;
}

/**
 * Thermodynamic wet bulb, °C, over ice below 0 °C; humidity over liquid water. Within 0.05 K from -30 to 50 °C.
 * Air that is supersaturated over ice has none: RangeError.
 */
export function wetBulbC(airC: number, rhPct: number, pressurePa: number): number {
  const water = waterGPerKg(airC, rhPct, pressurePa);
  const settles = frostPointC(airC, rhPct);
  if (settles > airC + 1e-9)
    throw new RangeError(`air of ${airC} °C and ${rhPct} % is supersaturated: it has no wet bulb`);
  let low = settles;
  let high = airC;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (waterAtWetBulb(airC, middle, pressurePa) > water) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
