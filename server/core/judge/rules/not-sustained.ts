// All limits pass now, but did not throughout the last hour: heaters cycle, doors open.
import { PASS, UNKNOWN, waits } from "#core/judge/rule.ts";

export const SUSTAINED_MIN = 60;

export const notSustained = waits("not-sustained", {
  source: "60 good minutes before a pour: common practice, no source",
  cautionWhilePouring: true,
  stricter: [{ fact: "sustainedMin", towards: "lower" }],
  judge: ({ sustainedMin, limits, handStandsIn }) => {
    if (limits === null) return PASS;
    if (sustainedMin === null) return handStandsIn ? UNKNOWN : { outcome: "stop", limit: SUSTAINED_MIN, unit: "min" };
    const numbers = { measured: sustainedMin, limit: SUSTAINED_MIN, unit: "min" as const };
    return { outcome: sustainedMin < SUSTAINED_MIN ? "stop" : "pass", ...numbers };
  },
});
