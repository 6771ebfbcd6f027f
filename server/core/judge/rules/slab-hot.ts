// The hottest slab is above the sheet's maximum.
import { againstLimit } from "#core/judge/limit.ts";
import { waits } from "#core/judge/rule.ts";

export const slabHot = waits("slab-hot", {
  source: "limit entered from the sheet",
  stricter: [{ fact: "slabHotC", towards: "higher" }],
  judge: (facts) =>
    againstLimit({
      measured: facts.slabHotC,
      range: facts.limits?.slabC,
      side: "max",
      unit: "C",
      probe: facts.hotProbe,
      soon: facts.soon?.slabHotC ?? null,
      widthIfOpen: 20,
    }),
});
