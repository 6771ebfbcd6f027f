// The film has not earned its recoat minimum.
import { PASS, waits } from "#core/judge/rule.ts";

export const cureShort = waits("cure-short", {
  source: "minimum by the coldest spot: symmetry of the federal guide specification's rule for the maximum",
  afterLastCoat: true,
  stricter: [{ fact: "recoatEarned", towards: "lower" }],
  judge: (facts) => {
    if (!facts.film) return PASS;
    const measured = facts.recoatEarned ?? 0;
    const numbers = { measured, limit: 1, unit: "1" as const };
    if (measured < 1) return { outcome: "stop", ...numbers };
    // A minimum of our own estimate asks for a touch test.
    if (facts.recoatEstimated && !facts.foundHard) return { outcome: "caution", ...numbers, detail: "estimate" };
    return { outcome: measured < 1.1 ? "caution" : "pass", ...numbers };
  },
});
