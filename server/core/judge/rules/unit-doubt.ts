// A number that only makes sense in another unit.
import { PASS, waits } from "#core/judge/rule.ts";

export const unitDoubt = waits("unit-doubt", {
  source: "design: blocked until a person confirms",
  judge: (facts) => {
    const doubt = facts.doubts.find((item) => item.kind === "unit");
    if (doubt === undefined) return PASS;
    const unit = doubt.probe.endsWith("/rh") ? ("%RH" as const) : ("C" as const);
    return { outcome: "stop", measured: doubt.measured, unit, probe: doubt.probe, sinceMs: doubt.sinceMs };
  },
});
