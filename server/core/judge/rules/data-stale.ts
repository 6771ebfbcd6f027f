// Old readings, or a laid probe that fell silent and cannot be guessed from the others.
import { PASS, waits } from "#core/judge/rule.ts";

export const dataStale = waits("data-stale", {
  source: "stale after 30 min: common practice, no source",
  stricter: [
    { fact: "slabAgeMin", towards: "higher" },
    { fact: "airAgeMin", towards: "higher" },
    { fact: "staleAfterMin", towards: "lower" },
    { fact: "handStandsIn", towards: "false" },
  ],
  judge: (facts) => {
    const { slabAgeMin, airAgeMin, staleAfterMin, unknownVote, nowMs } = facts;
    if (slabAgeMin === null || airAgeMin === null) return PASS;
    const oldest = Math.max(slabAgeMin, airAgeMin);
    const measured = { measured: oldest, limit: staleAfterMin, unit: "min" as const };
    const stop = facts.handStandsIn ? "caution" : "stop";
    if (oldest > staleAfterMin) {
      const detail = slabAgeMin > staleAfterMin ? (airAgeMin > staleAfterMin ? null : "slab") : "air";
      return { outcome: stop, ...measured, sinceMs: nowMs - oldest * 60_000, detail };
    }
    if (unknownVote !== null) return { outcome: stop, ...measured, probe: unknownVote, detail: "silent-probe" };
    // Air and humidity that do not belong together make no dew point: what is not known is not there.
    const voices = facts.slabVoices > 0 && facts.airVoices > 0 && !facts.handStandsIn;
    if (voices && facts.marginK === null) return { outcome: "stop", ...measured, detail: "air" };
    return { outcome: oldest > staleAfterMin / 2 ? "caution" : "pass", ...measured };
  },
});
