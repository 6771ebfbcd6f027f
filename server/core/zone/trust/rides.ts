// A slab probe that rides with the air through a slow change lies in it: no fast swings are needed to tell.
import { extremesOf } from "#core/zone/extremes.ts";
import { lastIndexAt, type Track } from "#core/zone/heard.ts";
import type { SlabProbe } from "#core/zone/probes.ts";
import { type Beside, lastInAir, standsOff } from "#core/zone/trust/off-air.ts";
import { endOf, type Spell } from "#core/zone/trust/spell.ts";

const HOUR_MS = 3_600_000;
/** Windows are laid so far apart and always at the same times: what was told once is told later too. */
const APART_MS = 2 * HOUR_MS;
const LOOK_BACK_MS = 48 * HOUR_MS;
interface Kind {
  /** Length of the window that is read. */
  readonly windowMs: number;
  readonly airK: number;
  /** The distance may change by so much, and by a share of the air's move. */
  readonly keepsK: number;
  readonly keepsShare: number;
  /** The air must have fallen and risen by this. */
  readonly backK: number;
}
/**
 * While the means of an hour of the air move this far, a probe that lies as near to it as both may be off by, and keeps
 * that distance to a share of the move, lies in it. A slab in the sun comes near and goes by; concrete of 50 mm over foam
 * already lags by more. Common practice, no source.
 */
const ONE_WAY: Kind = { windowMs: 6 * HOUR_MS, airK: 3, keepsK: 0, keepsShare: 0.07, backK: 0 };
/** Through a fall and a rise of the air less is enough: what the sun warms, and what lags, does not turn when the air turns. */
const THERE_AND_BACK: Kind = { windowMs: 8 * HOUR_MS, airK: 1.5, keepsK: 0.1, keepsShare: 0.1, backK: 0.5 };
const LEAST_READINGS = 12;
/** So much nearer than what counts for a leap, which shows by itself. */
const NEARER_K = 0.15;
/** So much further off it than that, it has left the air. */
const LEAVES_K = 0.3;

function rangeOf(values: readonly number[]): number {
  const { lowest, highest } = extremesOf(values);
  return highest - lowest;
}

/** How far a course fell and how far it rose, whichever is less. */
function thereAndBackK(values: readonly number[]): number {
  let [lowest, highest, fallK, riseK] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0, 0];
  for (const value of values) {
    lowest = Math.min(lowest, value);
    highest = Math.max(highest, value);
    riseK = Math.max(riseK, value - lowest);
    fallK = Math.max(fallK, highest - value);
  }
  return Math.min(fallK, riseK);
}

/** Beyond what sums of readings are rounded by, K. */
const ROUNDING_K = 1e-6;

/** The most readings of a track within any hour. */
function busiestOf(atMs: readonly number[]): number {
  let most = 0;
  let first = 0;
  for (let last = 0; last < atMs.length; last++) {
    while ((atMs[last] as number) - (atMs[first] as number) > HOUR_MS) first++;
    most = Math.max(most, last - first + 1);
  }
  return most;
}

/** What the windows of one probe have in common. */
interface Ride {
  readonly track: Track;
  readonly offK: Float64Array;
  readonly nearK: number;
  /** No hour holds more readings. */
  readonly busiest: number;
  /** The air never moved further, K. */
  readonly airRangeK: number;
}

/** How far the air moved by means of an hour, if the readings from `first` to before `end` rode with it; else null. */
function rideK(
  kind: Kind,
  { track, offK, nearK, busiest, airRangeK }: Ride,
  first: number,
  end: number,
): number | null {
  const { atMs, values } = track;
  const startMs = atMs[first] as number;
  const keepsMostK = kind.keepsK + kind.keepsShare * (airRangeK + ROUNDING_K);
  const counts: number[] = [];
  const airs: number[] = [];
  const offs: number[] = [];
  let readings = 0;
  let lowestK = Number.POSITIVE_INFINITY;
  let highestK = Number.NEGATIVE_INFINITY;
  for (let index = first; index < end; ) {
    const hourEndMs = startMs + (Math.floor(((atMs[index] as number) - startMs) / HOUR_MS) + 1) * HOUR_MS;
    let count = 0;
    let airSum = 0;
    let offSum = 0;
    for (; index < end && (atMs[index] as number) < hourEndMs; index++) {
      const off = offK[index] as number;
      if (Number.isNaN(off)) continue;
      airSum += (values[index] as number) - off;
      offSum += off;
      count++;
    }
    if (count === 0) continue;
    readings += count;
    counts.push(count);
    airs.push(airSum / count);
    offs.push(offSum / count);
    // An hour that is full whatever the others hold may tell at once: most windows end with their first.
    if (2 * count < busiest) continue;
    lowestK = Math.min(lowestK, offSum / count);
    highestK = Math.max(highestK, offSum / count);
    if (lowestK < -nearK || highestK > nearK || highestK - lowestK > keepsMostK) return null;
  }
  if (readings < LEAST_READINGS) return null;
  const fullest = Math.max(...counts);
  // An hour of which little was heard is noise.
  const full = (_: number, hour: number) => 2 * (counts[hour] as number) >= fullest;
  const fullAirs = airs.filter(full);
  const fullOffs = offs.filter(full);
  const airK = rangeOf(fullAirs);
  if (airK < kind.airK || thereAndBackK(fullAirs) < kind.backK) return null;
  const near = fullOffs.every((off) => Math.abs(off) <= nearK);
  return near && rangeOf(fullOffs) <= kind.keepsK + kind.keepsShare * airK ? airK : null;
}

/** Every stretch in which a probe rode with the air, to where it left it. */
export function rideSpells(probe: SlabProbe, { air, off }: Beside, nowMs: number): Spell[] {
  const { track, movedMs, name } = probe;
  const nearK = off.nearK - NEARER_K;
  // Where all readings stand off the air on one side, so do their means.
  if (air.rangeK < THERE_AND_BACK.airK || standsOff(off, nearK + ROUNDING_K)) return [];
  const oldestMs = Math.max(nowMs - LOOK_BACK_MS, movedMs);
  const windows = [ONE_WAY, THERE_AND_BACK].flatMap((kind) => {
    const starts = [Math.max(nowMs - kind.windowMs, oldestMs)];
    for (let atMs = Math.ceil(oldestMs / APART_MS) * APART_MS; atMs + kind.windowMs < nowMs; atMs += APART_MS)
      starts.push(atMs);
    return starts.map((fromMs) => ({ kind, fromMs }));
  });
  const ride: Ride = { track, offK: off.offK, nearK, busiest: busiestOf(track.atMs), airRangeK: air.rangeK };
  const spells: Spell[] = [];
  for (const { kind, fromMs } of windows) {
    const first = lastIndexAt(track.atMs, fromMs - 1) + 1;
    const end = lastIndexAt(track.atMs, fromMs + kind.windowMs) + 1;
    if (first >= end) continue;
    const measured = rideK(kind, ride, first, end);
    if (measured === null) continue;
    // What was as near just before the window, of which no window tells, goes with it.
    let begin = first;
    const near = (index: number) =>
      (track.atMs[index] as number) >= Math.max(movedMs, fromMs - APART_MS) &&
      Math.abs(off.offK[index] as number) <= nearK;
    while (begin > 0 && near(begin - 1)) begin--;
    const untilMs = endOf(track, lastInAir(off, end - 1, nearK + LEAVES_K));
    spells.push({
      probe: name,
      kind: "detached",
      sinceMs: track.atMs[begin] as number,
      untilMs,
      measured,
      limit: kind.airK,
    });
  }
  return spells;
}
