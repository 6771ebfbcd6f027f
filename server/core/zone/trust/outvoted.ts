// Of two slab probes that cannot both be right, the one that a third voice speaks against.
import { HOLD_MS } from "#core/zone/cursor.ts";
import { lastIndexAt, type Track, upperIndex } from "#core/zone/heard.ts";
import type { SlabProbe } from "#core/zone/probes.ts";
import { offsetsOf } from "#core/zone/silent.ts";
import { alike, CONFLICT_K } from "#core/zone/trust/conflict.ts";
import { endOf, type Run, type Spell } from "#core/zone/trust/spell.ts";

const HOUR_MS = 3_600_000;
/** A stretch of conflict ends when the two come this near again. */
const OVER_K = 1.5;
/** What was said before the conflict may be spoiled already: the past ends half a day before it, or where that is too little, here. */
const PAST_ENDS_MS = [12 * HOUR_MS, 2 * HOUR_MS];
/**
 * Against a third probe one of the two lies so far outside all that it did in two days, by the mean of an hour, and the
 * other within all that it did or nearly so. Common practice, no source.
 */
const LEAVES_K = 1;
const HOLDS_K = 0.5;
const LEAST_READINGS = 4;
/** How far back from a conflict it is looked when one of the two began to leave. */
const GOES_MS = 12 * HOUR_MS;

/** Stretches of readings of `a` in which `b`, heard beside it, lay too far off. */
function conflictsOf(a: Track, b: Track): Run[] {
  const runs: Run[] = [];
  let first = -1;
  let last = -1;
  for (const [index, takenMs] of a.atMs.entries()) {
    const at = lastIndexAt(b.atMs, takenMs);
    if (at < 0 || takenMs - (b.atMs[at] as number) > HOLD_MS) continue;
    const apartK = Math.abs((a.values[index] as number) - (b.values[at] as number));
    if (apartK > CONFLICT_K || (first >= 0 && apartK > OVER_K)) {
      if (first < 0) first = index;
      last = index;
    } else if (first >= 0) {
      runs.push({ first, last });
      first = -1;
    }
  }
  if (first >= 0) runs.push({ first, last });
  return runs;
}

function upTo(track: Track, atMs: number): Track {
  const end = upperIndex(track.atMs, atMs);
  return { ...track, atMs: track.atMs.slice(0, end), values: track.values.slice(0, end) };
}

/** Mean offset of a probe to a third one within an hour; NaN where too little was said. */
function meanOffK(probe: Track, third: Track, fromMs: number): number {
  let sum = 0;
  let count = 0;
  for (let index = lastIndexAt(probe.atMs, fromMs - 1) + 1; index < probe.atMs.length; index++) {
    const takenMs = probe.atMs[index] as number;
    if (takenMs >= fromMs + HOUR_MS) break;
    const at = lastIndexAt(third.atMs, takenMs);
    if (at < 0 || takenMs - (third.atMs[at] as number) > HOLD_MS) continue;
    sum += (probe.values[index] as number) - (third.values[at] as number);
    count++;
  }
  return count >= LEAST_READINGS ? sum / count : Number.NaN;
}

/** How far outside its past against a third probe it lies in an hour that begins then; null with too little past. */
function outsideOf(probe: SlabProbe, third: SlabProbe, sinceMs: number): ((fromMs: number) => number) | null {
  for (const endsMs of PAST_ENDS_MS) {
    const pastMs = sinceMs - endsMs;
    const past = offsetsOf({ ...probe, track: upTo(probe.track, pastMs) }, third, pastMs);
    if (!past.enough) continue;
    return (fromMs) => {
      const off = meanOffK(probe.track, third.track, fromMs);
      return Math.max(0, off - past.hottestK, past.coldestK - off);
    };
  }
  return null;
}

interface Outvoted {
  readonly probe: SlabProbe;
  readonly sinceMs: number;
  readonly measured: number;
}

/** Of two in conflict the one that a third speaks against in some hour, if none ever speaks against the other. */
function against(
  pair: readonly [SlabProbe, SlabProbe],
  thirds: readonly SlabProbe[],
  hours: readonly number[],
): Outvoted | null {
  const sinceMs = hours[0] as number;
  const spoken = pair.map((probe): Outvoted => ({ probe, sinceMs, measured: 0 })) as [Outvoted, Outvoted];
  for (const third of thirds) {
    const outside = pair.map((probe) => outsideOf(probe, third, sinceMs));
    for (const [index, other] of [1, 0].entries()) {
      const [leavesK, holdsK] = [outside[index], outside[other]];
      if (!leavesK || !holdsK) continue;
      const said = hours.filter((fromMs) => leavesK(fromMs) > LEAVES_K && holdsK(fromMs) <= HOLDS_K).map(leavesK);
      if (said.length === 0) continue;
      // It had left before it lay too far off.
      let beganMs = sinceMs;
      while (beganMs > sinceMs - GOES_MS && leavesK(beganMs - HOUR_MS) > HOLDS_K) beganMs -= HOUR_MS;
      const known = spoken[index] as Outvoted;
      spoken[index] = {
        probe: known.probe,
        sinceMs: Math.min(known.sinceMs, beganMs),
        measured: Math.max(known.measured, ...said),
      };
    }
  }
  const [a, b] = spoken;
  if (a.measured > 0 === b.measured > 0) return null;
  return a.measured > 0 ? a : b;
}

/** Every stretch in which a probe was outvoted, from when it left the others. It keeps its vote. */
export function outvotedSpells(slab: readonly SlabProbe[]): Spell[] {
  const spells: Spell[] = [];
  for (const [index, a] of slab.entries()) {
    for (const b of slab.slice(index + 1)) {
      if (!alike(a, b)) continue;
      const thirds = slab.filter((probe) => probe !== a && probe !== b);
      const laidMs = Math.max(a.movedMs, b.movedMs);
      for (const { first, last } of thirds.length === 0 ? [] : conflictsOf(a.track, b.track)) {
        const [sinceMs, lastMs] = [a.track.atMs[first] as number, a.track.atMs[last] as number];
        if (sinceMs < laidMs || lastMs - sinceMs < HOUR_MS) continue;
        const whole = Math.floor((lastMs - sinceMs) / HOUR_MS);
        const hours = Array.from({ length: whole }, (_, hour) => sinceMs + hour * HOUR_MS);
        const found = against([a, b], thirds, hours);
        if (found === null) continue;
        const { probe, measured } = found;
        const untilMs = endOf(probe.track, lastIndexAt(probe.track.atMs, lastMs));
        const spell = { probe: probe.name, kind: "outvoted", untilMs, measured, limit: LEAVES_K } as const;
        spells.push({ ...spell, sinceMs: Math.max(found.sinceMs, laidMs) });
      }
    }
  }
  return spells;
}
