// The air is above the sheet's maximum.
import { againstLimit } from "#core/judge/limit.ts";
import { waits } from "#core/judge/rule.ts";

export const airHot = waits("air-hot", {
  source: "limit entered from the sheet",
  stricter: [{ fact: "airMaxC", towards: "higher" }],
  judge: (facts) =>
    againstLimit({
      measured: facts.airMaxC,
      range: facts.limits?.airC,
      side: "max",
      unit: "C",
      probe: null,
      soon: facts.soon?.airMaxC ?? null,
      widthIfOpen: 20,
    }),
});
