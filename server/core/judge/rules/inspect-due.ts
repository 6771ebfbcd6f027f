// The film may have been harmed while it was sensitive: somebody must look at it first.
import { PASS, waits } from "#core/judge/rule.ts";

export const INSPECT_FROM_MIN = 15;
export const GAP_FROM_MIN = 30;

export const inspectDue = waits("inspect-due", {
  source: "forced inspection after a doubtful night: common practice, no source",
  afterLastCoat: true,
  stricter: [
    { fact: "belowMin", towards: "higher" },
    { fact: "gapMin", towards: "higher" },
  ],
  judge: (facts) => {
    if (!facts.film) return PASS;
    const belowMin = facts.belowMin ?? 0;
    const gapMin = facts.gapMin ?? 0;
    const below = { measured: belowMin, limit: INSPECT_FROM_MIN, unit: "min" as const, sinceMs: facts.inspectSinceMs };
    if (belowMin >= INSPECT_FROM_MIN) return { outcome: "stop", ...below, detail: "margin" };
    if (gapMin > GAP_FROM_MIN)
      return {
        outcome: "stop",
        measured: gapMin,
        limit: GAP_FROM_MIN,
        unit: "min",
        sinceMs: facts.inspectSinceMs,
        detail: "gap",
      };
    return { outcome: belowMin > 0 ? "caution" : "pass", ...below };
  },
});
