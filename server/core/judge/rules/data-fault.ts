// A probe that lies: saturated humidity, or a slab probe that has come off. It stops the zone when no good one remains.
import { PASS, waits } from "#core/judge/rule.ts";

const KINDS: readonly string[] = ["saturated", "detached", "sun-struck"];

export const dataFault = waits("data-fault", {
  source: "faults of cheap sensors: common practice, no source",
  stricter: [
    { fact: "slabVoices", towards: "lower" },
    { fact: "airVoices", towards: "lower" },
    { fact: "handStandsIn", towards: "false" },
  ],
  judge: (facts) => {
    const fault = facts.doubts.find((doubt) => KINDS.includes(doubt.kind));
    if (fault === undefined) return PASS;
    const speechless = facts.slabVoices === 0 || facts.airVoices === 0;
    const stops = speechless && fault.kind !== "sun-struck" && !facts.handStandsIn;
    return { outcome: stops ? "stop" : "caution", probe: fault.probe, sinceMs: fault.sinceMs, detail: fault.kind };
  },
});
