// One member of the ensemble: a slab, a room and a weather drawn from what is believed, stepped through the coming days.
import { dewPointOfPa, saturatedPa } from "#core/air/vapour-table.ts";
import { FALL } from "#core/outlook/air-fit.ts";
import { AIR_WANDER, DEW_WANDER, latin, MEMBER_STEPS, MEMBERS, ROOM_WANDER, SLAB_WANDER } from "#core/outlook/draws.ts";
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
const over = (fade: Fade, length: number) => (length === 1 ? fade.short : fade.long);
const WALL_FADE = fadeOf(1 / WALL_H);
const SETTLE_FADE = fadeOf(SETTLES_PER_H);

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

/** Picks from candidates by belief, at a place between 0 and 1. */
function pickBy<T extends { readonly belief: number }>(candidates: readonly T[], place: number): T {
  let total = 0;
  for (const { belief } of candidates) total += belief;
  let passed = 0;
  for (const candidate of candidates) {
    passed += candidate.belief / total;
    if (passed >= place) return candidate;
  }
  return candidates[candidates.length - 1] as T;
}

/** The air of the room, °C, step after step. */
class AirAhead {
  /** Yesterday's hours, for a member that follows them. */
  private readonly pattern: Float64Array | null;
  private readonly outC: Float64Array;
  private readonly outPattern: Float64Array | null;
  private readonly gain: number;
  private readonly keeps: Fade;
  private readonly departK: number;
  private readonly startC: number;
  private readonly roomSpreadK: number;
  private readonly row: number;
  private readonly quick: number;
  private readonly slowH: number;
  private kept = 1;
  private offC: number;

  constructor(
    ground: Ground,
    index: number,
    private readonly offStep: number,
  ) {
    const { air, outdoors, outdoorPattern, start, wide } = ground;
    this.pattern = at(DRAW.air, index) < air.patternShare ? air.pattern : null;
    this.outC = outdoors.airC;
    this.outPattern = outdoorPattern;
    this.gain = Math.max(0.02, Math.min(1, air.gain + air.gainSpread * 1.7 * (2 * at(DRAW.gain, index) - 1)));
    this.keeps = fadeOf(1 / (12 * 6 ** at(DRAW.keeps, index)));
    this.quick = offStep === 0 ? 0.1 : FALL.quickShare;
    this.slowH = FALL.slowH * 0.6 * 2.8 ** at(DRAW.gain, index);
    const outNowK = outdoorPattern === null ? 0 : at(outdoors.airC, 0) - at(outdoorPattern, 0);
    this.departK = this.pattern === null ? 0 : start.airC - at(this.pattern, 0) - this.gain * outNowK;
    this.startC = start.airC;
    this.roomSpreadK = wide * ROOM_SPREAD_K.air;
    this.row = index * MEMBER_STEPS;
    this.offC = start.airC;
  }

  /** `outC`: outdoors of this member; `slabC`: the floor a step before. */
  at(step: number, length: number, outC: number, slabC: number): number {
    this.kept *= over(this.keeps, length);
    const roomK = this.roomSpreadK * at(ROOM_WANDER, this.row + step);
    const { pattern } = this;
    let roomC: number;
    if (pattern === null) roomC = this.startC + this.gain * (outC - at(this.outC, 0)) + roomK;
    else {
      const outK = outC - at(this.outPattern ?? this.outC, step);
      roomC = at(pattern, step) + this.gain * outK + this.departK * this.kept + roomK;
    }
    if (step < this.offStep) {
      this.offC = roomC;
      return Math.max(-60, Math.min(70, roomC));
    }
    const since = (step - this.offStep) * STEP_H;
    const floorC = 0.7 * outC + 0.3 * slabC;
    const left = this.quick * Math.exp(-since / FALL.quickH) + (1 - this.quick) * Math.exp(-since / this.slowH);
    return Math.max(-60, Math.min(70, floorC + (this.offC - floorC) * left, Math.max(this.offC, outC)));
  }
}

/** The coldest spot of the slab, °C, under the air of the room. */
class SlabAhead {
  private readonly cellsC: Float64Array;
  private wallC: number;
  private readonly spreadK: number;
  private readonly topWPerM2K: number;

  constructor(
    private readonly slab: SlabCandidate,
    wide: number,
    private readonly index: number,
  ) {
    this.cellsC = slab.cellsC.slice();
    this.wallC = slab.wallC;
    this.topWPerM2K = slab.grid.topWPerM2K;
    this.spreadK = wide * (SLAB_SPREAD_K.base + SLAB_SPREAD_K.miss * slab.missK);
  }

  /** Steps `length` steps to `step`. */
  at(step: number, length: number, roomC: number, outC: number): number {
    const { slab, cellsC } = this;
    this.wallC += (roomC - this.wallC) * (1 - over(WALL_FADE, length));
    const insideC = (1 - slab.radiantShare) * roomC + slab.radiantShare * this.wallC;
    const feltC = insideC + slab.edgeShare * (outC - insideC);
    const belowC = Number.isNaN(slab.belowOutdoorK) ? slab.bottomC : outC + slab.belowOutdoorK;
    advanceSlab(length === 1 ? slab.prepared : slab.preparedLong, cellsC, feltC, 0, belowC);
    const { filmWPerM2K, residualK } = slab;
    const computedC = (filmWPerM2K * feltC + this.topWPerM2K * at(cellsC, 0)) / (filmWPerM2K + this.topWPerM2K);
    const nowK = at(residualK, STEPS_PER_DAY);
    const swingK = at(residualK, step % STEPS_PER_DAY) - at(residualK, 0);
    return (
      computedC +
      nowK +
      (Number.isNaN(swingK) ? 0 : AGAIN * swingK) +
      this.spreadK * at(SLAB_WANDER, this.index * MEMBER_STEPS + step)
    );
  }
}

/** The vapour in the room, Pa: leaks, goods, sources, and what settles on a colder slab. */
class WaterAhead {
  private pa: number;
  private goods: number;
  private readonly roomFade: Fade;
  private readonly goodsFade: Fade;

  constructor(
    private readonly ground: Ground,
    private readonly room: MoistureCandidate,
    private readonly index: number,
  ) {
    this.pa = saturatedPa(ground.start.dewC);
    this.goods = room.goods;
    this.roomFade = fadeOf(room.leakPerH + room.goodsPerH);
    this.goodsFade = fadeOf(1 / room.goodsH);
  }

  /** Dew point after `length` steps that end at `step`, °C. */
  at(step: number, length: number, roomC: number, slabC: number, outC: number): number {
    const { ground, room } = this;
    const { outdoors, wide } = ground;
    const row = this.index * MEMBER_STEPS + step;
    const strayK = wide * at(SMOOTHED, step) * at(DEW_WANDER, row);
    const full = saturatedPa(roomC);
    const outDewC = Math.min(outC, at(outdoors.dewPointC, step) + at(outdoors.dewSpreadK, step) * strayK);
    const total = room.leakPerH + room.goodsPerH;
    const goal =
      (room.leakPerH * saturatedPa(outDewC) + room.goodsPerH * this.goods * full + room.sourcePaPerH) / total;
    this.pa = Math.max(20, goal + (this.pa - goal) * over(this.roomFade, length));
    const onSlab = saturatedPa(slabC);
    if (this.pa > onSlab) this.pa -= (this.pa - onSlab) * (1 - over(SETTLE_FADE, length));
    this.pa = Math.min(this.pa, full);
    this.goods += (this.pa / full - this.goods) * (1 - over(this.goodsFade, length));
    return dewPointOfPa(this.pa) + wide * ROOM_SPREAD_K.dew * at(ROOM_WANDER, row);
  }
}

/** Fills what lies between long steps, straight. */
function fill(column: Float64Array, from: number, to: number): void {
  const first = at(column, from);
  const last = at(column, to);
  for (let step = from + 1; step < to; step++) column[step] = first + ((last - first) * (step - from)) / (to - from);
}

/** Member `index` of the ensemble that stands on this ground. */
export function memberOf(ground: Ground, heat: HeatStands, index: number): OutlookMember {
  const { start, outdoors, wide, hotK } = ground;
  const air = new AirAhead(ground, index, offStepOf(heat, at(DRAW.heat, index)));
  const slab = new SlabAhead(pickBy(ground.slabs, at(DRAW.slab, index)), wide, index);
  const water = new WaterAhead(ground, pickBy(ground.rooms, at(DRAW.moisture, index)), index);
  // One piece of memory for all four: asking for eight hundred a call is dear.
  const columns = new Float64Array(4 * MEMBER_STEPS);
  const column = (place: number) => columns.subarray(place * MEMBER_STEPS, (place + 1) * MEMBER_STEPS);
  const [slabColdC, slabHotC, airC, dewPointC] = [column(0), column(1), column(2), column(3)];
  slabColdC[0] = start.coldC;
  slabHotC[0] = start.hotC;
  airC[0] = start.airC;
  dewPointC[0] = start.dewC;
  let before = 0;
  while (before < MEMBER_STEPS - 1) {
    const length = before + 1 < OUTLOOK_STEPS || before + LONG_STEPS >= MEMBER_STEPS ? 1 : LONG_STEPS;
    const step = before + length;
    const strayK = wide * at(outdoors.airSpreadK, step) * at(AIR_WANDER, index * MEMBER_STEPS + step);
    const outC = at(outdoors.airC, step) + strayK;
    const roomC = air.at(step, length, outC, at(slabColdC, before));
    const coldC = slab.at(step, length, roomC, outC);
    airC[step] = roomC;
    slabColdC[step] = coldC;
    slabHotC[step] = coldC + at(hotK, step);
    dewPointC[step] = water.at(step, length, roomC, coldC, outC);
    if (length > 1) for (const one of [slabColdC, slabHotC, airC, dewPointC]) fill(one, before, step);
    before = step;
  }
  return { weight: 1 / MEMBERS, slabColdC, slabHotC, airC, dewPointC };
}
