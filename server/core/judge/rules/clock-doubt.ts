// A node whose clock contradicts the order in which its readings arrive.
import { PASS, waits } from "#core/judge/rule.ts";

export const clockDoubt = waits("clock-doubt", {
  source: "design: a node's clock is compared with arrival order",
  stricter: [
    { fact: "slabVoices", towards: "lower" },
    { fact: "airVoices", towards: "lower" },
    { fact: "handStandsIn", towards: "false" },
  ],
  judge: (facts) => {
    const doubt = facts.doubts.find((item) => item.kind === "clock");
    if (doubt === undefined) return PASS;
    const stops = !facts.handStandsIn && (facts.slabVoices === 0 || facts.airVoices === 0);
    return {
      outcome: stops ? "stop" : "caution",
      measured: doubt.measured,
      unit: "s",
      probe: doubt.probe,
      sinceMs: doubt.sinceMs,
    };
  },
});
