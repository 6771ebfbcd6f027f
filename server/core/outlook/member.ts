// One member of the ensemble: a slab, a room and a weather drawn from what is believed, stepped through the coming days.
import { dewPointOfPa, saturatedPa } from "#core/air/vapour-table.ts";
import { FALL } from "#core/outlook/air-fit.ts";
import {
  AIR_AT,
  DEW_AT,
  DRAWN,
  latin,
  MEMBER_STEPS,
  MEMBERS,
  ROOM_AT,
  SLAB_AT,
  WANDERING,
  WANDERS,
} from "#core/outlook/draws.ts";
import type { Ground } from "#core/outlook/ground.ts";
import { type MoistureCandidate, SETTLES_PER_H } from "#core/outlook/moisture-fit.ts";
import type { OutlookMember } from "#core/outlook/outlook.ts";
import { STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import { LONG_STEPS, type SlabCandidate, WALL_H } from "#core/outlook/slab-fit.ts";
import { advanceSlab } from "#core/slab/conduction.ts";

const STEP_H = STEP_MS / 3_600_000;
/** The outlook reaches 36 h; members run on, in longer steps, so that a late pour's night can be judged as well. */
export const OUTLOOK_STEPS = 216;
/** Share of yesterday's unexplained swing (sun, doors) that is expected again. */
const AGAIN = 0.6;
/** What the slab model leaves open when its memory is gone, K, beside what it missed by; doors and people on air and dew point. */
const SLAB_SPREAD_K = { base: 0.06, miss: 0.8 } as const;
const ROOM_SPREAD_K = { air: 0.6, dew: 0.12 } as const;
/** The first hours of a change of dew point are smoother than a wander: share taken off, and for how long. */
const SMOOTH = { share: 0.35, hours: 3 } as const;
const SMOOTHED = Float64Array.from(
  { length: MEMBER_STEPS },
  (_, step) => 1 - SMOOTH.share * Math.exp((-step * STEP_H) / SMOOTH.hours),
);

const DRAW = {
  slab: latin(40, MEMBERS),
  moisture: latin(41, MEMBERS),
  air: latin(42, MEMBERS),
  gain: latin(43, MEMBERS),
  keeps: latin(44, MEMBERS),
  heat: latin(45, MEMBERS),
};
const at = (column: Float64Array, index: number) => column[index] as number;

/** What is left of something that fades, after a short and after a long step: an exponential is dear in the inner loop. */
interface Fade {
  readonly short: number;
  readonly long: number;
}
const fadeOf = (perH: number): Fade => ({
  short: Math.exp(-perH * STEP_H),
  long: Math.exp(-perH * STEP_H * LONG_STEPS),
});
const WALL_FADE = fadeOf(1 / WALL_H);
const SETTLE_FADE = fadeOf(SETTLES_PER_H);
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

/** What is expected again of yesterday's unexplained swing of a slab, by the steps of a day, K. */
function swingOf({ residualK }: SlabCandidate): Float64Array {
  const thenK = at(residualK, 0);
  return residualK.map((missK) => (Number.isNaN(missK - thenK) ? 0 : AGAIN * (missK - thenK)));
}

/** What all members of an ensemble share at each step, laid out once. */
interface Shared {
  readonly ground: Ground;
  readonly slabReach: Float64Array;
  readonly swingsK: readonly Float64Array[];
  readonly roomReach: Float64Array;
  /** How far the outdoors may stray: air, and dew point by what the wander of a step comes to. */
  readonly airStrayK: Float64Array;
  readonly dewStrayK: Float64Array;
  /** Outdoor air of yesterday's hours where it was heard, else what is expected. */
  readonly usualC: Float64Array;
  /** Air outdoors now, less yesterday's at this hour, K; 0 where it was not heard. */
  readonly outNowK: number;
}

function sharedOf(ground: Ground): Shared {
  const { slabs, rooms, outdoors, outdoorPattern, wide } = ground;
  return {
    ground,
    slabReach: reachOf(slabs),
    swingsK: slabs.map(swingOf),
    roomReach: reachOf(rooms),
    airStrayK: outdoors.airSpreadK.map((spreadK) => wide * spreadK),
    dewStrayK: SMOOTHED.map((share) => wide * share),
    usualC: outdoorPattern ?? outdoors.airC,
    outNowK: outdoorPattern === null ? 0 : at(outdoors.airC, 0) - at(outdoorPattern, 0),
  };
}

/** Fills what lies between long steps, straight. */
function fill(column: Float64Array, from: number, to: number): void {
  const first = at(column, from);
  const last = at(column, to);
  for (let step = from + 1; step < to; step++) column[step] = first + ((last - first) * (step - from)) / (to - from);
}

/**
 * Member `index` of the ensemble. One loop over its steps, all that it needs in plain numbers: it runs fifty thousand
 * steps a judging. In turn: the weather outdoors, the air of the room, the coldest spot of the slab, the vapour.
 */
function memberOf(shared: Shared, heat: HeatStands, index: number): OutlookMember {
  const { ground, airStrayK, dewStrayK, usualC } = shared;
  const { start, outdoors, wide, hotK, air } = ground;
  const { dewPointC: outDewC, dewSpreadK } = outdoors;
  const outAirC = outdoors.airC;
  const row = (index % DRAWN) * MEMBER_STEPS;
  const side = index < DRAWN ? 1 : -1;

  // The air of the room: yesterday's hours for a member that follows them, else as it is.
  const offStep = offStepOf(heat, at(DRAW.heat, index));
  const pattern = at(DRAW.air, index) < air.patternShare ? air.pattern : null;
  const gain = Math.max(0.02, Math.min(1, air.gain + air.gainSpread * 1.7 * (2 * at(DRAW.gain, index) - 1)));
  const keeps = KEEPS[index] as Fade;
  const quick = offStep === 0 ? 0.1 : FALL.quickShare;
  const slowH = FALL.slowH * 0.6 * 2.8 ** at(DRAW.gain, index);
  const departK = pattern === null ? 0 : start.airC - at(pattern, 0) - gain * shared.outNowK;
  const roomSpreadK = wide * ROOM_SPREAD_K.air;
  const outStartC = at(outAirC, 0);
  let kept = 1;
  let offC = start.airC;

  // The slab under it.
  const slabAt = placeBy(shared.slabReach, at(DRAW.slab, index));
  const slab = ground.slabs[slabAt] as SlabCandidate;
  const swingK = shared.swingsK[slabAt] as Float64Array;
  const { grid, filmWPerM2K, residualK, radiantShare, edgeShare, bottomC, belowOutdoorK } = slab;
  const { topWPerM2K } = grid;
  const cellsC = slab.cellsC.slice();
  const slabSpreadK = wide * (SLAB_SPREAD_K.base + SLAB_SPREAD_K.miss * slab.missK);
  const overOutdoors = !Number.isNaN(belowOutdoorK);
  const filmAndTop = filmWPerM2K + topWPerM2K;
  const missNowK = at(residualK, STEPS_PER_DAY);
  let wallC = slab.wallC;

  // The vapour in the room, Pa: leaks, goods, sources, and what settles on a colder slab.
  const room = ground.rooms[placeBy(shared.roomReach, at(DRAW.moisture, index))] as MoistureCandidate;
  const { leakPerH, goodsPerH, sourcePaPerH } = room;
  const renewed = leakPerH + goodsPerH;
  const roomFade = fadeOf(renewed);
  const goodsFade = fadeOf(1 / room.goodsH);
  const dewSpread = wide * ROOM_SPREAD_K.dew;
  let pa = saturatedPa(start.dewC);
  let goods = room.goods;

  // One piece of memory for all four: asking for eight hundred a call is dear.
  const columns = new Float64Array(4 * MEMBER_STEPS);
  const column = (place: number) => columns.subarray(place * MEMBER_STEPS, (place + 1) * MEMBER_STEPS);
  const [slabColdC, slabHotC, airC, dewPointC] = [column(0), column(1), column(2), column(3)];
  slabColdC[0] = start.coldC;
  slabHotC[0] = start.hotC;
  airC[0] = start.airC;
  dewPointC[0] = start.dewC;
  let coldC = start.coldC;
  let before = 0;
  let hour = 0;
  while (before < MEMBER_STEPS - 1) {
    const short = before + 1 < OUTLOOK_STEPS || before + LONG_STEPS >= MEMBER_STEPS;
    const step = before + (short ? 1 : LONG_STEPS);
    const wander = WANDERING * (row + step);
    const outC = at(outAirC, step) + at(airStrayK, step) * (side * at(WANDERS, wander + AIR_AT));

    kept *= short ? keeps.short : keeps.long;
    const wanderK = side * at(WANDERS, wander + ROOM_AT);
    const roomK = roomSpreadK * wanderK;
    let roomC: number;
    if (pattern === null) roomC = start.airC + gain * (outC - outStartC) + roomK;
    else roomC = at(pattern, step) + gain * (outC - at(usualC, step)) + departK * kept + roomK;
    if (step < offStep) {
      offC = roomC;
      roomC = Math.max(-60, Math.min(70, roomC));
    } else {
      const since = (step - offStep) * STEP_H;
      const floorC = 0.7 * outC + 0.3 * coldC;
      const left = quick * Math.exp(-since / FALL.quickH) + (1 - quick) * Math.exp(-since / slowH);
      roomC = Math.max(-60, Math.min(70, floorC + (offC - floorC) * left, Math.max(offC, outC)));
    }

    wallC += (roomC - wallC) * (1 - (short ? WALL_FADE.short : WALL_FADE.long));
    const insideC = (1 - radiantShare) * roomC + radiantShare * wallC;
    const feltC = insideC + edgeShare * (outC - insideC);
    advanceSlab(
      short ? slab.prepared : slab.preparedLong,
      cellsC,
      feltC,
      0,
      overOutdoors ? outC + belowOutdoorK : bottomC,
    );
    const computedC = (filmWPerM2K * feltC + topWPerM2K * at(cellsC, 0)) / filmAndTop;
    hour += short ? 1 : LONG_STEPS;
    if (hour >= STEPS_PER_DAY) hour -= STEPS_PER_DAY;
    coldC = computedC + missNowK + at(swingK, hour) + slabSpreadK * (side * at(WANDERS, wander + SLAB_AT));

    const full = saturatedPa(roomC);
    const dampC = Math.min(
      outC,
      at(outDewC, step) + at(dewSpreadK, step) * (at(dewStrayK, step) * (side * at(WANDERS, wander + DEW_AT))),
    );
    const goal = (leakPerH * saturatedPa(dampC) + goodsPerH * goods * full + sourcePaPerH) / renewed;
    pa = Math.max(20, goal + (pa - goal) * (short ? roomFade.short : roomFade.long));
    const onSlab = saturatedPa(coldC);
    if (pa > onSlab) pa -= (pa - onSlab) * (1 - (short ? SETTLE_FADE.short : SETTLE_FADE.long));
    pa = Math.min(pa, full);
    goods += (pa / full - goods) * (1 - (short ? goodsFade.short : goodsFade.long));

    airC[step] = roomC;
    slabColdC[step] = coldC;
    slabHotC[step] = coldC + at(hotK, step);
    dewPointC[step] = dewPointOfPa(pa) + dewSpread * wanderK;
    if (!short) {
      fill(slabColdC, before, step);
      fill(slabHotC, before, step);
      fill(airC, before, step);
      fill(dewPointC, before, step);
    }
    before = step;
  }
  return { weight: 1 / MEMBERS, slabColdC, slabHotC, airC, dewPointC };
}

/** The members of the ensemble that stands on this ground. */
export function membersOf(ground: Ground, heat: HeatStands): OutlookMember[] {
  const shared = sharedOf(ground);
  const members = new Array<OutlookMember>(MEMBERS);
  // Each beside the one that mirrors it: both read the same draws.
  for (let index = 0; index < DRAWN; index++) {
    members[index] = memberOf(shared, heat, index);
    members[index + DRAWN] = memberOf(shared, heat, index + DRAWN);
  }
  return members;
}
