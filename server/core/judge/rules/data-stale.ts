// Old readings, or a laid probe that fell silent and cannot be guessed from the others.
import type { Facts } from "#core/judge/facts.ts";
import { PASS, waits } from "#core/judge/rule.ts";
import type { DoubtKind } from "#core/zone/trust/doubt.ts";

const TELLS: ReadonlySet<DoubtKind> = new Set(["saturated", "detached", "frozen", "outvoted", "clock", "unit"]);

/** A rule further down stops for the fault that took the margin away. */
function toldByFault({ doubts, slabVoices, airVoices }: Facts): boolean {
  const speechless = slabVoices === 0 || airVoices === 0;
  return doubts.some(({ kind }) => {
    if (kind === "own-dew-point") return airVoices === 0;
    return speechless && TELLS.has(kind);
  });
}

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
    // No margin, and no fault of a probe that says why: what is not known is not there.
    if (facts.marginK === null && !facts.handStandsIn && !toldByFault(facts)) {
      return { outcome: "stop", ...measured, detail: facts.slabVoices === 0 ? "slab" : "air" };
    }
    return { outcome: oldest > staleAfterMin / 2 ? "caution" : "pass", ...measured };
  },
});
