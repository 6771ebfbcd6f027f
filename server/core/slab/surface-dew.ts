// Dew on the slab: how fast water settles on the surface or leaves it, and the balance of what lies there.
import { latentHeatKJPerKg, SUBLIMATION_KJ_PER_KG } from "#core/air/latent-heat.ts";
import { saturationIcePa, saturationVapourPa, vapourPa } from "#core/air/vapour.ts";
import { PRESSURE_RANGE_PA, SEA_LEVEL_PA, WATER_TO_AIR } from "#core/air/water.ts";
import { demandNotNegative, demandWithin } from "#core/guard.ts";

/** Heat of moist air, J/(kg K), and the Lewis number of vapour in air to the power 2/3. ASHRAE Fundamentals 2017, chapter 6. */
const AIR_HEAT_J_PER_KG_K = 1006;
const LEWIS_TO_2_3 = 0.845 ** (2 / 3);

/**
 * Convection between air and a floor, W/(m² K), without radiation, which carries no water: still air over a colder floor,
 * still air over a warmer floor, air moved by a fan. The first two from ISO 6946 annex C (from memory).
 */
export const FLOOR_CONVECTION_W_PER_M2K = { coldFloor: 0.7, warmFloor: 5, fan: 8 } as const;

/**
 * Water settling on a surface, g/(m² h); negative = what a wet surface would lose. By the Lewis relation from the
 * convective film coefficient and the two vapour pressures; over ice below 0 °C. Within about 15 %, the film being known.
 */
export function dewRateGPerM2H(
  slabC: number,
  airC: number,
  rhPct: number,
  filmWPerM2K: number,
  pressurePa: number = SEA_LEVEL_PA,
): number {
  demandNotNegative("filmWPerM2K", filmWPerM2K);
  demandWithin("pressurePa", pressurePa, PRESSURE_RANGE_PA);
  const surfacePa = slabC < 0 ? saturationIcePa(slabC) : saturationVapourPa(slabC);
  const massKgPerM2SPa = (filmWPerM2K * WATER_TO_AIR) / (AIR_HEAT_J_PER_KG_K * LEWIS_TO_2_3 * pressurePa);
  return massKgPerM2SPa * (vapourPa(airC, rhPct) - surfacePa) * 3_600_000;
}

/** Water on the surface, g/m², after `hours` at this rate: never below zero. */
export function surfaceWaterGPerM2(waterGPerM2: number, rateGPerM2H: number, hours: number): number {
  demandNotNegative("waterGPerM2", waterGPerM2);
  demandNotNegative("hours", hours);
  if (Number.isNaN(rateGPerM2H)) throw new RangeError("rateGPerM2H is not a number");
  return Math.max(0, waterGPerM2 + rateGPerM2H * hours);
}

/** Heat that this dew brings to the surface, W/m²; negative while it dries. */
export function dewHeatWPerM2(rateGPerM2H: number, slabC: number): number {
  const latentKJPerKg = slabC < 0 ? SUBLIMATION_KJ_PER_KG : latentHeatKJPerKg(slabC);
  return (rateGPerM2H / 3600) * latentKJPerKg;
}
