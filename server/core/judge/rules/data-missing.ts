// No slab probe, or no chip for air and humidity, has ever been heard in this zone.
import { PASS, waits } from "#core/judge/rule.ts";

export const dataMissing = waits("data-missing", {
  source: "design: absence is never good news",
  stricter: [
    { fact: "slabProbes", towards: "lower" },
    { fact: "airChips", towards: "lower" },
    { fact: "handStandsIn", towards: "false" },
  ],
  judge: (facts) => {
    const missing = facts.slabProbes === 0 ? "slab" : facts.airChips === 0 ? "air" : null;
    if (missing === null) return PASS;
    return { outcome: facts.handStandsIn ? "caution" : "stop", detail: missing };
  },
});
