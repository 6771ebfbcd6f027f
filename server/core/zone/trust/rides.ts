// A slab probe that rides with the air through a slow change lies in it: no fast swings are needed to tell.
import { lastIndexAt } from "#core/zone/heard.ts";
import type { SlabProbe } from "#core/zone/probes.ts";
import { type Beside, lastInAir } from "#core/zone/trust/off-air.ts";
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
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    lowest = Math.min(lowest, value);
    highest = Math.max(highest, value);
  }
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

/** How far the air moved by means of an hour, if the readings from `first` to before `end` rode with it; else null. */
function rideK(
  kind: Kind,
  probe: SlabProbe,
  offK: Float64Array,
  nearK: number,
  first: number,
  end: number,
): number | null {
  const { atMs, values } = probe.track;
  const startMs = atMs[first] as number;
  // A sum for each hour of the window: four dozen windows are read at each judging.
  const hours = kind.windowMs / HOUR_MS + 1;
  const airSums = new Float64Array(hours);
  const offSums = new Float64Array(hours);
  const counts = new Int32Array(hours);
  let readings = 0;
  for (let index = first; index < end; index++) {
    const off = offK[index] as number;
    if (Number.isNaN(off)) continue;
    const hour = Math.floor(((atMs[index] as number) - startMs) / HOUR_MS);
    airSums[hour] = (airSums[hour] as number) + ((values[index] as number) - off);
    offSums[hour] = (offSums[hour] as number) + off;
    counts[hour] = (counts[hour] as number) + 1;
    readings++;
  }
  if (readings < LEAST_READINGS) return null;
  const fullest = Math.max(...counts);
  const airs: number[] = [];
  const offs: number[] = [];
  for (let hour = 0; hour < hours; hour++) {
    const count = counts[hour] as number;
    // An hour of which little was heard is noise.
    if (count === 0 || 2 * count < fullest) continue;
    airs.push((airSums[hour] as number) / count);
    offs.push((offSums[hour] as number) / count);
  }
  const airK = rangeOf(airs);
  if (airK < kind.airK || thereAndBackK(airs) < kind.backK) return null;
  const near = offs.every((off) => Math.abs(off) <= nearK);
  return near && rangeOf(offs) <= kind.keepsK + kind.keepsShare * airK ? airK : null;
}

/** Beyond what sums of readings are rounded by, K. */
const ROUNDING_K = 1e-6;

/** For each reading, how many before it do not stand further than `nearK` off the air on one side: above it, or below. */
function notBeyond(offK: Float64Array, nearK: number, side: 1 | -1): Int32Array {
  const before = new Int32Array(offK.length + 1);
  let count = 0;
  for (let index = 0; index < offK.length; index++) {
    // What was not heard counts for nothing.
    if (side * (offK[index] as number) <= nearK + ROUNDING_K) count++;
    before[index + 1] = count;
  }
  return before;
}

/** Every stretch in which a probe rode with the air, to where it left it. */
export function rideSpells(probe: SlabProbe, { chip, off }: Beside, nowMs: number): Spell[] {
  const { track, movedMs, name } = probe;
  if (rangeOf(chip.air.values) < THERE_AND_BACK.airK) return [];
  const nearK = off.nearK - NEARER_K;
  const oldestMs = Math.max(nowMs - LOOK_BACK_MS, movedMs);
  const windows = [ONE_WAY, THERE_AND_BACK].flatMap((kind) => {
    const starts = [Math.max(nowMs - kind.windowMs, oldestMs)];
    for (let atMs = Math.ceil(oldestMs / APART_MS) * APART_MS; atMs + kind.windowMs < nowMs; atMs += APART_MS)
      starts.push(atMs);
    return starts.map((fromMs) => ({ kind, fromMs }));
  });
  // Where all readings of a window stand off the air on one side, so do their means: most windows need no sums.
  const notAbove = notBeyond(off.offK, nearK, 1);
  const notBelow = notBeyond(off.offK, nearK, -1);
  const spells: Spell[] = [];
  for (const { kind, fromMs } of windows) {
    const first = lastIndexAt(track.atMs, fromMs - 1) + 1;
    const end = lastIndexAt(track.atMs, fromMs + kind.windowMs) + 1;
    if (first >= end || notAbove[first] === notAbove[end] || notBelow[first] === notBelow[end]) continue;
    const measured = rideK(kind, probe, off.offK, nearK, first, end);
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
