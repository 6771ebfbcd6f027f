// What slabs are made of: conductivity, density and heat of the usual materials, and what follows from them.
import { demandPositive } from "#core/guard.ts";

export interface Material {
  readonly conductivityWPerMK: number;
  readonly densityKgPerM3: number;
  readonly heatJPerKgK: number;
}

/**
 * Sources: stone-mix concrete from Incropera et al., 7th ed., table A.3; steel from CIBSE Guide A, table 3.36;
 * the others from EN ISO 10456:2007, table 3 (from memory). Real slabs differ by a quarter; the outlook fits its own.
 */
export const MATERIALS = {
  concreteStoneMix: { conductivityWPerMK: 1.4, densityKgPerM3: 2300, heatJPerKgK: 880 },
  concrete1800: { conductivityWPerMK: 1.15, densityKgPerM3: 1800, heatJPerKgK: 1000 },
  concrete2000: { conductivityWPerMK: 1.35, densityKgPerM3: 2000, heatJPerKgK: 1000 },
  concrete2200: { conductivityWPerMK: 1.65, densityKgPerM3: 2200, heatJPerKgK: 1000 },
  concrete2400: { conductivityWPerMK: 2.0, densityKgPerM3: 2400, heatJPerKgK: 1000 },
  concreteSteel1Pct: { conductivityWPerMK: 2.3, densityKgPerM3: 2300, heatJPerKgK: 1000 },
  concreteSteel2Pct: { conductivityWPerMK: 2.5, densityKgPerM3: 2400, heatJPerKgK: 1000 },
  epoxy: { conductivityWPerMK: 0.2, densityKgPerM3: 1200, heatJPerKgK: 1400 },
  steel: { conductivityWPerMK: 45, densityKgPerM3: 7800, heatJPerKgK: 480 },
  /** Moist soil under a building; round values, common practice, no source. */
  soil: { conductivityWPerMK: 1.5, densityKgPerM3: 1800, heatJPerKgK: 1200 },
  /** Rigid foam board; round values, common practice, no source. */
  foam: { conductivityWPerMK: 0.035, densityKgPerM3: 30, heatJPerKgK: 1450 },
} as const satisfies Record<string, Material>;

/** How fast temperature spreads, m²/s: k / (rho c). */
export function diffusivityM2PerS(material: Material): number {
  demandPositive("densityKgPerM3 x heatJPerKgK", material.densityKgPerM3 * material.heatJPerKgK);
  return material.conductivityWPerMK / (material.densityKgPerM3 * material.heatJPerKgK);
}

/** How much a surface resists a change, J/(m² K s^0.5): sqrt(k rho c). */
export function effusivityJPerM2KSqrtS(material: Material): number {
  return Math.sqrt(material.conductivityWPerMK * material.densityKgPerM3 * material.heatJPerKgK);
}

/** Depth, m, at which a swing of this period has shrunk to 37 %: sqrt(alpha period / pi); 0.14 m for a day in concrete. */
export function dampingDepthM(material: Material, periodS: number): number {
  demandPositive("periodS", periodS);
  return Math.sqrt((diffusivityM2PerS(material) * periodS) / Math.PI);
}

/** Temperature, °C, at which two thick bodies meet at first touch: cold slab under warm resin. Weighted by effusivity. */
export function contactC(effusivityA: number, tempAC: number, effusivityB: number, tempBC: number): number {
  demandPositive("effusivityA", effusivityA);
  demandPositive("effusivityB", effusivityB);
  return (effusivityA * tempAC + effusivityB * tempBC) / (effusivityA + effusivityB);
}
