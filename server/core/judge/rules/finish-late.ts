// The last square metre would go down after the window closes.
import { PASS, waits } from "#core/judge/rule.ts";

export const finishLate = waits("finish-late", {
  source: "arithmetic: area over crew speed against the window",
  cautionWhilePouring: true,
  stricter: [
    { fact: "finishInH", towards: "higher" },
    { fact: "closesInH", towards: "lower" },
  ],
  judge: ({ film, finishInH, closesInH, fitsM2 }) => {
    // A window that has closed is the business of the rules of the surface.
    if (!film || finishInH === null || closesInH === null || closesInH <= 0) return PASS;
    const numbers = { measured: finishInH, limit: closesInH, unit: "h" as const };
    if (finishInH > closesInH)
      return { outcome: "stop", ...numbers, detail: fitsM2 === null ? null : String(Math.floor(fitsM2)) };
    return { outcome: closesInH - finishInH < 0.5 ? "caution" : "pass", ...numbers };
  },
});
