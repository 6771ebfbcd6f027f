// The conditions of a zone now: the worst spot of what is live, or a hand reading that stands in for it.
import { dewPointC } from "#core/air/dew-point.ts";
import { marginUncertaintyK } from "#core/air/margin.ts";
import { pressureAtAltitudePa, waterGPerKg } from "#core/air/water.ts";
import { keptWithin } from "#core/guard.ts";
import type { Track } from "#core/zone/heard.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { type MarginDoubt, NO_DOUBT, saltDoubtK } from "#core/zone/margin-doubt.ts";
import type { AirChip, SlabProbe, ZoneProbes } from "#core/zone/probes.ts";
import type { SaltCheck } from "#core/zone/salt-check.ts";
import { type Accuracy } from "#core/zone/site.ts";
import type { Timeline } from "#core/zone/timeline.ts";
import { slopeAt, type Slopes } from "#core/zone/slope.ts";

/** A careful hand meter, +- bounds. Common practice, no source. */
export const HAND_ACCURACY: Accuracy = { slabK: 1, airK: 0.5, rhPct: 2 };

export interface Conditions {
  readonly source: "live" | "hand" | "none";
  readonly slabColdC: number | null;
  readonly slabHotC: number | null;
  readonly coldProbe: string | null;
  readonly hotProbe: string | null;
  readonly airMinC: number | null;
  readonly airMaxC: number | null;
  readonly rhMinPct: number | null;
  readonly rhMaxPct: number | null;
  readonly dewPointC: number | null;
  readonly marginK: number | null;
  readonly marginUncertaintyK: number | null;
  /** What hand readings and salt checks add to it: the margin may be so much lower than it is read, and the slab colder. */
  readonly marginDoubtK: number;
  readonly slabDoubtK: number;
  /** Water in the air at the driest chip, g per kg of dry air. */
  readonly waterGPerKg: number | null;
  /** The same at the dampest chip. */
  readonly waterMaxGPerKg: number | null;
  /** Fastest rise of any slab probe over 90 min. */
  readonly slopeKPerH: number | null;
  readonly slopeProbe: string | null;
  readonly ageS: number | null;
}

type Measured = Extract<JournalEntry, { did: "measured" }>;
/** A hand reading of slab, air and humidity at one moment. */
export interface HandReading {
  readonly atMs: number;
  readonly slabC: number;
  readonly airC: number;
  readonly rhPct: number;
}

/** The latest complete hand reading not older than `validMs`; null if there is none. */
export function handReadingAt(measured: readonly Measured[], nowMs: number, validMs: number): HandReading | null {
  for (const entry of [...measured].reverse()) {
    if (nowMs - entry.atMs > validMs) break;
    const { slabC, airC, rhPct, atMs } = entry;
    if (slabC !== undefined && airC !== undefined && rhPct !== undefined && rhPct > 0)
      return { atMs, slabC, airC, rhPct };
  }
  return null;
}

const known = (value: number | undefined): number | null => (value === undefined || Number.isNaN(value) ? null : value);

/** Dew points that a limit is held against, °C: hotter ones do not exist over a floor, and would boil on a mountain. */
const WATER_RANGE_C = { min: -80, max: 60 } as const;

/** Humidity ratio from a dew point: at the dew point the air is saturated. */
export function waterAtDewPointGPerKg(dewC: number, altitudeM: number): number {
  return waterGPerKg(keptWithin(dewC, WATER_RANGE_C), 100, pressureAtAltitudePa(altitudeM));
}

export function handConditions(hand: HandReading, altitudeM: number, nowMs: number): Conditions {
  const dewC = dewPointC(hand.airC, hand.rhPct);
  return {
    source: "hand",
    slabColdC: hand.slabC,
    slabHotC: hand.slabC,
    coldProbe: null,
    hotProbe: null,
    airMinC: hand.airC,
    airMaxC: hand.airC,
    rhMinPct: hand.rhPct,
    rhMaxPct: hand.rhPct,
    dewPointC: dewC,
    marginK: hand.slabC - dewC,
    marginUncertaintyK: marginUncertaintyK(HAND_ACCURACY, hand.airC, hand.rhPct),
    marginDoubtK: 0,
    slabDoubtK: 0,
    waterGPerKg: waterAtDewPointGPerKg(dewC, altitudeM),
    waterMaxGPerKg: waterAtDewPointGPerKg(dewC, altitudeM),
    slopeKPerH: null,
    slopeProbe: null,
    ageS: (nowMs - hand.atMs) / 1000,
  };
}

/** What present conditions ask of the probes. */
type Spoken = Pick<ZoneProbes, "slab" | "chips">;

/** The largest stated bound among the zone's nodes: what the margin may be off by at its worst spot. */
function accuracyOf(probes: Spoken, cold: SlabProbe | null, nowMs: number): Accuracy {
  let slabK = 0;
  for (const { node } of probes.slab) slabK = Math.max(slabK, node.accuracy.slabK);
  const chips = probes.chips.filter((chip) => chip.retiredMs > nowMs);
  let airK = 0;
  let rhPct = 0;
  for (const { node } of chips.length > 0 ? chips : probes.slab) {
    airK = Math.max(airK, node.accuracy.airK);
    rhPct = Math.max(rhPct, node.accuracy.rhPct);
  }
  return { slabK: cold?.node.accuracy.slabK ?? slabK, airK, rhPct };
}

export const slabTrack = ({ track }: SlabProbe): Track => track;
export const dewPointTrack = ({ dewPoint }: AirChip): Track => dewPoint;

/** Age of the newest reading among tracks, ms; null if none spoke. */
export function newestAgeMs<T>(all: readonly T[], trackOf: (one: T) => Track, nowMs: number): number | null {
  let lastMs = Number.NEGATIVE_INFINITY;
  for (const one of all) {
    const { atMs } = trackOf(one);
    lastMs = Math.max(lastMs, atMs[atMs.length - 1] ?? lastMs);
  }
  return lastMs === Number.NEGATIVE_INFINITY ? null : nowMs - lastMs;
}

export function liveConditions(
  line: Timeline,
  probes: Spoken,
  quarantined: ReadonlySet<string>,
  altitudeM: number,
  nowMs: number,
  doubt: MarginDoubt = NO_DOUBT,
  saltChecks: readonly SaltCheck[] = [],
  slopes: Slopes = [],
): Conditions {
  const at = line.readings;
  const cold = probes.slab[line.coldProbe[at] ?? -1] ?? null;
  const hot = probes.slab[line.hotProbe[at] ?? -1] ?? null;
  const airC = known(line.airMinC[at]);
  const rhPct = known(line.rhMaxPct[at]);
  const dewMinC = known(line.dewPointMinC[at]);
  const dewMaxC = known(line.dewPointC[at]);
  const marginK = known(line.marginK[at]);
  let slopeKPerH: number | null = null;
  let slopeProbe: string | null = null;
  for (let place = 0; place < probes.slab.length; place++) {
    const { name, track, movedMs, retiredMs } = probes.slab[place] as SlabProbe;
    if (retiredMs <= nowMs || quarantined.has(name)) continue;
    const kPerH = slopeAt(slopes, place, track, nowMs, movedMs);
    if (kPerH === null || (slopeKPerH !== null && !(kPerH > slopeKPerH))) continue;
    slopeKPerH = kPerH;
    slopeProbe = name;
  }
  const slabAgeMs = newestAgeMs(probes.slab, slabTrack, nowMs);
  const airAgeMs = newestAgeMs(probes.chips, dewPointTrack, nowMs);
  const accuracy = accuracyOf(probes, cold, nowMs);
  const dampPct = Math.min(rhPct ?? 100, 100);
  const saltK = airC === null || rhPct === null ? 0 : saltDoubtK(saltChecks, probes, accuracy, airC, dampPct, nowMs);
  // A chip that a salt check and a hand reading both find too dry is too dry once.
  const marginDoubtK = doubt.slabK + Math.max(doubt.dewK, saltK);
  return {
    source: marginK === null ? "none" : "live",
    slabColdC: known(line.slabColdC[at]),
    slabHotC: known(line.slabHotC[at]),
    coldProbe: cold?.name ?? null,
    hotProbe: hot?.name ?? null,
    airMinC: airC,
    airMaxC: known(line.airMaxC[at]),
    rhMinPct: known(line.rhMinPct[at]),
    rhMaxPct: rhPct,
    dewPointC: dewMaxC,
    marginK,
    marginUncertaintyK:
      airC === null || rhPct === null ? null : marginUncertaintyK(accuracy, airC, dampPct) + marginDoubtK,
    marginDoubtK,
    slabDoubtK: doubt.slabK,
    waterGPerKg: dewMinC === null ? null : waterAtDewPointGPerKg(dewMinC, altitudeM),
    waterMaxGPerKg: dewMaxC === null ? null : waterAtDewPointGPerKg(dewMaxC, altitudeM),
    slopeKPerH,
    slopeProbe,
    ageS: slabAgeMs === null || airAgeMs === null ? null : Math.max(slabAgeMs, airAgeMs) / 1000,
  };
}
