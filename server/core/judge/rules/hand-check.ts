// The margin passes, but not by its uncertainty: measure by hand. A hand reading that fails outranks the sensors.
import { PASS, waits } from "#core/judge/rule.ts";

export const handCheck = waits("hand-check", {
  source: "propagated accuracies; see air/margin.ts",
  cautionWhilePouring: true,
  stricter: [
    { fact: "marginUncertaintyK", towards: "higher" },
    { fact: "handMarginK", towards: "lower" },
  ],
  judge: (facts) => {
    const limit = facts.limits?.dewMarginK;
    const { marginK, marginUncertaintyK } = facts;
    if (limit === undefined || marginK === null || !(marginK >= limit)) return PASS;
    const { handMarginK } = facts;
    if (handMarginK !== null && !(handMarginK >= limit))
      return { outcome: "stop", measured: handMarginK, limit, unit: "K", detail: "hand" };
    const sure = marginK - (marginUncertaintyK ?? 1);
    const numbers = { measured: sure, limit, unit: "K" as const, probe: facts.coldProbe };
    if (sure >= limit) return { outcome: "pass", ...numbers };
    return { outcome: handMarginK === null ? "stop" : "caution", ...numbers };
  },
});
