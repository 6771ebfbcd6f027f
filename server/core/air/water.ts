// Water in air: humidity ratio, absolute humidity, and the air pressure that they need.
import { vapourPa } from "#core/air/vapour.ts";
import { demandNotNegative, demandWithin, type ValidRange } from "#core/guard.ts";
import { kelvinFromC } from "#core/units.ts";

/** Molar mass of water over that of dry air (ASHRAE Fundamentals 2017, chapter 1, equation 20). */
export const WATER_TO_AIR = 0.621945;
/** Specific gas constants, J/(kg K): water vapour (IAPWS-95) and dry air (ASHRAE 2017, chapter 1). */
export const GAS_WATER_J_PER_KG_K = 461.523;
export const GAS_AIR_J_PER_KG_K = 287.042;
/** Standard pressure at sea level, Pa. */
export const SEA_LEVEL_PA = 101_325;
/** Pressures taken, Pa: from above the highest town to below the lowest valley. */
export const PRESSURE_RANGE_PA: ValidRange = { min: 30_000, max: 120_000 };
/** Altitudes taken, m. */
export const ALTITUDE_RANGE_M: ValidRange = { min: -1000, max: 9000 };

/** Air pressure, Pa, of the standard atmosphere at an altitude, m. ISO 2533 as ASHRAE 2017, chapter 1, equation 3. */
export function pressureAtAltitudePa(altitudeM: number): number {
  demandWithin("altitudeM", altitudeM, ALTITUDE_RANGE_M);
  return SEA_LEVEL_PA * (1 - 2.25577e-5 * altitudeM) ** 5.2559;
}

/** Humidity ratio, g of water per kg of dry air, from a vapour pressure. Ideal gas: up to 0.6 % below a real gas. */
export function waterGPerKgFromVapour(vapourPressurePa: number, pressurePa: number): number {
  demandWithin("pressurePa", pressurePa, PRESSURE_RANGE_PA);
  demandWithin("vapourPressurePa", vapourPressurePa, { min: 0, max: 0.9 * pressurePa });
  return (1000 * WATER_TO_AIR * vapourPressurePa) / (pressurePa - vapourPressurePa);
}

/** Humidity ratio, g of water per kg of dry air; humidity over liquid water. Within 0.15 % of the ideal-gas reference from 5 to 40 °C, 0.5 % from -30 to 50 °C. */
export function waterGPerKg(airC: number, rhPct: number, pressurePa: number): number {
  return waterGPerKgFromVapour(vapourPa(airC, rhPct), pressurePa);
}

/** Vapour pressure, Pa, of air with this humidity ratio, g per kg of dry air: the inverse of the ratio. */
export function vapourPaFromWater(waterGPerKg: number, pressurePa: number): number {
  demandNotNegative("waterGPerKg", waterGPerKg);
  demandWithin("pressurePa", pressurePa, PRESSURE_RANGE_PA);
  const ratio = waterGPerKg / 1000;
  return (ratio * pressurePa) / (WATER_TO_AIR + ratio);
}

/** Absolute humidity, g of water per m³ of moist air, by the gas law of water vapour. */
export function waterGPerM3(airC: number, rhPct: number): number {
  return (1000 * vapourPa(airC, rhPct)) / (GAS_WATER_J_PER_KG_K * kelvinFromC(airC));
}

/** Density of moist air, kg/m³, by the gas laws of its two parts. */
export function airDensityKgPerM3(airC: number, rhPct: number, pressurePa: number): number {
  demandWithin("pressurePa", pressurePa, PRESSURE_RANGE_PA);
  const vapour = vapourPa(airC, rhPct);
  const tempK = kelvinFromC(airC);
  return (pressurePa - vapour) / (GAS_AIR_J_PER_KG_K * tempK) + vapour / (GAS_WATER_J_PER_KG_K * tempK);
}
