// The margin would fall below its limit while a coat poured now is still dew-sensitive.
import { PASS, waits } from "#core/judge/rule.ts";

/** The chance that must be reached (trade judgement of the design). */
export const NIGHT_CHANCE = 0.9;

export const nightDew = waits("night-dew", {
  source: "outlook of the zone; chance of 0.9: design",
  cautionWhilePouring: true,
  judge: ({ limits, night }) => {
    if (limits === null || night === null) return PASS;
    const numbers = {
      measured: night.lowestMarginK,
      limit: limits.dewMarginK,
      unit: "K" as const,
      sinceMs: night.lowestAtMs,
    };
    const governs = night.chanceMargin <= night.chanceSlab && night.chanceHolds < NIGHT_CHANCE - 1e-9;
    if (governs || night.chanceMargin < NIGHT_CHANCE - 1e-9) return { outcome: "stop", ...numbers };
    return {
      outcome: night.lowestMarginK < limits.dewMarginK + 1 || night.chanceMargin < 0.97 ? "caution" : "pass",
      ...numbers,
    };
  },
});
