// The air holds less water than the product needs to cure: an absolute limit that humidity in percent misses.
import { againstLimit } from "#core/judge/limit.ts";
import { waits } from "#core/judge/rule.ts";

export const vapourLow = waits("vapour-low", {
  source: "limit entered from the sheet",
  stricter: [{ fact: "waterGPerKg", towards: "lower" }],
  judge: (facts) =>
    againstLimit({
      measured: facts.waterGPerKg,
      range: facts.limits?.waterGPerKg,
      side: "min",
      unit: "g/kg",
      probe: null,
      soon: null,
      widthIfOpen: 10,
    }),
});
