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
    if (!film || finishInH === null || closesInH === null) return PASS;
    const numbers = { measured: finishInH, limit: Math.max(0, closesInH), unit: "h" as const };
    if (finishInH > closesInH)
      return { outcome: "stop", ...numbers, detail: fitsM2 === null ? null : String(Math.floor(fitsM2)) };
    return { outcome: closesInH - finishInH < 0.5 ? "caution" : "pass", ...numbers };
  },
});
