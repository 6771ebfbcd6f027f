// Second opinions of a made-up zone, for the HTTP door. All numbers invented.
import type { ZoneOpinionsBody } from "#contract/second-opinion.ts";

export function sampleOpinions(zone: string, at: (minutes: number) => string): ZoneOpinionsBody {
  const hand = { entry: "e-4", at: at(-90), by: "Rosa", instrument: "hand meter 2", calibratedOn: null };
  return {
    zone,
    opinions: [
      {
        ...hand,
        ...{ probe: "slip-door/slab", of: "slab" as const, probeSaid: 12.4, handSaid: 10.6, offset: 1.8 },
        ...{ bound: 1.12, handBound: 1, within: false, hopeful: true },
      },
    ],
    saltChecks: [
      {
        ...{ entry: "e-3", at: at(-3000), by: null, probe: "slip-door/rh", salt: "sodium-chloride" as const },
        ...{ soakH: 12.5, airC: 20, readPct: 72.1, pointPct: 75.47, errorPct: -3.37, dewK: -0.9, valid: true },
      },
    ],
    bagged: [{ probe: "slip-door/rh", salt: "magnesium-chloride", since: at(-30) }],
    pairs: [
      { of: "slab", a: "slip-door/slab", b: "slip-door/slab.2", apartM: 4.5, now: -1.2, dayMedian: null },
      { of: "rh", a: "slip-door/rh", b: "slip-mid/rh", apartM: null, now: 2.5, dayMedian: 1.75 },
    ],
  };
}
