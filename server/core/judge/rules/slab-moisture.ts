// The slab's own moisture, where the system asks for a test: the worst of the latest test per spot.
import { PASS, waits } from "#core/judge/rule.ts";

export const slabMoisture = waits("slab-moisture", {
  source: "ASTM F2170 (in-slab humidity) and ASTM F1869 (vapour emission); limits from the sheet",
  stricter: [
    { fact: "slabRhPct", towards: "higher" },
    { fact: "slabMverLb", towards: "higher" },
  ],
  judge: (facts) => {
    const tests = [
      { measured: facts.slabRhPct, limit: facts.limits?.slabRhMaxPct ?? null, unit: "%RH" as const, detail: "F2170" },
      { measured: facts.slabMverLb, limit: facts.limits?.slabMverMaxLb ?? null, unit: "lb" as const, detail: "F1869" },
    ].filter((test) => test.limit !== null);
    const failing = tests.find(({ measured, limit }) => measured === null || !(measured <= (limit as number)));
    if (failing !== undefined) return { outcome: "stop", ...failing };
    const near = tests.find(({ measured, limit }) => (measured as number) > 0.9 * (limit as number));
    if (near !== undefined) return { outcome: "caution", ...near };
    return tests[0] === undefined ? PASS : { outcome: "pass", ...tests[0] };
  },
});
