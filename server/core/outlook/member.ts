// The members of the ensemble: for each a slab, a room and a weather drawn from what is believed, run through the coming days.
import { FALL } from "#core/outlook/air-fit.ts";
import {
  AS_NOW,
  beginOf,
  COLD_C,
  columnAt,
  DEW_C,
  ensembleMemory,
  HOT_C,
  HOT_K,
  OUT_C,
  OUT_DEW_C,
  OUT_DEW_STRAY_K,
  OUT_STRAY_K,
  PATTERN,
  ROOM_C,
  writeTaken,
} from "#core/outlook/columns.ts";
import { DRAWN, latin, MEMBERS } from "#core/outlook/draws.ts";
import type { Ground } from "#core/outlook/ground.ts";
import {
  type Fade,
  fadeOf,
  passAir,
  passDewPoint,
  passSlab,
  passVapour,
  type Reckoned,
  type Room,
} from "#core/outlook/member-passes.ts";
import type { MoistureCandidate } from "#core/outlook/moisture-fit.ts";
import type { OutlookMember } from "#core/outlook/outlook.ts";
import { STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import type { SlabCandidate } from "#core/outlook/slab-fit.ts";
import { layOut, MEMBER_STEPS, OUTLOOK_STEPS, placeOf, TAKEN, TAKEN_END } from "#core/outlook/steps-ahead.ts";

const STEP_H = STEP_MS / 3_600_000;
/** Share of yesterday's unexplained swing (sun, doors) that is expected again. */
const AGAIN = 0.6;
/** What the slab model leaves open when its memory is gone, K, beside what it missed by; doors and people on air and dew point. */
const SLAB_SPREAD_K = { base: 0.06, miss: 0.8 } as const;
const ROOM_SPREAD_K = { air: 0.6, dew: 0.12 } as const;
/** The first hours of a change of dew point are smoother than a wander: share taken off, and for how long. */
const SMOOTH = { share: 0.35, hours: 3 } as const;
const SMOOTHED = Float64Array.from(TAKEN, (step) => 1 - SMOOTH.share * Math.exp((-step * STEP_H) / SMOOTH.hours));

const DRAW = {
  slab: latin(40, MEMBERS),
  moisture: latin(41, MEMBERS),
  air: latin(42, MEMBERS),
  gain: latin(43, MEMBERS),
  keeps: latin(44, MEMBERS),
  heat: latin(45, MEMBERS),
};
const at = (column: Float64Array, index: number) => column[index] as number;

/** How a departure from yesterday's hours fades, by member. */
const KEEPS: readonly Fade[] = Array.from(DRAW.keeps, (place) => fadeOf(1 / (12 * 6 ** place)));

/** How the heat stands, as far as anybody knows. */
export interface HeatStands {
  /** Step at which it ends by the log; null = no end is known. */
  readonly endsStep: number | null;
  /** Share of belief that it is off now. */
  readonly offShare: number;
  /** Share of members in which it fails within the outlook: fuel runs dry, breakers trip. */
  readonly failShare: number;
}

/** The step from which a member has no heat. */
function offStepOf(heat: HeatStands, place: number): number {
  if (place < heat.offShare) return 0;
  if (heat.endsStep !== null) return heat.endsStep;
  const fails = 1 - place;
  return fails < heat.failShare ? Math.floor((fails / heat.failShare) * OUTLOOK_STEPS) : MEMBER_STEPS;
}

/** Cumulated shares of belief: how far a place between 0 and 1 reaches into the candidates. */
function reachOf(candidates: readonly { readonly belief: number }[]): Float64Array {
  let total = 0;
  for (const { belief } of candidates) total += belief;
  const reach = new Float64Array(candidates.length);
  let passed = 0;
  for (const [index, { belief }] of candidates.entries()) {
    passed += belief / total;
    reach[index] = passed;
  }
  return reach;
}

/** Picks from candidates by belief, at a place between 0 and 1. */
function placeBy(reach: Float64Array, place: number): number {
  let index = 0;
  while (index < reach.length - 1 && !((reach[index] as number) >= place)) index++;
  return index;
}

/** What is expected again of yesterday's unexplained swing of a slab, K, at the steps that are taken. */
function swingOf({ residualK }: SlabCandidate): Float64Array {
  const thenK = at(residualK, 0);
  const swingK = new Float64Array(TAKEN_END);
  for (let place = 0; place < TAKEN_END; place++) {
    const missK = at(residualK, (TAKEN[place] as number) % STEPS_PER_DAY) - thenK;
    swingK[place] = Number.isNaN(missK) ? 0 : AGAIN * missK;
  }
  return swingK;
}

/** What all members of an ensemble share. */
interface Shared {
  readonly ground: Ground;
  readonly memory: Float64Array;
  readonly slabReach: Float64Array;
  readonly swingsK: readonly Float64Array[];
  readonly roomReach: Float64Array;
  /** How members go that follow yesterday's hours; null where these were not heard. */
  readonly pattern: Usual | null;
  readonly asNow: Usual;
}

/** Columns of what is expected of a room, and of the air outdoors that goes with it; how far both stand from that now. */
interface Usual {
  readonly columns: Room["usual"];
  readonly departK: number;
  readonly outDepartK: number;
}

function patternOf({ start, outdoors, outdoorPattern, air: { pattern } }: Ground, memory: Float64Array): Usual | null {
  if (pattern === null) return null;
  writeTaken(memory, PATTERN.roomC, pattern);
  // Where the outdoors of yesterday were not heard, what is expected.
  writeTaken(memory, PATTERN.outC, outdoorPattern ?? outdoors.airC);
  return {
    columns: PATTERN,
    departK: start.airC - at(pattern, 0),
    outDepartK: outdoorPattern === null ? 0 : at(outdoors.airC, 0) - at(outdoorPattern, 0),
  };
}

/** Lays out what is shared, once, at the steps that are taken. */
function sharedOf(ground: Ground): Shared {
  const { slabs, rooms, outdoors, wide, start } = ground;
  const memory = ensembleMemory();
  writeTaken(memory, OUT_C, outdoors.airC);
  writeTaken(memory, OUT_STRAY_K, outdoors.airSpreadK);
  writeTaken(memory, OUT_DEW_C, outdoors.dewPointC);
  writeTaken(memory, OUT_DEW_STRAY_K, outdoors.dewSpreadK);
  writeTaken(memory, HOT_K, ground.hotK);
  for (let place = 0; place < TAKEN_END; place++) {
    memory[OUT_STRAY_K + place] = wide * at(memory, OUT_STRAY_K + place);
    memory[OUT_DEW_STRAY_K + place] = wide * at(SMOOTHED, place) * at(memory, OUT_DEW_STRAY_K + place);
    memory[AS_NOW.roomC + place] = start.airC;
    memory[AS_NOW.outC + place] = at(outdoors.airC, 0);
  }
  return {
    ground,
    memory,
    slabReach: reachOf(slabs),
    swingsK: slabs.map(swingOf),
    roomReach: reachOf(rooms),
    pattern: patternOf(ground, memory),
    asNow: { columns: AS_NOW, departK: 0, outDepartK: 0 },
  };
}

/** How the air of the room goes in a member. */
function roomOf({ ground, pattern, asNow }: Shared, index: number): Room {
  const { air, wide } = ground;
  const gain = Math.max(0.02, Math.min(1, air.gain + air.gainSpread * 1.7 * (2 * at(DRAW.gain, index) - 1)));
  const usual = at(DRAW.air, index) < air.patternShare ? (pattern ?? asNow) : asNow;
  return {
    usual: usual.columns,
    gain,
    departK: usual.departK - gain * usual.outDepartK,
    keeps: KEEPS[index] as Fade,
    spreadK: wide * ROOM_SPREAD_K.air,
  };
}

/** Reckons member `index` in its place. */
function reckon(shared: Shared, heat: HeatStands, index: number): OutlookMember {
  const { ground, memory } = shared;
  const { start, wide } = ground;
  const begin = beginOf(index);
  const into: Reckoned = { memory, begin, row: (index % DRAWN) * TAKEN_END, side: index < DRAWN ? 1 : -1 };

  const fromStep = offStepOf(heat, at(DRAW.heat, index));
  // From the first step after now on: what stands now is what is read.
  const from = Math.max(1, placeOf(fromStep));
  const fromC = passAir(into, roomOf(shared, index), from, start.airC);
  const slabAt = placeBy(shared.slabReach, at(DRAW.slab, index));
  const slab = ground.slabs[slabAt] as SlabCandidate;
  passSlab(
    into,
    {
      slab,
      swingK: shared.swingsK[slabAt] as Float64Array,
      spreadK: wide * (SLAB_SPREAD_K.base + SLAB_SPREAD_K.miss * slab.missK),
      startC: start.coldC,
      startHotC: start.hotC,
    },
    {
      from,
      fromStep,
      fromC,
      quick: fromStep === 0 ? 0.1 : FALL.quickShare,
      slowH: FALL.slowH * 0.6 * 2.8 ** at(DRAW.gain, index),
    },
  );
  const room = ground.rooms[placeBy(shared.roomReach, at(DRAW.moisture, index))] as MoistureCandidate;
  passVapour(into, room, start.dewC);
  passDewPoint(into, wide * ROOM_SPREAD_K.dew, start.dewC);

  const column = (which: number) => {
    layOut(memory, begin + which);
    return columnAt(memory, begin + which);
  };
  return {
    weight: 1 / MEMBERS,
    slabColdC: column(COLD_C),
    slabHotC: column(HOT_C),
    airC: column(ROOM_C),
    dewPointC: column(DEW_C),
  };
}

/** The members of the ensemble that stands on this ground. */
export function membersOf(ground: Ground, heat: HeatStands): OutlookMember[] {
  const shared = sharedOf(ground);
  return Array.from({ length: MEMBERS }, (_, index) => reckon(shared, heat, index));
}
