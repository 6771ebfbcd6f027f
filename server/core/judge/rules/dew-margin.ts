// The coldest slab is too close to the dew point.
import { PASS, UNKNOWN, waits } from "#core/judge/rule.ts";

export const dewMargin = waits("dew-margin", {
  source: "limit entered from the sheet; usually 5 °F or 3 K",
  afterLastCoat: true,
  stricter: [
    { fact: "marginK", towards: "lower" },
    { fact: "marginUncertaintyK", towards: "higher" },
  ],
  judge: (facts) => {
    const limit = facts.limits?.dewMarginK;
    if (limit === undefined) return PASS;
    const { marginK, marginUncertaintyK } = facts;
    const numbers = { measured: marginK, limit, unit: "K" as const, probe: facts.coldProbe };
    if (marginK === null) return { ...UNKNOWN, ...numbers };
    if (!(marginK >= limit)) return { outcome: "stop", ...numbers };
    const near = marginK < limit + Math.max(1, marginUncertaintyK ?? 1);
    const falling = facts.soon !== null && facts.soon.marginK < limit;
    return { outcome: near || falling ? "caution" : "pass", ...numbers, detail: falling && !near ? "falling" : null };
  },
});
