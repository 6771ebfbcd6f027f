// Dew fell on the film while it was sensitive, or it was found greasy: wash, abrade, clean, as its sheet asks.
import { abrades, PASS } from "#core/judge/rule.ts";

/** Minutes at or below the dew point, in all. Common practice, no source. */
export const BLUSH_FROM_MIN = 15;

export const blush = abrades("blush", {
  source: "amine blush after condensation: public guidance; the quarter of an hour: common practice, no source",
  afterLastCoat: true,
  stricter: [{ fact: "foundGreasy", towards: "true" }],
  judge: (facts) => {
    if (!facts.film) return PASS;
    const numbers = {
      measured: facts.dewMin,
      limit: BLUSH_FROM_MIN,
      unit: "min" as const,
      sinceMs: facts.blushSinceMs,
    };
    if (facts.blushSteps === null || facts.blushSteps.length === 0) {
      return { outcome: (facts.dewMin ?? 0) > 0 && facts.blushSteps === null ? "caution" : "pass", ...numbers };
    }
    return { outcome: "stop", ...numbers, detail: facts.foundGreasy ? "found" : null, steps: facts.blushSteps };
  },
});
