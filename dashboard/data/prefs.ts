// What the person chose on this device: language, units, colours, name, site. Choices never reach the server's arithmetic.
import type { UnitSystem } from "../units/show.ts";
import type { Keep } from "./keep.ts";
import { type Signal, signalOf } from "./signal.ts";

export type Language = "en" | "es";
export type ClockChoice = "auto" | "12" | "24";
export type Theme = "auto" | "light" | "dark";

export interface Prefs {
  readonly language: Language;
  readonly units: UnitSystem;
  /** `auto`: crews that read °F read a twelve-hour clock, all others twenty-four. */
  readonly hours: ClockChoice;
  readonly theme: Theme;
  readonly by: string;
  readonly site: string | null;
}

const oneOf = <T extends string>(value: unknown, allowed: readonly T[], fallback: T): T =>
  allowed.find((one) => one === value) ?? fallback;

/** Read leniently: what an older version kept, or somebody edited, falls back field by field. */
export function prefsFrom(kept: unknown, locale: string): Prefs {
  const raw = (typeof kept === "object" && kept !== null ? kept : {}) as Record<string, unknown>;
  return {
    language: oneOf(raw["language"], ["en", "es"], locale.toLowerCase().startsWith("es") ? "es" : "en"),
    units: oneOf(raw["units"], ["us", "si"], /^en$|-us$/i.test(locale) ? "us" : "si"),
    hours: oneOf(raw["hours"], ["auto", "12", "24"], "auto"),
    theme: oneOf(raw["theme"], ["auto", "light", "dark"], "auto"),
    by: typeof raw["by"] === "string" ? raw["by"].slice(0, 200) : "",
    site: typeof raw["site"] === "string" ? raw["site"] : null,
  };
}

export function hoursOf({ hours, units }: Pick<Prefs, "hours" | "units">): 12 | 24 {
  return hours === "12" || (hours === "auto" && units === "us") ? 12 : 24;
}

export interface PrefsDesk {
  readonly signal: Signal<Prefs>;
  change(change: Partial<Prefs>): void;
}

export function prefsDesk(keep: Keep, locale: string): PrefsDesk {
  const signal = signalOf(prefsFrom(keep.read("prefs"), locale));
  return {
    signal,
    change(change) {
      // What another tab has chosen meanwhile stays chosen.
      const kept = keep.read("prefs");
      keep.write("prefs", { ...(kept === null ? signal.get() : prefsFrom(kept, locale)), ...change });
      signal.set({ ...signal.get(), ...change });
    },
  };
}
