// The slab would fall below its minimum while a coat poured now is still dew-sensitive, or never gets past it.
import { PASS, waits } from "#core/judge/rule.ts";
import { NIGHT_CHANCE } from "#core/judge/rules/night-dew.ts";

export const nightCold = waits("night-cold", {
  source: "outlook of the zone; chance of 0.9: design",
  cautionWhilePouring: true,
  judge: ({ limits, night }) => {
    if (limits === null || night === null) return PASS;
    const numbers = { measured: night.lowestSlabC, limit: limits.slabC[0], unit: "C" as const };
    const governs = night.chanceSlab < night.chanceMargin && night.chanceHolds < NIGHT_CHANCE - 1e-9;
    if (governs || night.chanceSlab < NIGHT_CHANCE - 1e-9) return { outcome: "stop", ...numbers };
    const near = limits.slabC[0] !== null && night.lowestSlabC < limits.slabC[0] + 1;
    return { outcome: near ? "caution" : "pass", ...numbers };
  },
});
