// The timeline of a zone: coldest and hottest slab, air and dew point at every moment at which something was heard.
import { lastIndexAt, type Track, upperIndex } from "#core/zone/heard.ts";
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import { Cursor } from "#core/zone/cursor.ts";
import { type ChipVote, fillAir } from "#core/zone/timeline-air.ts";
import { alike } from "#core/zone/trust/conflict.ts";
import { lastWordMs, type Offsets, voteOf } from "#core/zone/silent.ts";

/** Arrays of equal length; NaN where the quantity was not known. */
export interface Timeline {
  readonly atMs: Float64Array;
  readonly slabColdC: Float64Array;
  readonly slabHotC: Float64Array;
  /** Index of the coldest and hottest slab probe, -1 where none. */
  readonly coldProbe: Int16Array;
  readonly hotProbe: Int16Array;
  readonly airMinC: Float64Array;
  readonly airMaxC: Float64Array;
  readonly rhMinPct: Float64Array;
  readonly rhMaxPct: Float64Array;
  /** The dampest chip's dew point: it governs the margin. */
  readonly dewPointC: Float64Array;
  /** The same for the balance of water on the floor: where no sound chip spoke, what a wetted one said. */
  readonly dewOnFloorC: Float64Array;
  /** The driest chip's dew point: it governs the water that a coat needs. */
  readonly dewPointMinC: Float64Array;
  readonly marginK: Float64Array;
  /** How many of the points are readings; one more point stands at the moment of judging. */
  readonly readings: number;
}

/**
 * Who may speak: tracks are without what a fault has spoiled; quarantined probes say nothing now but keep their vote; a
 * sun-struck chip keeps its dew point only.
 */
export interface Voices {
  readonly slab: readonly SlabProbe[];
  readonly chips: readonly AirChip[];
  readonly quarantinedSlab: ReadonlySet<string>;
  readonly quarantinedChips: ReadonlySet<string>;
  readonly dewPointOnlyChips: ReadonlySet<string>;
  /** Dew points of chips while they were wetted, by node. */
  readonly wet: readonly { readonly node: string; readonly wet: Track }[];
}

/** Every time from `fromMs` on at which something was said, once, and now. Tracks stand in order: they are merged. */
function unionTimes(tracks: readonly Track[], fromMs: number, nowMs: number): Float64Array {
  const next = tracks.map(({ atMs }) => lastIndexAt(atMs, fromMs - 1) + 1);
  const ends = tracks.map(({ atMs }) => upperIndex(atMs, nowMs));
  let most = 1;
  for (let place = 0; place < tracks.length; place++)
    most += Math.max(0, (ends[place] as number) - (next[place] as number));
  const times = new Float64Array(most);
  let count = 0;
  for (;;) {
    let earliestMs = Number.POSITIVE_INFINITY;
    for (let place = 0; place < tracks.length; place++) {
      const at = next[place] as number;
      if (at >= (ends[place] as number)) continue;
      const takenMs = (tracks[place] as Track).atMs[at] as number;
      if (takenMs < earliestMs) earliestMs = takenMs;
    }
    if (earliestMs === Number.POSITIVE_INFINITY) break;
    times[count++] = earliestMs;
    for (let place = 0; place < tracks.length; place++) {
      const { atMs } = tracks[place] as Track;
      const end = ends[place] as number;
      let at = next[place] as number;
      while (at < end && atMs[at] === earliestMs) at++;
      next[place] = at;
    }
  }
  times[count] = nowMs;
  return count + 1 === most ? times : times.slice(0, count + 1);
}

/** Offsets of silent probes by the names of both: reckoned once, when they are first needed. */
export interface Votes {
  readonly slab: Map<string, Offsets>;
  readonly chips: Map<string, ChipVote | null>;
}
export const noVotes = (): Votes => ({ slab: new Map(), chips: new Map() });

/**
 * Builds the timeline from `fromMs` to `nowMs`; its last point is `nowMs` itself, where readings are held. `votes` are
 * those known already, and take in what is reckoned here.
 */
export function timelineOf(voices: Voices, fromMs: number, nowMs: number, votes: Votes = noVotes()): Timeline {
  const { slab, chips } = voices;
  const tracks = [...slab.map((probe) => probe.track), ...chips.flatMap((chip) => [chip.air, chip.rh])];
  const atMs = unionTimes(tracks, fromMs, nowMs);
  const blank = () => new Float64Array(atMs.length).fill(Number.NaN);
  const line: Timeline = {
    atMs,
    slabColdC: blank(),
    slabHotC: blank(),
    coldProbe: new Int16Array(atMs.length).fill(-1),
    hotProbe: new Int16Array(atMs.length).fill(-1),
    airMinC: blank(),
    airMaxC: blank(),
    rhMinPct: blank(),
    rhMaxPct: blank(),
    dewPointC: blank(),
    dewOnFloorC: blank(),
    dewPointMinC: blank(),
    marginK: blank(),
    readings: atMs.length - 1,
  };
  fillSlab(line, voices, nowMs, votes.slab);
  fillAir(line, chips, voices.dewPointOnlyChips, nowMs, votes.chips);
  line.dewOnFloorC.set(line.dewPointC);
  for (const { node, wet } of voices.wet)
    fillWet(
      line,
      wet,
      chips.filter((chip) => chip.node.id !== node),
    );
  for (let index = 0; index < atMs.length; index++) {
    line.marginK[index] = (line.slabColdC[index] as number) - (line.dewPointC[index] as number);
  }
  return line;
}

/** Where a wetted chip spoke and no other one did. */
function fillWet(line: Timeline, wet: Track, others: readonly AirChip[]): void {
  const said = new Cursor(wet);
  const beside = others.map((chip) => new Cursor(chip.dewPoint));
  for (let index = 0; index < line.atMs.length; index++) {
    const atMs = line.atMs[index] as number;
    const wetC = said.at(atMs);
    const known = beside.map((cursor) => cursor.at(atMs)).some((dewC) => !Number.isNaN(dewC));
    if (!Number.isNaN(wetC) && !known) line.dewOnFloorC[index] = wetC;
  }
}

interface Voice {
  readonly probe: SlabProbe;
  readonly index: number;
  readonly cursor: Cursor;
  readonly firstMs: number;
}

function fillSlab(line: Timeline, voices: Voices, nowMs: number, offsets: Votes["slab"]): void {
  const probes = voices.slab.map(
    (probe, index): Voice => ({
      probe,
      index,
      cursor: new Cursor(probe.track),
      firstMs: probe.said.atMs[0] ?? Number.POSITIVE_INFINITY,
    }),
  );
  // Those that lie within a metre of a probe, and should agree with it, know best what it would say: asked when one is silent.
  let besides: readonly Voice[][] | null = null;
  const besidesOf = (index: number) => {
    besides ??= probes.map(({ probe }) => probes.filter((other) => other.probe !== probe && alike(probe, other.probe)));
    return besides[index] as Voice[];
  };
  const values = new Float64Array(probes.length);
  const offset = (silent: SlabProbe, other: SlabProbe): Offsets => {
    const key = `${silent.name} ${other.name}`;
    let found = offsets.get(key);
    if (found === undefined) offsets.set(key, (found = voteOf(silent, other, lastWordMs(silent.track, nowMs))));
    return found;
  };
  for (let step = 0; step < line.atMs.length; step++) {
    const atMs = line.atMs[step] as number;
    let coldC = Number.POSITIVE_INFINITY;
    let hotC = Number.NEGATIVE_INFINITY;
    let spoke = 0;
    for (let index = 0; index < probes.length; index++) {
      const { probe, cursor } = probes[index] as Voice;
      const value = cursor.at(atMs, probe.movedMs);
      const speaks = !Number.isNaN(value) && atMs < probe.retiredMs;
      values[index] = speaks ? value : Number.NaN;
      if (!speaks) continue;
      spoke++;
      if (value < coldC) {
        coldC = value;
        line.coldProbe[step] = index;
      }
      if (value > hotC) {
        hotC = value;
        line.hotProbe[step] = index;
      }
    }
    if (spoke === 0) continue;
    if (spoke === probes.length) {
      line.slabColdC[step] = coldC;
      line.slabHotC[step] = hotC;
      continue;
    }
    let unknown = false;
    for (const { probe, index, firstMs } of probes) {
      // A probe that was laid and says nothing now is taken at its worst against those that speak.
      if (!Number.isNaN(values[index] as number) || atMs < Math.max(firstMs, probe.movedMs) || atMs >= probe.retiredMs)
        continue;
      const beside = besidesOf(index).filter(
        (other) => !Number.isNaN(values[other.index] as number) && offset(probe, other.probe).enough,
      );
      for (const other of beside.length > 0 ? beside : probes) {
        const said = values[other.index] as number;
        if (Number.isNaN(said)) continue;
        const known = offset(probe, other.probe);
        if (!known.enough) {
          unknown = true;
          continue;
        }
        if (said + known.coldestK < coldC) {
          coldC = said + known.coldestK;
          line.coldProbe[step] = index;
        }
        if (said + known.hottestK > hotC) {
          hotC = said + known.hottestK;
          line.hotProbe[step] = index;
        }
      }
    }
    if (unknown) continue;
    line.slabColdC[step] = coldC;
    line.slabHotC[step] = hotC;
  }
}
