// The members of the ensemble: for each a slab, a room and a weather drawn from what is believed, run through the coming days.
import { FALL } from "#core/outlook/air-fit.ts";
import { DRAWN, latin, MEMBERS } from "#core/outlook/draws.ts";
import type { Ground } from "#core/outlook/ground.ts";
import {
  type DampOutdoors,
  type Dice,
  type Fade,
  fadeOf,
  passDewPoint,
  passOutdoors,
  passRoom,
  passSlab,
  passVapour,
  type Reckoned,
  type Room,
  scratchOf,
} from "#core/outlook/member-passes.ts";
import type { MoistureCandidate } from "#core/outlook/moisture-fit.ts";
import type { OutlookMember } from "#core/outlook/outlook.ts";
import { STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import type { SlabCandidate } from "#core/outlook/slab-fit.ts";
import { atTaken, layOut, MEMBER_STEPS, OUTLOOK_STEPS, placeOf, TAKEN, TAKEN_END } from "#core/outlook/steps-ahead.ts";

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
  let passed = 0;
  return Float64Array.from(candidates, ({ belief }) => (passed += belief / total));
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

/** What all members of an ensemble share, laid out once at the steps that are taken. */
interface Shared {
  readonly ground: Ground;
  readonly slabReach: Float64Array;
  readonly swingsK: readonly Float64Array[];
  readonly roomReach: Float64Array;
  readonly outAirC: Float64Array;
  /** How far the outdoors may stray. */
  readonly airStrayK: Float64Array;
  readonly damp: DampOutdoors;
  readonly hotK: Float64Array;
  /** Room and outdoors of yesterday's hours, for members that follow these; null where they were not heard. */
  readonly pattern: Usual | null;
  /** Room and outdoors as they stand, for the others. */
  readonly asNow: Usual;
}

/** What is expected of a room, the air outdoors that goes with it, and how far both stand from that now. */
interface Usual {
  readonly airC: Float64Array;
  readonly outC: Float64Array;
  readonly departK: number;
  readonly outDepartK: number;
}

function patternOf({ start, outdoors, outdoorPattern, air: { pattern } }: Ground): Usual | null {
  if (pattern === null) return null;
  return {
    airC: atTaken(pattern),
    // Where the outdoors of yesterday were not heard, what is expected.
    outC: atTaken(outdoorPattern ?? outdoors.airC),
    departK: start.airC - at(pattern, 0),
    outDepartK: outdoorPattern === null ? 0 : at(outdoors.airC, 0) - at(outdoorPattern, 0),
  };
}

function sharedOf(ground: Ground): Shared {
  const { slabs, rooms, outdoors, wide, start } = ground;
  const still = (valueC: number) => new Float64Array(TAKEN_END).fill(valueC);
  return {
    ground,
    slabReach: reachOf(slabs),
    swingsK: slabs.map(swingOf),
    roomReach: reachOf(rooms),
    outAirC: atTaken(outdoors.airC),
    airStrayK: atTaken(outdoors.airSpreadK).map((spreadK) => wide * spreadK),
    damp: {
      dewC: atTaken(outdoors.dewPointC),
      strayK: atTaken(outdoors.dewSpreadK).map((spreadK, place) => spreadK * wide * at(SMOOTHED, place)),
    },
    hotK: atTaken(ground.hotK),
    pattern: patternOf(ground),
    asNow: { airC: still(start.airC), outC: still(at(outdoors.airC, 0)), departK: 0, outDepartK: 0 },
  };
}

/** How the air of the room goes in a member. */
function roomOf({ ground, pattern, asNow }: Shared, index: number): Room {
  const { air, wide } = ground;
  const gain = Math.max(0.02, Math.min(1, air.gain + air.gainSpread * 1.7 * (2 * at(DRAW.gain, index) - 1)));
  const usual = at(DRAW.air, index) < air.patternShare ? (pattern ?? asNow) : asNow;
  return {
    usualC: usual.airC,
    usualOutC: usual.outC,
    gain,
    departK: usual.departK - gain * usual.outDepartK,
    keeps: KEEPS[index] as Fade,
    spreadK: wide * ROOM_SPREAD_K.air,
  };
}

/** Reckons member `index` into `member`. */
function reckon(
  shared: Shared,
  heat: HeatStands,
  index: number,
  member: OutlookMember,
  scratch: Reckoned["scratch"],
): void {
  const { slabColdC, slabHotC, airC, dewPointC } = member;
  const into: Reckoned = { coldC: slabColdC, roomC: airC, dewC: dewPointC, scratch };
  const { ground, hotK } = shared;
  const { start, wide } = ground;
  const dice: Dice = { row: (index % DRAWN) * TAKEN_END, side: index < DRAWN ? 1 : -1 };

  passOutdoors(dice, shared.outAirC, shared.airStrayK, scratch);
  const fromStep = offStepOf(heat, at(DRAW.heat, index));
  // From the first step after now on: what stands now is what is read.
  const from = Math.max(1, placeOf(fromStep));
  const fromC = passRoom(dice, roomOf(shared, index), from, start.airC, into);
  const slabAt = placeBy(shared.slabReach, at(DRAW.slab, index));
  const slab = ground.slabs[slabAt] as SlabCandidate;
  passSlab(
    dice,
    {
      slab,
      swingK: shared.swingsK[slabAt] as Float64Array,
      spreadK: wide * (SLAB_SPREAD_K.base + SLAB_SPREAD_K.miss * slab.missK),
      startC: start.coldC,
    },
    {
      from,
      fromStep,
      fromC,
      quick: fromStep === 0 ? 0.1 : FALL.quickShare,
      slowH: FALL.slowH * 0.6 * 2.8 ** at(DRAW.gain, index),
    },
    into,
  );
  const room = ground.rooms[placeBy(shared.roomReach, at(DRAW.moisture, index))] as MoistureCandidate;
  passVapour(dice, room, shared.damp, start.dewC, into);
  passDewPoint(dice, wide * ROOM_SPREAD_K.dew, start.dewC, into);

  slabHotC[0] = start.hotC;
  for (let place = 1; place < TAKEN_END; place++) slabHotC[place] = at(slabColdC, place) + at(hotK, place);
  layOut(slabColdC);
  layOut(slabHotC);
  layOut(airC);
  layOut(dewPointC);
}

/** The members of the ensemble that stands on this ground. */
export function membersOf(ground: Ground, heat: HeatStands): OutlookMember[] {
  const shared = sharedOf(ground);
  const scratch = scratchOf();
  // One piece of memory for all columns: asking for eight hundred is dear.
  const columns = new Float64Array(4 * MEMBERS * MEMBER_STEPS);
  const column = (place: number) => columns.subarray(place * MEMBER_STEPS, (place + 1) * MEMBER_STEPS);
  const members = Array.from({ length: MEMBERS }, (_, index): OutlookMember => {
    const first = 4 * index;
    return {
      weight: 1 / MEMBERS,
      slabColdC: column(first),
      slabHotC: column(first + 1),
      airC: column(first + 2),
      dewPointC: column(first + 3),
    };
  });
  // Each beside the one that mirrors it: both read the same draws.
  for (let index = 0; index < DRAWN; index++)
    for (const each of [index, index + DRAWN]) reckon(shared, heat, each, members[each] as OutlookMember, scratch);
  return members;
}
