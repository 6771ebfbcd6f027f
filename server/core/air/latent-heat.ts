// Heat of turning water to vapour, and ice to vapour.
import { demandWithin, type ValidRange } from "#core/guard.ts";

export const LATENT_RANGE_C: ValidRange = { min: -40, max: 100 };

/** Latent heat of evaporation, kJ/kg. Within 0.02 % of IAPWS-IF97 from 0 to 40 °C, 0.4 % at 100 °C. */
export function latentHeatKJPerKg(tempC: number): number {
  demandWithin("tempC", tempC, LATENT_RANGE_C);
  return 2500.9 - 2.37 * tempC;
}

/** Latent heat of sublimation at 0 °C, kJ/kg; it changes by 0.2 % down to -40 °C. IAPWS R14-08 (from memory). */
export const SUBLIMATION_KJ_PER_KG = 2834;
