// The film is soft: found so by hand, or its window closed before it was hard. A soft film is never abraded.
import { PASS, waits } from "#core/judge/rule.ts";

export const filmSoft = waits("film-soft", {
  source: "design: a soft film is never abraded",
  afterLastCoat: true,
  stricter: [{ fact: "recoatEarned", towards: "lower" }],
  judge: (facts) => {
    if (!facts.film) return PASS;
    if (facts.foundSoftMs !== null) return { outcome: "stop", sinceMs: facts.foundSoftMs, detail: "found" };
    const earned = facts.recoatEarned ?? 0;
    if (facts.closedSinceMs === null || earned >= 1) return PASS;
    return {
      outcome: "stop",
      measured: earned,
      limit: 1,
      unit: "1",
      sinceMs: facts.closedSinceMs,
      detail: "window-closed",
    };
  },
});
