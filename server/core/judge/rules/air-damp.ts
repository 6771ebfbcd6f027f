// The air is more humid than the sheet allows, in percent or in water per kilogram of dry air.
import { againstLimit } from "#core/judge/limit.ts";
import { waits } from "#core/judge/rule.ts";

export const airDamp = waits("air-damp", {
  source: "limit entered from the sheet",
  stricter: [
    { fact: "rhMaxPct", towards: "higher" },
    { fact: "waterMaxGPerKg", towards: "higher" },
  ],
  judge: ({ limits, rhMaxPct, waterMaxGPerKg }) => {
    const humidity = againstLimit({
      measured: rhMaxPct,
      range: limits?.rhPct,
      side: "max",
      unit: "%RH",
      probe: null,
      soon: null,
      widthIfOpen: 50,
    });
    const water = againstLimit({
      measured: waterMaxGPerKg,
      range: limits?.waterGPerKg,
      side: "max",
      unit: "g/kg",
      probe: null,
      soon: null,
      widthIfOpen: 10,
    });
    // The percentage is what people read; the water is shown where it is the graver of the two.
    if (water.outcome === "stop" && humidity.outcome !== "stop") return water;
    return water.outcome === "caution" && humidity.outcome === "pass" ? water : humidity;
  },
});
