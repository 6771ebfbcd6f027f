// The timeline of a zone: coldest and hottest slab, air and dew point at every moment at which something was heard.
import { lastIndexAt, type Track, upperIndex } from "#core/zone/heard.ts";
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import { Held } from "#core/zone/cursor.ts";
import type { Offsets } from "#core/zone/silent.ts";
import { type AirColumns, airOn, type ChipVote } from "#core/zone/timeline-air.ts";
import { type SlabColumns, slabOn } from "#core/zone/timeline-slab.ts";

/** Arrays of equal length; NaN where the quantity was not known. */
export interface Timeline extends SlabColumns, AirColumns {
  readonly atMs: Float64Array;
  /** `dewPointC` for the balance of water on the floor: where no sound chip spoke, what a wetted one said. */
  readonly dewOnFloorC: Float64Array;
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
  // Those of one pack have their times in common.
  const clocks = [...new Set(tracks.map(({ atMs }) => atMs))];
  const next = clocks.map((atMs) => lastIndexAt(atMs, fromMs - 1) + 1);
  const ends = clocks.map((atMs) => upperIndex(atMs, nowMs));
  let most = 1;
  for (let place = 0; place < clocks.length; place++)
    most += Math.max(0, (ends[place] as number) - (next[place] as number));
  const times = new Float64Array(most);
  let count = 0;
  for (;;) {
    let earliestMs = Number.POSITIVE_INFINITY;
    let earliest = -1;
    for (let place = 0; place < clocks.length; place++) {
      const at = next[place] as number;
      if (at >= (ends[place] as number)) continue;
      const takenMs = (clocks[place] as readonly number[])[at] as number;
      if (takenMs >= earliestMs) continue;
      earliestMs = takenMs;
      earliest = place;
    }
    if (earliest < 0) break;
    next[earliest] = (next[earliest] as number) + 1;
    if (count === 0 || times[count - 1] !== earliestMs) times[count++] = earliestMs;
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
  const held = new Held(atMs);
  const { slabColdC, slabHotC, coldProbe, hotProbe } = slabOn(atMs, held, slab, nowMs, votes.slab);
  const air = airOn(atMs, held, chips, voices.dewPointOnlyChips, nowMs, votes.chips);
  const { dewPointC, dewPointMinC, airMinC, airMaxC, rhMinPct, rhMaxPct } = air;
  const dewOnFloorC = voices.wet.length === 0 ? dewPointC : dewPointC.slice();
  for (const { node, wet } of voices.wet) {
    const others = chips.filter((chip) => chip.node.id !== node);
    fillWet(held, dewOnFloorC, wet, others);
  }
  const marginK = new Float64Array(atMs.length);
  for (let step = 0; step < marginK.length; step++)
    marginK[step] = (slabColdC[step] as number) - (dewPointC[step] as number);
  return {
    atMs,
    slabColdC,
    slabHotC,
    coldProbe,
    hotProbe,
    airMinC,
    airMaxC,
    rhMinPct,
    rhMaxPct,
    dewPointC,
    dewOnFloorC,
    dewPointMinC,
    marginK,
    readings: atMs.length - 1,
  };
}

/** Where a wetted chip spoke and no other one did. */
function fillWet(held: Held, dewOnFloorC: Float64Array, wet: Track, others: readonly AirChip[]): void {
  const said = held.of(wet);
  const beside = others.map((chip) => held.of(chip.dewPoint));
  for (let step = 0; step < said.length; step++) {
    const wetC = said[step] as number;
    if (!Number.isNaN(wetC) && beside.every((dewC) => Number.isNaN(dewC[step]))) dewOnFloorC[step] = wetC;
  }
}
