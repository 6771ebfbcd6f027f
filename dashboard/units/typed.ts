// Reads the numbers that people type, in their own units, into those used inside.
import { cFromF } from "#core/units.ts";
import type { UnitSystem } from "./show.ts";

/** A typed number; a comma counts as the decimal point, a true minus sign as minus. null when empty, NaN when it is none. */
export function numberFromTyped(text: string): number | null {
  const trimmed = text.trim().replace(",", ".").replace("−", "-");
  if (trimmed === "") return null;
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(trimmed) ? Number(trimmed) : Number.NaN;
}

/** °C from what was typed in the person's degrees, to a hundredth. */
export function cFromTyped(text: string, units: UnitSystem): number | null {
  const value = numberFromTyped(text);
  if (value === null || Number.isNaN(value)) return value;
  return Math.round((units === "us" ? cFromF(value) : value) * 100) / 100;
}

export function degreeSign(units: UnitSystem): string {
  return units === "us" ? "°F" : "°C";
}
