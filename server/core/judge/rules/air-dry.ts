// The air is drier than the sheet asks.
import { againstLimit } from "#core/judge/limit.ts";
import { waits } from "#core/judge/rule.ts";

export const airDry = waits("air-dry", {
  source: "limit entered from the sheet",
  stricter: [{ fact: "rhMinPct", towards: "lower" }],
  judge: (facts) =>
    againstLimit({
      measured: facts.rhMinPct,
      range: facts.limits?.rhPct,
      side: "min",
      unit: "%RH",
      probe: null,
      soon: null,
      widthIfOpen: 50,
    }),
});
