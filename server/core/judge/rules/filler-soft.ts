// Crack filler that is not yet hard blocks grinding and coating.
import { PASS, waits } from "#core/judge/rule.ts";

export const fillerSoft = waits("filler-soft", {
  source:
    "6 to 9 h at room temperature: common practice, no source; hours typed by a person, or earned at the coldest slab",
  stricter: [{ fact: "fillerHardInH", towards: "higher" }],
  judge: ({ fillerHardInH, fillerEstimated }) => {
    if (fillerHardInH === null) return PASS;
    const measured = Number.isFinite(fillerHardInH) ? Math.max(0, fillerHardInH) : null;
    const detail = fillerEstimated ? "estimate" : null;
    if (!(fillerHardInH <= 0)) return { outcome: "stop", measured, limit: 0, unit: "h", detail };
    // A minimum of our own estimate asks for a touch test.
    return { outcome: fillerEstimated ? "caution" : "pass", measured, limit: 0, unit: "h", detail };
  },
});
