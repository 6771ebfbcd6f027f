// Nothing is known of the night: too little data, no feed, nothing typed.
import { PASS, waits } from "#core/judge/rule.ts";

/** A coat that is past dew within this many hours needs no night. Common practice, no source. */
const SHORT_H = 3;

export const nightUnknown = waits("night-unknown", {
  source: "design: absence is never good news",
  cautionWhilePouring: true,
  stricter: [{ fact: "nightHours", towards: "higher" }],
  judge: ({ limits, night, nightHours }) => {
    if (limits === null || night !== null) return PASS;
    if (nightHours !== null && nightHours <= SHORT_H)
      return { outcome: "caution", measured: nightHours, limit: SHORT_H, unit: "h" };
    return { outcome: "stop", measured: nightHours, limit: SHORT_H, unit: "h" };
  },
});
