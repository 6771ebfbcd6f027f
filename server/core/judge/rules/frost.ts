// Frost: the slab is below freezing and at or below the frost point. It is white, dry to the finger, and breaks the bond.
import { PASS, waits } from "#core/judge/rule.ts";

export const frost = waits("frost", {
  source: "frost point over ice: WMO-No. 8 forms",
  afterLastCoat: true,
  stricter: [
    { fact: "slabColdC", towards: "lower" },
    { fact: "frostPointC", towards: "higher" },
  ],
  judge: ({ slabColdC, frostPointC, coldProbe }) => {
    if (slabColdC === null || frostPointC === null || slabColdC > 0) return PASS;
    const numbers = { measured: slabColdC, limit: frostPointC, unit: "C" as const, probe: coldProbe };
    return {
      outcome: slabColdC <= frostPointC ? "stop" : slabColdC <= frostPointC + 1 ? "caution" : "pass",
      ...numbers,
    };
  },
});
