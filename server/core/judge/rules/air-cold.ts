// The air is below the sheet's minimum.
import { againstLimit } from "#core/judge/limit.ts";
import { waits } from "#core/judge/rule.ts";

export const airCold = waits("air-cold", {
  source: "limit entered from the sheet",
  stricter: [{ fact: "airMinC", towards: "lower" }],
  judge: (facts) =>
    againstLimit({
      measured: facts.airMinC,
      range: facts.limits?.airC,
      side: "min",
      unit: "C",
      probe: null,
      soon: facts.soon?.airMinC ?? null,
      widthIfOpen: 20,
    }),
});
