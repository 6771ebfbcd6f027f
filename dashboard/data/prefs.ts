// What the person chose on this device: language, units, colours, name, site. Choices never reach the server's arithmetic.
import type { UnitSystem } from "../units/show.ts";
import type { Keep } from "./keep.ts";
import { type Signal, signalOf } from "./signal.ts";

export type Language = "en" | "es";
export type Theme = "auto" | "light" | "dark";

export interface Prefs {
  readonly language: Language;
  readonly units: UnitSystem;
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
    theme: oneOf(raw["theme"], ["auto", "light", "dark"], "auto"),
    by: typeof raw["by"] === "string" ? raw["by"].slice(0, 200) : "",
    site: typeof raw["site"] === "string" ? raw["site"] : null,
  };
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
