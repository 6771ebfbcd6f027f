// Lengths and areas of a floor: shown and typed in the person's own units, m and m2 inside.
import { ft2FromM2, ftFromM, m2FromFt2, mFromFt } from "#core/units.ts";
import { plain, type UnitSystem } from "./show.ts";
import { numberFromTyped } from "./typed.ts";

const NBSP = "\u00a0";

export const lengthSign = (units: UnitSystem) => (units === "us" ? "ft" : "m");
export const areaSign = (units: UnitSystem) => (units === "us" ? "ft²" : "m²");

/** A length as a bare number, for a field. */
export const lengthNumber = (lengthM: number, units: UnitSystem) =>
  plain(units === "us" ? ftFromM(lengthM) : lengthM, units === "us" ? 1 : 2);
export const showLength = (lengthM: number, units: UnitSystem) =>
  `${lengthNumber(lengthM, units)}${NBSP}${lengthSign(units)}`;
export const areaNumber = (areaM2: number, units: UnitSystem) =>
  plain(units === "us" ? ft2FromM2(areaM2) : areaM2, units === "us" ? 0 : 1);

/** m from what was typed; null when empty, NaN when it is no number. */
export function mFromTyped(text: string, units: UnitSystem): number | null {
  const value = numberFromTyped(text);
  return value === null ? null : units === "us" ? mFromFt(value) : value;
}

export function m2FromTyped(text: string, units: UnitSystem): number | null {
  const value = numberFromTyped(text);
  return value === null ? null : units === "us" ? m2FromFt2(value) : value;
}
