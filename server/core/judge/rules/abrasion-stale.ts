// An abraded surface holds for a day; on a bare slab its age is only a caution.
import { abrades, PASS } from "#core/judge/rule.ts";

/** Credit of an abrading, h. Common practice, no source. */
export const ABRASION_HOLDS_H = 24;

export const abrasionStale = abrades("abrasion-stale", {
  source: "24 h: common practice, no source",
  stricter: [{ fact: "abradedH", towards: "higher" }],
  judge: (facts) => {
    const { abradedH } = facts;
    if (abradedH === null) return PASS;
    const numbers = {
      measured: abradedH,
      limit: ABRASION_HOLDS_H,
      unit: "h" as const,
      sinceMs: facts.nowMs - abradedH * 3_600_000,
    };
    if (!facts.film) return { outcome: abradedH > ABRASION_HOLDS_H ? "caution" : "pass", ...numbers };
    if (facts.closedSinceMs === null) return PASS;
    if (abradedH > ABRASION_HOLDS_H) return { outcome: "stop", ...numbers, steps: ["abrade", "clean"] };
    return { outcome: abradedH > ABRASION_HOLDS_H - 3 ? "caution" : "pass", ...numbers };
  },
});
