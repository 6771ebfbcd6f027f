// A voice for tests: the made-up site's clock and words in either language and unit system.
import { clockOf } from "../../dashboard/text/clock.ts";
import { en } from "../../dashboard/text/en.ts";
import { es } from "../../dashboard/text/es.ts";
import type { Voice } from "../../dashboard/text/sentence.ts";
import type { UnitSystem } from "../../dashboard/units/show.ts";
import { NIGHT_AT } from "../support/sample-plot.ts";

export const DICTIONARIES = { en, es } as const;
export const NOW_MS = Date.parse(NIGHT_AT);

export function voiceOf(language: keyof typeof DICTIONARIES, units: UnitSystem, nowMs = NOW_MS): Voice {
  const text = DICTIONARIES[language];
  return {
    text,
    units,
    nowMs,
    clock: clockOf("America/Chicago", text, units === "us" ? 12 : 24),
    placeOf: (probe) => `place of ${probe}`,
  };
}
