// The coldest slab is below the sheet's minimum.
import { againstLimit } from "#core/judge/limit.ts";
import { waits } from "#core/judge/rule.ts";

export const slabCold = waits("slab-cold", {
  source: "limit entered from the sheet",
  afterLastCoat: true,
  stricter: [{ fact: "slabColdC", towards: "lower" }],
  judge: (facts) =>
    againstLimit({
      measured: facts.slabColdC,
      range: facts.limits?.slabC,
      side: "min",
      unit: "C",
      probe: facts.coldProbe,
      soon: facts.soon?.slabColdC ?? null,
      widthIfOpen: 20,
    }),
});
