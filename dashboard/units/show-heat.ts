// Heat, fuel and water with their units, in the person's own system.
import { btuFromKWh, btuPerHFromKW, kWFromBtuPerH, lbFromKg, usGalFromL } from "#core/units.ts";
import { plain, type UnitSystem } from "./show.ts";

const NBSP = "\u00a0";

/** Three digits that count, thousands apart: "819,000". */
function grouped(value: number): string {
  const size = Math.abs(value);
  if (size < 100) return plain(value, size < 10 ? 1 : 0);
  const step = 10 ** (Math.floor(Math.log10(size)) - 2);
  return String(Math.round(value / step) * step).replace(/\B(?=(\d{3})+$)/g, ",");
}

/** The unit in which heaters are sold: thousands of BTU an hour, or kW. */
export const powerUnit = (system: UnitSystem) => (system === "us" ? "1000 BTU/h" : "kW");
/** kW to the number that stands before `powerUnit`. */
export const powerFromKW = (kW: number, system: UnitSystem) => (system === "us" ? btuPerHFromKW(kW) / 1000 : kW);
export const kWFromPower = (power: number, system: UnitSystem) =>
  system === "us" ? kWFromBtuPerH(power * 1000) : power;

export function showPower(kW: number, system: UnitSystem): string {
  return system === "us" ? `${grouped(btuPerHFromKW(kW))}${NBSP}BTU/h` : `${plain(kW)}${NBSP}kW`;
}

/** Energy, both ways for crews that read BTU: what a meter counts is kWh everywhere. */
export function showEnergy(kWh: number, system: UnitSystem): string {
  const metric = `${grouped(kWh)}${NBSP}kWh`;
  return system === "us" ? `${grouped(btuFromKWh(kWh))}${NBSP}BTU (${metric})` : metric;
}

/** Fuel by volume where it is sold so, with its mass. */
export function showFuel(kg: number, litres: number | null, system: UnitSystem): string {
  const mass = system === "us" ? `${grouped(lbFromKg(kg))}${NBSP}lb` : `${grouped(kg)}${NBSP}kg`;
  if (litres === null) return mass;
  const volume = system === "us" ? `${grouped(usGalFromL(litres))}${NBSP}gal` : `${grouped(litres)}${NBSP}L`;
  return `${volume} (${mass})`;
}

/** Liquid water, 1 kg a litre. */
export function showWater(kg: number, system: UnitSystem): string {
  return system === "us" ? `${grouped(usGalFromL(kg))}${NBSP}gal` : `${grouped(kg)}${NBSP}L`;
}

/** Heat lost for each degree that inside is warmer than outside, W/K inside. */
export function showLoss(wPerK: number, system: UnitSystem): string {
  // A degree Fahrenheit is 5/9 of a kelvin.
  return system === "us"
    ? `${grouped(btuPerHFromKW(wPerK / 1000) / 1.8)}${NBSP}BTU/h·°F`
    : `${grouped(wPerK)}${NBSP}W/°C`;
}
