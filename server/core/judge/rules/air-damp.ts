// The air is more humid than the sheet allows.
import { againstLimit } from "#core/judge/limit.ts";
import { waits } from "#core/judge/rule.ts";

export const airDamp = waits("air-damp", {
  source: "limit entered from the sheet",
  stricter: [{ fact: "rhMaxPct", towards: "higher" }],
  judge: (facts) =>
    againstLimit({
      measured: facts.rhMaxPct,
      range: facts.limits?.rhPct,
      side: "max",
      unit: "%RH",
      probe: null,
      soon: null,
      widthIfOpen: 50,
    }),
});
