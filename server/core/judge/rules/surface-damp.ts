// Water on the surface: found damp, washed, or dew that has not dried.
import { waits } from "#core/judge/rule.ts";
import { DAMP_FROM_G_PER_M2 } from "#core/zone/surface-water.ts";

export const surfaceDamp = waits("surface-damp", {
  source: "water balance of the surface (Lewis relation); 200 g/m2 after washing: common practice, no source",
  stricter: [
    { fact: "waterLeftGPerM2", towards: "higher" },
    { fact: "foundDamp", towards: "true" },
  ],
  judge: ({ waterLeftGPerM2, foundDamp, dampSinceMs }) => {
    const numbers = { measured: waterLeftGPerM2, limit: DAMP_FROM_G_PER_M2, unit: "g/m2" as const };
    if (foundDamp) return { outcome: "stop", ...numbers, sinceMs: dampSinceMs, detail: "found" };
    if (waterLeftGPerM2 > DAMP_FROM_G_PER_M2) return { outcome: "stop", ...numbers, sinceMs: dampSinceMs };
    return { outcome: waterLeftGPerM2 > 0 ? "caution" : "pass", ...numbers };
  },
});
