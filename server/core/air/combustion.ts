// Water and carbon dioxide from burning fuel in the room: what an unvented heater adds to the air with its heat.
// Unvented exhaust also carries carbon monoxide: local code and the heater's own manual rule, these numbers do not.
import { demandNotNegative, demandPositive } from "#core/guard.ts";

/** Molar masses, g/mol (CIAAW standard atomic weights, conventional). */
const CARBON = 12.011;
const HYDROGEN = 1.008;
const OXYGEN = 15.999;
const WATER = 2 * HYDROGEN + OXYGEN;
const CARBON_DIOXIDE = CARBON + 2 * OXYGEN;

/** A hydrocarbon: atoms of a molecule (or their ratio) and heating values, gross (HHV) and net (LHV). */
export interface Hydrocarbon {
  readonly carbon: number;
  readonly hydrogen: number;
  readonly grossMJPerKg: number;
  readonly netMJPerKg: number;
}

/** Heating values: Perry's and usual engineering tables (from memory). Natural gas as methane. */
export const HYDROCARBONS = {
  propane: { carbon: 3, hydrogen: 8, grossMJPerKg: 50.35, netMJPerKg: 46.35 },
  "natural-gas": { carbon: 1, hydrogen: 4, grossMJPerKg: 55.5, netMJPerKg: 50.01 },
  butane: { carbon: 4, hydrogen: 10, grossMJPerKg: 49.5, netMJPerKg: 45.75 },
  kerosene: { carbon: 12, hydrogen: 23, grossMJPerKg: 46.2, netMJPerKg: 43.1 },
  diesel: { carbon: 12, hydrogen: 22.2, grossMJPerKg: 45.6, netMJPerKg: 42.8 },
} as const satisfies Record<string, Hydrocarbon>;

/** What a heater runs on; `other` is reckoned as the wettest known, since an unknown is never good news. */
export type HeaterFuel = keyof typeof HYDROCARBONS | "electric" | "other";

/** Water from complete burning, kg per kg of fuel: (m/2) H2O from CnHm. Propane 1.634, not the 2.6 that one page prints. */
export function burntWaterKgPerKg(fuel: Hydrocarbon): number {
  return ((fuel.hydrogen / 2) * WATER) / molarMass(fuel);
}

/** Carbon dioxide from complete burning, kg per kg of fuel. */
export function burntCo2KgPerKg(fuel: Hydrocarbon): number {
  return (fuel.carbon * CARBON_DIOXIDE) / molarMass(fuel);
}

/** Water, kg per kWh of fuel energy; `net` counts the energy without the heat of that water, so it gives more. */
export function burntWaterKgPerKWh(fuel: Hydrocarbon, basis: "gross" | "net"): number {
  return (3.6 * burntWaterKgPerKg(fuel)) / (basis === "gross" ? fuel.grossMJPerKg : fuel.netMJPerKg);
}

/**
 * Water that a heater of `powerKW` sets free in the room, kg/h. Plates may state gross or net power; the net basis, the
 * wetter one, is taken unless it is known. A vented heater adds none.
 */
export function heaterWaterKgPerH(
  fuel: HeaterFuel,
  powerKW: number,
  vented: boolean,
  basis: "gross" | "net" = "net",
): number {
  demandNotNegative("powerKW", powerKW);
  if (vented || fuel === "electric") return 0;
  return powerKW * burntWaterKgPerKWh(HYDROCARBONS[fuel === "other" ? "natural-gas" : fuel], basis);
}

function molarMass(fuel: Hydrocarbon): number {
  demandPositive("carbon", fuel.carbon);
  demandNotNegative("hydrogen", fuel.hydrogen);
  return fuel.carbon * CARBON + fuel.hydrogen * HYDROGEN;
}
