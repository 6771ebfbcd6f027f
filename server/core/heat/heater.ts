// A heater: its power, its fuel, whether its fumes stay in the room, and what it burns.
import { type HeaterFuel, HYDROCARBONS } from "#core/air/combustion.ts";
import { demandNotNegative } from "#core/guard.ts";

export interface Heater {
  /** Rated heat of all heaters together. */
  readonly kW: number;
  readonly fuel: HeaterFuel;
  /** false: the fumes, and their water, stay in the room. */
  readonly vented: boolean;
}

/** One stretch of heating: steps of the course in which the heater may run, `toStep` not included, and its thermostat. */
export interface HeatStretch {
  readonly fromStep: number;
  readonly toStep: number;
  readonly targetC: number;
}
export type HeatSchedule = readonly HeatStretch[];

/** Share of the fuel's heat that a vented heater leaves in the room; the rest goes out with the fumes. Common practice, no source. */
const VENTED_SHARE = 0.8;
/** Liquid fuel at 15 °C, kg/L: usual engineering tables (from memory). */
const KG_PER_L: Partial<Record<HeaterFuel, number>> = { propane: 0.508, kerosene: 0.8, diesel: 0.84 };

/** Fuel burnt, kg and litres of liquid; `litres` null for a gas out of a pipe. */
export interface FuelUse {
  readonly kg: number;
  readonly litres: number | null;
}

/**
 * Fuel for `heatKWh` of heat in the room; null for a socket and for a fuel that nobody named. Reckoned with the net
 * heating value, which takes about 8 % more than the gross one, so that nobody runs out. Within 10 %.
 */
export function fuelFor(heater: Heater, heatKWh: number): FuelUse | null {
  demandNotNegative("heatKWh", heatKWh);
  const { fuel, vented } = heater;
  if (fuel === "electric" || fuel === "other") return null;
  const kg = (3.6 * heatKWh) / HYDROCARBONS[fuel].netMJPerKg / (vented ? VENTED_SHARE : 1);
  const kgPerL = KG_PER_L[fuel];
  return { kg, litres: kgPerL === undefined ? null : kg / kgPerL };
}
