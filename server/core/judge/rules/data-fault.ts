// A probe that lies: saturated humidity, or a slab probe that has come off. It stops the zone when no good one remains.
import { PASS, waits } from "#core/judge/rule.ts";
import { type DoubtKind, TOLD_ONLY } from "#core/zone/trust/doubt.ts";

const KINDS: readonly DoubtKind[] = [
  "saturated",
  "detached",
  "frozen",
  "outvoted",
  "sun-struck",
  "error-code",
  "reads-low",
  "solvent",
];

export const dataFault = waits("data-fault", {
  source: "faults of cheap sensors: common practice, no source",
  stricter: [
    { fact: "slabVoices", towards: "lower" },
    { fact: "airVoices", towards: "lower" },
    { fact: "handStandsIn", towards: "false" },
  ],
  judge: (facts) => {
    const faults = facts.doubts.filter((doubt) => KINDS.includes(doubt.kind));
    // One that takes a voice away is told before one that does not.
    const fault = faults.find((doubt) => !TOLD_ONLY.has(doubt.kind)) ?? faults[0];
    if (fault === undefined) return PASS;
    const speechless = facts.slabVoices === 0 || facts.airVoices === 0;
    const stops = speechless && !TOLD_ONLY.has(fault.kind) && !facts.handStandsIn;
    return { outcome: stops ? "stop" : "caution", probe: fault.probe, sinceMs: fault.sinceMs, detail: fault.kind };
  },
});
