// The resin itself: outside its range, or so cold that dew forms in the bucket.
import { PASS, UNKNOWN, waits } from "#core/judge/rule.ts";

/** A hand reading of the resin counts for this long. Common practice, no source. */
const VALID_MIN = 120;

export const resinTemp = waits("resin-temp", {
  source: "limit entered from the sheet; dew on cold material: public guidance",
  judge: (facts) => {
    const range = facts.limits?.resinC;
    if (range === undefined) return PASS;
    const { resinC, resinAgeMin, dewPointC } = facts;
    if (resinC === null || resinAgeMin === null) return range[0] === null && range[1] === null ? PASS : UNKNOWN;
    const sinceMs = facts.nowMs - resinAgeMin * 60_000;
    const dewy = dewPointC !== null && resinC < dewPointC;
    const tooCold = range[0] !== null && resinC < range[0];
    const tooHot = range[1] !== null && resinC > range[1];
    const limit = dewy ? dewPointC : tooHot ? range[1] : range[0];
    const numbers = { measured: resinC, limit, unit: "C" as const, sinceMs, detail: dewy ? "below-dew-point" : null };
    if (resinAgeMin > VALID_MIN) return { outcome: "caution", ...numbers, detail: "old" };
    return { outcome: dewy || tooCold || tooHot ? "stop" : "pass", ...numbers };
  },
});
