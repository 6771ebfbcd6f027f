// Two probes that cannot both be right, a node whose own dew point contradicts its readings, or a probe off from the hand.
import { PASS, waits } from "#core/judge/rule.ts";

export const dataConflict = waits("data-conflict", {
  source: "design: conflict more than 2 K within 1 m without a cause; own dew point off by more than 1 K",
  stricter: [
    { fact: "airVoices", towards: "lower" },
    { fact: "handStandsIn", towards: "false" },
  ],
  judge: (facts) => {
    const pair = facts.doubts.find((doubt) => doubt.kind === "conflict");
    const own = facts.doubts.find((doubt) => doubt.kind === "own-dew-point");
    const doubt = pair ?? own ?? facts.doubts.find((one) => one.kind === "off-from-hand");
    if (doubt === undefined) return PASS;
    // A probe off from the hand meter is told here; what it is off by weighs in the margin's uncertainty.
    const stops = !facts.handStandsIn && (pair !== undefined || (own !== undefined && facts.airVoices === 0));
    return {
      outcome: stops ? "stop" : "caution",
      measured: doubt.measured,
      limit: doubt.limit,
      unit: "K",
      probe: doubt.probe,
      sinceMs: doubt.sinceMs,
      detail: doubt.kind,
    };
  },
});
