// Of two slab probes that cannot both be right, the one that a third voice speaks against.
import { HOLD_MS } from "#core/zone/cursor.ts";
import { lastIndexAt, type Track, upperIndex } from "#core/zone/heard.ts";
import type { SlabProbe } from "#core/zone/probes.ts";
import { offsetsOf } from "#core/zone/silent.ts";
import { CONFLICT_K, explained, near } from "#core/zone/trust/conflict.ts";
import { endOf, type Run, type Spell } from "#core/zone/trust/spell.ts";

const HOUR_MS = 3_600_000;
/** A stretch of conflict ends when the two come this near again. */
const OVER_K = 1.5;
/** What was said just before the conflict may be spoiled already and is left out of the past. */
const BEFORE_MS = 2 * HOUR_MS;
/**
 * Against a third probe one of the two lies so far outside all that it did in two days, by the mean of an hour, and the
 * other within all that it did or nearly so. Common practice, no source.
 */
const LEAVES_K = 1;
const HOLDS_K = 0.5;
const LEAST_READINGS = 4;

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

/** How far outside its past against a third probe it lies in each hour of a stretch; null with too little past. */
function outsideK(probe: SlabProbe, third: SlabProbe, hours: readonly number[]): readonly number[] | null {
  const pastMs = (hours[0] as number) - BEFORE_MS;
  const past = offsetsOf({ ...probe, track: upTo(probe.track, pastMs) }, third, pastMs);
  if (!past.enough) return null;
  return hours.map((fromMs) => {
    const off = meanOffK(probe.track, third.track, fromMs);
    return Math.max(0, off - past.hottestK, past.coldestK - off);
  });
}

/** Of two in conflict the one that a third speaks against in some hour, if none ever speaks against the other. */
function against(
  pair: readonly [SlabProbe, SlabProbe],
  thirds: readonly SlabProbe[],
  hours: readonly number[],
): { readonly probe: SlabProbe; readonly measured: number } | null {
  const spoken = [0, 0];
  for (const third of thirds) {
    const [a, b] = pair.map((probe) => outsideK(probe, third, hours));
    if (a == null || b == null) continue;
    for (const [hour, aK] of a.entries()) {
      const bK = b[hour] as number;
      if (aK > LEAVES_K && bK <= HOLDS_K) spoken[0] = Math.max(spoken[0] as number, aK);
      if (bK > LEAVES_K && aK <= HOLDS_K) spoken[1] = Math.max(spoken[1] as number, bK);
    }
  }
  const [a, b] = spoken as [number, number];
  if (a > 0 === b > 0) return null;
  return a > 0 ? { probe: pair[0], measured: a } : { probe: pair[1], measured: b };
}

/**
 * Every stretch in which a probe was outvoted. It keeps its vote, with all that it was off by before anybody could tell:
 * at least as cold, or as hot, as two kelvin beside its neighbour.
 */
export function outvotedSpells(slab: readonly SlabProbe[]): Spell[] {
  const spells: Spell[] = [];
  for (const [index, a] of slab.entries()) {
    for (const b of slab.slice(index + 1)) {
      if (!near(a, b) || explained(a) || explained(b)) continue;
      const thirds = slab.filter((probe) => probe !== a && probe !== b);
      const laidMs = Math.max(a.movedMs, b.movedMs);
      for (const { first, last } of thirds.length === 0 ? [] : conflictsOf(a.track, b.track)) {
        const [sinceMs, lastMs] = [a.track.atMs[first] as number, a.track.atMs[last] as number];
        if (sinceMs < laidMs || lastMs - sinceMs < HOUR_MS) continue;
        const whole = Math.floor((lastMs - sinceMs) / HOUR_MS);
        const hours = Array.from({ length: whole }, (_, hour) => sinceMs + hour * HOUR_MS);
        const found = against([a, b], thirds, hours);
        if (found === null) continue;
        const { track, name } = found.probe;
        const untilMs = endOf(track, lastIndexAt(track.atMs, lastMs));
        spells.push({ probe: name, kind: "outvoted", sinceMs, untilMs, measured: found.measured, limit: LEAVES_K });
      }
    }
  }
  return spells;
}
