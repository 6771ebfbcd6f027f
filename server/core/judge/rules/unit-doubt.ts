// A number that only makes sense in another unit. It stops the zone where no good probe remains beside it.
import { PASS, waits } from "#core/judge/rule.ts";

export const unitDoubt = waits("unit-doubt", {
  source: "design: blocked until a person confirms; faults quarantine the probe, not the zone",
  stricter: [
    { fact: "slabVoices", towards: "lower" },
    { fact: "airVoices", towards: "lower" },
    { fact: "handStandsIn", towards: "false" },
  ],
  judge: (facts) => {
    const doubt = facts.doubts.find((item) => item.kind === "unit");
    if (doubt === undefined) return PASS;
    const unit = doubt.probe.endsWith("/rh") ? ("%RH" as const) : ("C" as const);
    const stops = !facts.handStandsIn && (facts.slabVoices === 0 || facts.airVoices === 0);
    return {
      outcome: stops ? "stop" : "caution",
      measured: doubt.measured,
      unit,
      probe: doubt.probe,
      sinceMs: doubt.sinceMs,
    };
  },
});
