// The slab of a timeline: the coldest and the hottest probe, and the vote of a probe that fell silent.
import type { Held } from "#core/zone/cursor.ts";
import type { SlabProbe } from "#core/zone/probes.ts";
import { lastWordMs, type Offsets, voteOf } from "#core/zone/silent.ts";
import { alike } from "#core/zone/trust/conflict.ts";

/** The columns of a timeline that speak of the slab; NaN where it was not known. */
export interface SlabColumns {
  readonly slabColdC: Float64Array;
  readonly slabHotC: Float64Array;
  /** Index of the coldest and hottest slab probe, -1 where none. */
  readonly coldProbe: Int16Array;
  readonly hotProbe: Int16Array;
}

/** What the probes say at each time, and what is known of those that are silent. */
interface Spoken {
  readonly probes: readonly SlabProbe[];
  readonly said: readonly Float64Array[];
  /** From when on a probe has a vote. */
  readonly votesFromMs: readonly number[];
  /** Places of all probes. */
  readonly all: readonly number[];
  /** Those that lie within a metre of a probe, and should agree with it, know best what it would say. */
  readonly besidesOf: (index: number) => readonly number[];
  readonly offset: (silent: number, other: number) => Offsets;
}

function spokenOf(held: Held, probes: readonly SlabProbe[], nowMs: number, offsets: Map<string, Offsets>): Spoken {
  const all = probes.map((_, index) => index);
  // Both are filled where they are asked for: where one is silent.
  const besides: (readonly number[])[] = [];
  const known: Offsets[] = [];
  function offsetOf(silent: SlabProbe, other: SlabProbe): Offsets {
    const key = `${silent.name} ${other.name}`;
    let found = offsets.get(key);
    if (found === undefined) offsets.set(key, (found = voteOf(silent, other, lastWordMs(silent.track, nowMs))));
    return found;
  }
  return {
    probes,
    all,
    said: probes.map((probe) => held.of(probe.track, probe.movedMs)),
    votesFromMs: probes.map(({ said, movedMs }) => Math.max(said.atMs[0] ?? Number.POSITIVE_INFINITY, movedMs)),
    besidesOf(index) {
      const probe = probes[index] as SlabProbe;
      return (besides[index] ??= all.filter((other) => other !== index && alike(probe, probes[other] as SlabProbe)));
    },
    offset: (silent, other) =>
      (known[silent * probes.length + other] ??= offsetOf(probes[silent] as SlabProbe, probes[other] as SlabProbe)),
  };
}

/**
 * The slab at each of `atMs`, of which `held` tells. `offsets` are those of silent probes that are known already, and take in
 * what is reckoned here; they hold as of `nowMs`.
 */
export function slabOn(
  atMs: Float64Array,
  held: Held,
  probes: readonly SlabProbe[],
  nowMs: number,
  offsets: Map<string, Offsets>,
): SlabColumns {
  const columns: SlabColumns = {
    slabColdC: new Float64Array(atMs.length).fill(Number.NaN),
    slabHotC: new Float64Array(atMs.length).fill(Number.NaN),
    coldProbe: new Int16Array(atMs.length).fill(-1),
    hotProbe: new Int16Array(atMs.length).fill(-1),
  };
  const spoken = spokenOf(held, probes, nowMs, offsets);
  const { said } = spoken;
  const spoke = new Int16Array(atMs.length);
  for (let index = 0; index < probes.length; index++) {
    silence(said[index] as Float64Array, atMs, (probes[index] as SlabProbe).retiredMs);
    take(columns, spoke, said[index] as Float64Array, index);
  }
  for (let step = 0; step < atMs.length; step++) {
    const count = spoke[step] as number;
    if (count > 0 && count < probes.length) withVotes(columns, spoken, step, atMs[step] as number);
  }
  return columns;
}

/** The words of one probe; of two that say the same, the first is named. */
function take(columns: SlabColumns, spoke: Int16Array, said: Float64Array, index: number): void {
  const { slabColdC, slabHotC, coldProbe, hotProbe } = columns;
  for (let step = 0; step < said.length; step++) {
    const value = said[step] as number;
    if (Number.isNaN(value)) continue;
    spoke[step] = (spoke[step] as number) + 1;
    if (!(value >= (slabColdC[step] as number))) {
      slabColdC[step] = value;
      coldProbe[step] = index;
    }
    if (!(value <= (slabHotC[step] as number))) {
      slabHotC[step] = value;
      hotProbe[step] = index;
    }
  }
}

/** A probe says nothing once it is out of use. */
function silence(said: Float64Array, atMs: Float64Array, retiredMs: number): void {
  for (let step = said.length - 1; step >= 0 && (atMs[step] as number) >= retiredMs; step--) said[step] = Number.NaN;
}

/** A probe that was laid and says nothing now is taken at its worst against those that speak. */
function withVotes(columns: SlabColumns, spoken: Spoken, step: number, atMs: number): void {
  const { probes, all, said, votesFromMs, besidesOf, offset } = spoken;
  const { slabColdC, slabHotC, coldProbe, hotProbe } = columns;
  const saidBy = (index: number) => (said[index] as Float64Array)[step] as number;
  let unknown = false;
  for (let index = 0; index < probes.length; index++) {
    const probe = probes[index] as SlabProbe;
    if (!Number.isNaN(saidBy(index)) || atMs < (votesFromMs[index] as number) || atMs >= probe.retiredMs) continue;
    const beside = besidesOf(index).filter((other) => !Number.isNaN(saidBy(other)) && offset(index, other).enough);
    for (const other of beside.length > 0 ? beside : all) {
      const otherC = saidBy(other);
      if (Number.isNaN(otherC)) continue;
      const known = offset(index, other);
      if (!known.enough) {
        unknown = true;
        continue;
      }
      if (otherC + known.coldestK < (slabColdC[step] as number)) {
        slabColdC[step] = otherC + known.coldestK;
        coldProbe[step] = index;
      }
      if (otherC + known.hottestK > (slabHotC[step] as number)) {
        slabHotC[step] = otherC + known.hottestK;
        hotProbe[step] = index;
      }
    }
  }
  if (!unknown) return;
  slabColdC[step] = Number.NaN;
  slabHotC[step] = Number.NaN;
}
