// A porous base that warms breathes out: pinholes.
import { PASS, UNKNOWN, waits } from "#core/judge/rule.ts";

/** K per hour over 90 min at any probe. Common practice, no source. */
export const RISING_FROM_K_PER_H = 1;

export const slabRising = waits("slab-rising", {
  source: "out-gassing over porous bases: public guidance; 1 K/h: common practice, no source",
  stricter: [
    { fact: "slopeKPerH", towards: "higher" },
    { fact: "porous", towards: "true" },
  ],
  judge: ({ porous, slopeKPerH, slopeProbe }) => {
    if (!porous) return PASS;
    const numbers = { measured: slopeKPerH, limit: RISING_FROM_K_PER_H, unit: "K/h" as const, probe: slopeProbe };
    if (slopeKPerH === null) return { ...UNKNOWN, ...numbers };
    return { outcome: slopeKPerH > RISING_FROM_K_PER_H ? "stop" : slopeKPerH > 0.5 ? "caution" : "pass", ...numbers };
  },
});
