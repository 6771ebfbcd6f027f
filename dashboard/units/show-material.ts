// Amounts of material with their units, in the person's own system.
import { ft2PerUsGalFromMil, lbFromKg, milFromMm, usFlOzFromMl, usGalFromL } from "#core/units.ts";
import { plain, showArea, type UnitSystem } from "./show.ts";

const NBSP = "\u00a0";

/** Three digits that count: 0.264, 2.64, 26.4, 264. */
function counted(value: number): string {
  return plain(value, value >= 100 ? 0 : value >= 10 ? 1 : value >= 1 ? 2 : 3);
}

/** A volume; small ones in fluid ounces or millilitres, as they are measured out. */
export function showVolume(volumeL: number, system: UnitSystem): string {
  if (system === "us") {
    const gal = usGalFromL(volumeL);
    return gal < 0.25 ? `${counted(usFlOzFromMl(volumeL * 1000))}${NBSP}fl${NBSP}oz` : `${counted(gal)}${NBSP}gal`;
  }
  return volumeL < 1 ? `${plain(volumeL * 1000, 0)}${NBSP}mL` : `${counted(volumeL)}${NBSP}L`;
}

export function showMass(massKg: number, system: UnitSystem): string {
  if (system === "us") return `${counted(lbFromKg(massKg))}${NBSP}lb`;
  return massKg < 1 ? `${plain(massKg * 1000, 0)}${NBSP}g` : `${counted(massKg)}${NBSP}kg`;
}

/** Use of a coat as a rate, and the wet film that it makes. */
export function showUse(useLPerM2: number, system: UnitSystem): string {
  // 1 L/m² is a wet film of 1 mm.
  const mil = milFromMm(useLPerM2);
  return system === "us"
    ? `${plain(ft2PerUsGalFromMil(mil), 0)}${NBSP}ft²/gal (${plain(mil, 1)}${NBSP}mil)`
    : `${plain(useLPerM2, 2)}${NBSP}L/m² (${plain(useLPerM2 * 1000, 0)}${NBSP}µm)`;
}

export function showRate(m2PerH: number, system: UnitSystem): string {
  return `${showArea(m2PerH, system)}/h`;
}

/** Hours of work: "6.5 h". */
export function showHours(hours: number): string {
  return `${plain(hours, hours < 10 ? 1 : 0)}${NBSP}h`;
}
