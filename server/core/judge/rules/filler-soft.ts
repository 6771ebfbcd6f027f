// Crack filler that is not yet hard blocks grinding and coating.
import { PASS, waits } from "#core/judge/rule.ts";

export const fillerSoft = waits("filler-soft", {
  source: "6 to 9 h at room temperature: common practice, no source; the hours are typed by a person",
  stricter: [{ fact: "fillerHardInH", towards: "higher" }],
  judge: ({ fillerHardInH }) => {
    if (fillerHardInH === null) return PASS;
    return { outcome: fillerHardInH > 0 ? "stop" : "pass", measured: Math.max(0, fillerHardInH), limit: 0, unit: "h" };
  },
});
