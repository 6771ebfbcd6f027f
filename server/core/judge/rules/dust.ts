// Abraded or ground and not cleaned since, or found dusty.
import { PASS, waits } from "#core/judge/rule.ts";

export const dust = waits("dust", {
  source: "peel over dust: common practice, no source",
  judge: (facts) =>
    facts.dustSinceMs === null
      ? PASS
      : { outcome: "stop", sinceMs: facts.dustSinceMs, detail: facts.foundDusty ? "found" : null, steps: ["clean"] },
});
