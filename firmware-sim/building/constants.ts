// Round properties of indoor air and water used by the simulated building.

export const AIR_KG_PER_M3 = 1.22;
export const AIR_HEAT_J_PER_KG_K = 1006;
/** Vaporisation near 10 °C; IAPWS-97 gives 2 477 kJ/kg at 10 °C. */
export const LATENT_J_PER_KG = 2.477e6;
