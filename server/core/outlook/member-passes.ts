// How a member of the outlook is reckoned: in passes, each over all its steps. Outdoors, room, slab, vapour, dew point, in this
// order; what a pass leaves, the next ones read. Each is a short loop of plain numbers: fifty thousand steps a judging pass
// through, and of a short loop the machine has several steps under way at once, where one long one waits for itself.
import { dewPointOfLog, logFrom, logOfPa, saturatedPa } from "#core/air/vapour-table.ts";
import { FALL } from "#core/outlook/air-fit.ts";
import {
  COLD_C,
  DEW_C,
  FELT_C,
  GOODS,
  HOT_C,
  HOT_K,
  MEMBER_OUT_C,
  OUT_C,
  OUT_DEW_C,
  OUT_DEW_STRAY_K,
  OUT_STRAY_K,
  ROOM_C,
  SURFACE_C,
  VAPOUR_PA,
  WALL_C,
} from "#core/outlook/columns.ts";
import { WANDERS } from "#core/outlook/draws.ts";
import { type MoistureCandidate, SETTLES_PER_H } from "#core/outlook/moisture-fit.ts";
import { STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import { type SlabCandidate, WALL_H } from "#core/outlook/slab-fit.ts";
import { runSlab } from "#core/outlook/slab-run.ts";
import { LONG_STEPS, MEMBER_STEPS, SHORT_END, TAKEN, TAKEN_END } from "#core/outlook/steps-ahead.ts";

const STEP_H = STEP_MS / 3_600_000;
const at = (column: Float64Array, place: number) => column[place] as number;

/** What is left of something that fades, after a short and after a long step: an exponential is dear in the inner loop. */
export interface Fade {
  readonly short: number;
  readonly long: number;
}
export const fadeOf = (perH: number): Fade => ({
  short: Math.exp(-perH * STEP_H),
  long: Math.exp(-perH * STEP_H * LONG_STEPS),
});
const WALL_FADE = fadeOf(1 / WALL_H);
const WALL_TAKES: Fade = { short: 1 - WALL_FADE.short, long: 1 - WALL_FADE.long };
const SETTLE_FADE = fadeOf(SETTLES_PER_H);

/**
 * A member: the memory of its ensemble, where it begins in it, where its draws lie, and whether it mirrors them. What a pass
 * carries from step to step it begins with by reading it from there: a number that came as an argument may be anything to
 * the engine, and is put in a box at every step.
 */
export interface Reckoned {
  readonly memory: Float64Array;
  readonly begin: number;
  readonly row: number;
  readonly side: 1 | -1;
}

/** How the air of a room goes while its heat is as it was. */
export interface Room {
  /** Columns of what is expected, and of the air outdoors that goes with it. */
  readonly usual: { readonly roomC: number; readonly outC: number };
  /** Share of a departure outdoors that the room shows. */
  readonly gain: number;
  /** What it departs by now, and how that fades. */
  readonly departK: number;
  readonly keeps: Fade;
  readonly spreadK: number;
}

/** The air may leave this range by no arithmetic, °C. */
const held = (roomC: number) => (roomC < -60 ? -60 : roomC > 70 ? 70 : roomC);

/**
 * The air outdoors: what is expected, and how far this member strays from it. The air of the room up to `end`, where its
 * heat ends; what it stands at there, `startC` if that is at once, °C.
 */
export function passAir({ memory, begin, row, side }: Reckoned, room: Room, end: number, startC: number): number {
  const { usual, gain, departK, keeps } = room;
  const roomAt = begin + ROOM_C;
  const [usualAt, usualOutAt] = [usual.roomC, usual.outC];
  // A number of its own, for the reason that `Reckoned` gives.
  const sign = 1 * side;
  const spreadK = side * room.spreadK;
  memory[roomAt] = startC;
  let kept = departK;
  let lastC = at(memory, roomAt);
  for (let place = 1; place < end; place++) {
    const outC = at(memory, OUT_C + place) + at(memory, OUT_STRAY_K + place) * (sign * at(WANDERS.air, row + place));
    memory[MEMBER_OUT_C + place] = outC;
    kept *= place < SHORT_END ? keeps.short : keeps.long;
    lastC =
      at(memory, usualAt + place) +
      gain * (outC - at(memory, usualOutAt + place)) +
      kept +
      spreadK * at(WANDERS.room, row + place);
    memory[roomAt + place] = held(lastC);
  }
  for (let place = end; place < TAKEN_END; place++)
    memory[MEMBER_OUT_C + place] =
      at(memory, OUT_C + place) + at(memory, OUT_STRAY_K + place) * (sign * at(WANDERS.air, row + place));
  return lastC;
}

/** How a room cools from the place at which its heat ends. */
export interface Falling {
  readonly from: number;
  readonly fromStep: number;
  readonly fromC: number;
  /** Share that falls at once, and the time of the rest. */
  readonly quick: number;
  readonly slowH: number;
}

/** What is left of the quick share, by steps since the heat ended. */
const QUICK_LEFT = Float64Array.from({ length: MEMBER_STEPS }, (_, steps) => Math.exp(-(steps * STEP_H) / FALL.quickH));

/** Steps from the end of the heat to a place. */
const stepsSince = ({ fromStep }: Falling, place: number) => (TAKEN[place] as number) - fromStep;

/** The air of a room without heat: it falls towards the outdoors and the slab, of what it stood above them `left` is left. */
function fallen(fromC: number, left: number, outC: number, coldC: number): number {
  const floorC = 0.7 * outC + 0.3 * coldC;
  const fallenC = floorC + (fromC - floorC) * left;
  const mostC = Math.max(fromC, outC);
  return held(fallenC > mostC ? mostC : fallenC);
}

/** The slab of a member. */
export interface MemberSlab {
  readonly slab: SlabCandidate;
  /** What is expected again of yesterday's unexplained swing, K, at the steps that are taken. */
  readonly swingK: Float64Array;
  readonly spreadK: number;
  readonly startC: number;
  readonly startHotC: number;
}

/** The coldest spot of the slab and the hottest, and the air of a room that cools over it. */
export function passSlab(into: Reckoned, of: MemberSlab, falling: Falling): void {
  const { slab } = of;
  const { memory, begin } = into;
  memory[WALL_C] = slab.wallC;
  memory[begin + COLD_C] = of.startC;
  memory[begin + HOT_C] = of.startHotC;
  const { modes, step } = slab;
  const columns = { roomC: begin + ROOM_C, outC: MEMBER_OUT_C, feltC: FELT_C, surfaceC: SURFACE_C, wallC: WALL_C };
  const [under, partsC] = [slab, slab.partsC.slice()];
  const short = { modes, step, wallTakes: WALL_TAKES.short, under, memory, columns, partsC };
  const long = { modes, step: slab.longStep, wallTakes: WALL_TAKES.long, under, memory, columns, partsC };
  const { from, fromC, quick, slowH } = falling;
  const shortEnd = Math.min(from, SHORT_END);
  runSlab(short, 1, shortEnd);
  runSlab(long, SHORT_END, from);
  passSpots(into, of, 1, from);
  // Air that falls and the slab below it hang on each other: step by step.
  const slow = fadeOf(1 / slowH);
  let slowLeft = from < TAKEN_END ? Math.exp(-(stepsSince(falling, from) * STEP_H) / slowH) : 0;
  for (let place = from; place < TAKEN_END; place++) {
    const coldC = at(memory, begin + COLD_C + place - 1);
    if (place > from) slowLeft *= place < SHORT_END ? slow.short : slow.long;
    const left = quick * at(QUICK_LEFT, stepsSince(falling, place)) + (1 - quick) * slowLeft;
    memory[begin + ROOM_C + place] = fallen(fromC, left, at(memory, MEMBER_OUT_C + place), coldC);
    runSlab(place < SHORT_END ? short : long, place, place + 1);
    passSpots(into, of, place, place + 1);
  }
}

/** The coldest spot, from the surface: what the model misses now, what is expected of that again, and how far it strays. */
function passSpots({ memory, begin, row, side }: Reckoned, of: MemberSlab, from: number, end: number): void {
  const missNowK = at(of.slab.residualK, STEPS_PER_DAY);
  const { swingK } = of;
  const spreadK = side * of.spreadK;
  const coldAt = begin + COLD_C;
  const hotAt = begin + HOT_C;
  const wanders = WANDERS.slab;
  for (let place = from; place < end; place++) {
    const coldC = at(memory, SURFACE_C + place) + missNowK + at(swingK, place) + spreadK * at(wanders, row + place);
    memory[coldAt + place] = coldC;
    memory[hotAt + place] = coldC + at(memory, HOT_K + place);
  }
}

/** Drier than this is no room, Pa. */
const LEAST_PA = 20;

/** The vapour in the room, Pa: leaks, goods, sources, and what settles on a colder slab. */
export function passVapour(into: Reckoned, room: MoistureCandidate, startC: number): void {
  into.memory[VAPOUR_PA] = saturatedPa(startC);
  into.memory[GOODS] = room.goods;
  const fades = { room: fadeOf(room.leakPerH + room.goodsPerH), goods: fadeOf(1 / room.goodsH) };
  vapourStretch(into, room, fades, 1, SHORT_END);
  vapourStretch(into, room, fades, SHORT_END, TAKEN_END);
}

/**
 * From `from` to `end`, all short steps or all long ones. Each waits for vapour and goods of the last one: whatever these
 * are multiplied by stands ready, a division is asked for by nothing that waits.
 */
function vapourStretch(
  { memory, begin, row, side }: Reckoned,
  { leakPerH, goodsPerH, sourcePaPerH }: MoistureCandidate,
  fades: { readonly room: Fade; readonly goods: Fade },
  from: number,
  end: number,
): void {
  const kind = from < SHORT_END ? "short" : "long";
  const keeps = fades.room[kind];
  const perH = (1 - keeps) / (leakPerH + goodsPerH);
  const ofOutdoors = leakPerH * perH;
  const ofGoods = goodsPerH * perH;
  const ofSources = sourcePaPerH * perH;
  const goodsKeep = fades.goods[kind];
  const goodsTake = 1 - goodsKeep;
  const stays = SETTLE_FADE[kind];
  // A number of its own, for the reason that `Reckoned` gives.
  const sign = 1 * side;
  const roomAt = begin + ROOM_C;
  const coldAt = begin + COLD_C;
  const wanders = WANDERS.dew;
  let goods = at(memory, GOODS);
  let pa = at(memory, VAPOUR_PA + from - 1);
  for (let place = from; place < end; place++) {
    const full = saturatedPa(at(memory, roomAt + place));
    const strayK = at(memory, OUT_DEW_STRAY_K + place) * (sign * at(wanders, row + place));
    const outC = at(memory, MEMBER_OUT_C + place);
    const dampC = at(memory, OUT_DEW_C + place) + strayK;
    const blown = ofSources + ofOutdoors * saturatedPa(dampC > outC ? outC : dampC);
    const onSlab = saturatedPa(at(memory, coldAt + place));
    pa = blown + keeps * pa + ofGoods * full * goods;
    if (pa < LEAST_PA) pa = LEAST_PA;
    if (pa > onSlab) pa = onSlab + (pa - onSlab) * stays;
    if (pa > full) pa = full;
    goods = goodsKeep * goods + (goodsTake / full) * pa;
    memory[VAPOUR_PA + place] = pa;
  }
  memory[GOODS] = goods;
}

/** The dew point of that vapour, and how far it strays with the air of the room. */
export function passDewPoint({ memory, begin, row, side }: Reckoned, spreadK: number, startC: number): void {
  const wanders = WANDERS.room;
  const dewAt = begin + DEW_C;
  const strayK = side * spreadK;
  memory[dewAt] = startC;
  let pa = at(memory, VAPOUR_PA);
  let log = logOfPa(pa);
  for (let place = 1; place < TAKEN_END; place++) {
    const nextPa = at(memory, VAPOUR_PA + place);
    log = logFrom(log, pa, nextPa);
    pa = nextPa;
    memory[dewAt + place] = dewPointOfLog(log) + strayK * at(wanders, row + place);
  }
}
