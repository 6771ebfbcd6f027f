// The recoat window has closed and the surface has not been abraded since.
import { abrades, PASS } from "#core/judge/rule.ts";

export const windowClosed = abrades("window-closed", {
  source: "federal guide specification: window by the hottest hour",
  stricter: [{ fact: "closedSinceMs", towards: "lower" }],
  judge: (facts) => {
    if (!facts.film || facts.closedSinceMs === null) return PASS;
    const since = { sinceMs: facts.closedSinceMs };
    return facts.abradedH === null
      ? { outcome: "stop", ...since, steps: ["abrade", "clean"] }
      : { outcome: "pass", ...since };
  },
});
