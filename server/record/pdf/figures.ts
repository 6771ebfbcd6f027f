// Numbers on paper, always in both systems, the reader's own first. A temperature has the 32 of Fahrenheit, a difference has not.
import {
  btuPerHFromKW,
  fDifferenceFromK,
  fFromC,
  ft2FromM2,
  grPerLbFromGPerKg,
  milFromMm,
  psiFromMpa,
  usGalFromL,
} from "#core/units.ts";

export type UnitSystem = "us" | "si";

const NBSP = "\u00a0";

export interface Figures {
  readonly first: UnitSystem;
  temperature(c: number): string;
  difference(k: number): string;
  percent(pct: number): string;
  water(gPerKg: number): string;
  area(m2: number): string;
  strength(mpa: number): string;
  depth(um: number): string;
  volume(litres: number): string;
  power(kW: number): string;
  duration(minutes: number): string;
  hours(h: number): string;
  /** By the unit that a record names: "C", "K", "%RH", "g/kg", "lb", "h", "min", "1" and so on. */
  measure(value: number, unit: string | null): string;
}

/** Fixed decimals, with a dash as long as a digit for minus; -0 is 0. */
export function fixed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return /^-0(\.0+)?$/.test(text) ? text.slice(1) : text.replace("-", "–");
}

/** At most so many decimals. */
const trimmed = (value: number, digits: number) => String(Number(value.toFixed(digits)) + 0).replace("-", "–");

export function figuresOf(first: UnitSystem): Figures {
  const both = (us: string, si: string) => (first === "us" ? `${us} (${si})` : `${si} (${us})`);
  const unit = (text: string, name: string) => `${text}${NBSP}${name}`;
  const duration = (minutes: number): string => {
    const whole = Math.round(Math.abs(minutes));
    if (whole < 60) return unit(String(whole), "min");
    const h = Math.floor(whole / 60);
    return whole % 60 === 0 ? unit(String(h), "h") : `${h}${NBSP}h${NBSP}${String(whole % 60).padStart(2, "0")}`;
  };
  const figures: Omit<Figures, "measure"> = {
    first,
    temperature: (c) => both(unit(fixed(fFromC(c), 1), "°F"), unit(fixed(c, 1), "°C")),
    difference: (k) => both(unit(fixed(fDifferenceFromK(k), 1), "°F"), unit(fixed(k, 1), "K")),
    percent: (pct) => unit(fixed(pct, 0), "%"),
    water: (gPerKg) => both(unit(fixed(grPerLbFromGPerKg(gPerKg), 0), "gr/lb"), unit(fixed(gPerKg, 1), "g/kg")),
    area: (m2) => both(unit(fixed(ft2FromM2(m2), 0), "ft²"), unit(trimmed(m2, 1), "m²")),
    strength: (mpa) => both(unit(fixed(psiFromMpa(mpa), 0), "psi"), unit(trimmed(mpa, 2), "MPa")),
    volume: (litres) => both(unit(trimmed(usGalFromL(litres), 2), "gal"), unit(trimmed(litres, 1), "L")),
    depth: (um) => both(unit(trimmed(milFromMm(um / 1000), 1), "mil"), unit(trimmed(um, 0), "µm")),
    power: (kW) => both(unit(fixed(Math.round(btuPerHFromKW(kW) / 100) * 100, 0), "BTU/h"), unit(trimmed(kW, 1), "kW")),
    duration,
    hours: (h) => (h < 48 ? duration(h * 60) : unit(trimmed(h, 1), "h")),
  };
  return {
    ...figures,
    measure(value, of) {
      switch (of) {
        case "C":
          return figures.temperature(value);
        case "K":
          return figures.difference(value);
        case "K/h":
          return both(unit(fixed(fDifferenceFromK(value), 1), "°F/h"), unit(fixed(value, 1), "K/h"));
        case "%RH":
        case "%":
          return `${figures.percent(value)}${NBSP}RH`;
        case "g/kg":
          return figures.water(value);
        case "lb":
          return unit(trimmed(value, 1), "lb/1000 ft²·24 h");
        case "g/m2":
          return unit(fixed(value, 0), "g/m²");
        case "m2":
          return figures.area(value);
        case "MPa":
          return figures.strength(value);
        case "h":
          return figures.hours(value);
        case "min":
          return duration(value);
        case "s":
          return duration(value / 60);
        case "1":
          return figures.percent(value * 100);
        default:
          return of === null || of === "" ? trimmed(value, 2) : unit(trimmed(value, 2), of);
      }
    },
  };
}
