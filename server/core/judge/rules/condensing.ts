// The slab is at or below the dew point now.
import { PASS, waits } from "#core/judge/rule.ts";

export const condensing = waits("condensing", {
  source: "physics",
  afterLastCoat: true,
  stricter: [{ fact: "marginK", towards: "lower" }],
  judge: ({ marginK, coldProbe }) => {
    if (marginK === null) return PASS;
    const numbers = { measured: marginK, limit: 0, unit: "K" as const, probe: coldProbe };
    return { outcome: marginK <= 0 ? "stop" : marginK <= 1 ? "caution" : "pass", ...numbers };
  },
});
