// Numbers with their units, in the person's own system. Temperatures and temperature differences are separate functions.
import type { RuleUnit } from "#core/judge/call.ts";
import { fDifferenceFromK, fFromC, ft2FromM2, grPerLbFromGPerKg } from "#core/units.ts";

/** A number stays on the line of its unit. */
const NBSP = "\u00a0";

export type UnitSystem = "us" | "si";

/** Trims to at most `digits` decimals, drops trailing zeros and uses a true minus sign. */
export function plain(value: number, digits = 1): string {
  const text = String(Number(value.toFixed(digits)));
  return (text === "-0" ? "0" : text).replace("-", "−");
}

const other = (system: UnitSystem): UnitSystem => (system === "us" ? "si" : "us");

/** A temperature, °C inside. */
export function showTemperature(c: number, system: UnitSystem): string {
  return system === "us" ? `${plain(fFromC(c))}${NBSP}°F` : `${plain(c)}${NBSP}°C`;
}

/** A temperature difference, K inside; on the screen °F or °C, never K. */
export function showDifference(k: number, system: UnitSystem): string {
  return system === "us" ? `${plain(fDifferenceFromK(k))}${NBSP}°F` : `${plain(k)}${NBSP}°C`;
}

export function showArea(m2: number, system: UnitSystem): string {
  return system === "us" ? `${Math.round(ft2FromM2(m2))}${NBSP}ft²` : `${plain(m2, m2 < 20 ? 1 : 0)}${NBSP}m²`;
}

export function showPercent(pct: number): string {
  return `${plain(pct, 0)}${NBSP}%`;
}

/** A chance 0..1. Never shown as 0 or 100 %: nothing about a night is certain. */
export function showChance(chance: number): string {
  return `${Math.min(99, Math.max(1, Math.round(chance * 100)))}${NBSP}%`;
}

/** A length of time: "35 min", "2 h 40", "3 d 4 h". The same in both languages. */
export function showDuration(ms: number): string {
  const minutes = Math.max(0, Math.round(Math.abs(ms) / 60_000));
  if (minutes < 120)
    return minutes < 100 ? `${minutes}${NBSP}min` : `1${NBSP}h${NBSP}${String(minutes - 60).padStart(2, "0")}`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48)
    return minutes % 60 === 0 ? `${hours}${NBSP}h` : `${hours}${NBSP}h${NBSP}${String(minutes % 60).padStart(2, "0")}`;
  const days = Math.floor(hours / 24);
  return hours % 24 === 0 ? `${days}${NBSP}d` : `${days}${NBSP}d${NBSP}${hours % 24}${NBSP}h`;
}

/** One number of a rule in one system. */
export function showMeasure(value: number, unit: RuleUnit | null, system: UnitSystem): string {
  switch (unit) {
    case "C":
      return showTemperature(value, system);
    case "K":
      return showDifference(value, system);
    case "K/h":
      return `${showDifference(value, system)}/h`;
    case "%RH":
      return showPercent(value);
    case "g/kg":
      return system === "us" ? `${plain(grPerLbFromGPerKg(value), 0)}${NBSP}gr/lb` : `${plain(value)}${NBSP}g/kg`;
    case "h":
      return showDuration(value * 3_600_000);
    case "min":
      return showDuration(value * 60_000);
    case "s":
      return showDuration(value * 1000);
    case "lb":
      return `${plain(value)}${NBSP}lb/1000${NBSP}ft²·24${NBSP}h`;
    case "g/m2":
      return `${plain(value, 0)}${NBSP}g/m²`;
    case "m2":
      return showArea(value, system);
    case "1":
      return showPercent(value * 100);
    case null:
      return plain(value, 2);
  }
}

const TWO_SYSTEMS: readonly (RuleUnit | null)[] = ["C", "K", "K/h", "g/kg", "m2"];

/** The person's system first, the other in brackets where the two differ: limits are read from sheets of both kinds. */
export function showBoth(value: number, unit: RuleUnit | null, system: UnitSystem): string {
  const first = showMeasure(value, unit, system);
  return TWO_SYSTEMS.includes(unit) ? `${first} (${showMeasure(value, unit, other(system))})` : first;
}
