// How a member of the outlook is reckoned: in passes, each over all its steps. Outdoors, room, slab, vapour, dew point, in this
// order; what a pass leaves, the next ones read. Each is a short loop of plain numbers: fifty thousand steps a judging pass
// through, and of a short loop the machine has several steps under way at once, where one long one waits for itself.
import { dewPointOfPa, saturatedPa } from "#core/air/vapour-table.ts";
import { FALL } from "#core/outlook/air-fit.ts";
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

/** Where the draws of a member lie, and whether it mirrors them. */
export interface Dice {
  readonly row: number;
  readonly side: 1 | -1;
}

/**
 * What the passes leave at the steps that are taken. Those that the member keeps are its own columns, whose first steps are
 * the taken ones; the others are memory that all members use in turn. What a pass carries from step to step it begins with by
 * reading it there: a number that came as an argument may be anything to the engine, and is put in a box at every step.
 */
export interface Reckoned {
  readonly roomC: Float64Array;
  readonly coldC: Float64Array;
  readonly dewC: Float64Array;
  readonly scratch: Scratch;
}
interface Scratch {
  readonly outC: Float64Array;
  readonly wallC: Float64Array;
  readonly feltC: Float64Array;
  readonly surfaceC: Float64Array;
  readonly pa: Float64Array;
  /** Humidity of the goods, 0 to 1. */
  readonly goods: Float64Array;
}
export const scratchOf = (): Scratch => ({
  outC: new Float64Array(TAKEN_END),
  wallC: new Float64Array(TAKEN_END),
  feltC: new Float64Array(TAKEN_END),
  surfaceC: new Float64Array(TAKEN_END),
  pa: new Float64Array(TAKEN_END),
  goods: new Float64Array(TAKEN_END),
});

/** The air outdoors: what is expected, and how far this member strays from it. */
export function passOutdoors({ row, side }: Dice, airC: Float64Array, strayK: Float64Array, { outC }: Scratch): void {
  const { air } = WANDERS;
  for (let place = 1; place < TAKEN_END; place++)
    outC[place] = at(airC, place) + at(strayK, place) * (side * at(air, row + place));
}

/** How the air of a room goes while its heat is as it was. */
export interface Room {
  /** What is expected, and the air outdoors that goes with it. */
  readonly usualC: Float64Array;
  readonly usualOutC: Float64Array;
  /** Share of a departure outdoors that the room shows. */
  readonly gain: number;
  /** What it departs by now, and how that fades. */
  readonly departK: number;
  readonly keeps: Fade;
  readonly spreadK: number;
}

/** The air may leave this range by no arithmetic, °C. */
const held = (roomC: number) => Math.max(-60, Math.min(70, roomC));

/** The air of the room up to `end`, where its heat ends; what it stands at there, `startC` if that is at once, °C. */
export function passRoom({ row, side }: Dice, room: Room, end: number, startC: number, into: Reckoned): number {
  const { usualC, usualOutC, gain, departK, keeps, spreadK } = room;
  const { roomC } = into;
  const { outC } = into.scratch;
  const wanders = WANDERS.room;
  roomC[0] = startC;
  let kept = 1;
  let lastC = at(roomC, 0);
  for (let place = 1; place < end; place++) {
    kept *= place < SHORT_END ? keeps.short : keeps.long;
    lastC =
      at(usualC, place) +
      gain * (at(outC, place) - at(usualOutC, place)) +
      departK * kept +
      spreadK * (side * at(wanders, row + place));
    roomC[place] = held(lastC);
  }
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

/** The air of a room without heat at a place: it falls towards the outdoors and the slab. */
function fallen({ fromStep, fromC, quick, slowH }: Falling, place: number, outC: number, coldC: number): number {
  const steps = (TAKEN[place] as number) - fromStep;
  const floorC = 0.7 * outC + 0.3 * coldC;
  const left = quick * at(QUICK_LEFT, steps) + (1 - quick) * Math.exp(-(steps * STEP_H) / slowH);
  return Math.max(-60, Math.min(70, floorC + (fromC - floorC) * left, Math.max(fromC, outC)));
}

/** The slab of a member. */
export interface MemberSlab {
  readonly slab: SlabCandidate;
  /** What is expected again of yesterday's unexplained swing, K, at the steps that are taken. */
  readonly swingK: Float64Array;
  readonly spreadK: number;
  readonly startC: number;
}

/** The coldest spot of the slab, and the air of a room that cools over it. */
export function passSlab(dice: Dice, of: MemberSlab, falling: Falling, into: Reckoned): void {
  const { slab } = of;
  const { roomC, coldC } = into;
  const { outC, wallC, feltC, surfaceC } = into.scratch;
  wallC[0] = slab.wallC;
  coldC[0] = of.startC;
  const driven = { roomC, wallC, outC };
  const short = {
    modes: slab.modes,
    step: slab.step,
    under: slab,
    driven,
    partsC: slab.partsC.slice(),
    feltC,
    surfaceC,
  };
  const long = { ...short, step: slab.longStep };
  const { from } = falling;
  const shortEnd = Math.min(from, SHORT_END);
  passWalls(roomC, wallC, 1, shortEnd);
  runSlab(short, 1, shortEnd);
  passWalls(roomC, wallC, SHORT_END, from);
  runSlab(long, SHORT_END, from);
  passCold(dice, of, into, 1, from);
  // Air that falls and the slab below it hang on each other: step by step.
  for (let place = from; place < TAKEN_END; place++) {
    roomC[place] = fallen(falling, place, at(outC, place), at(coldC, place - 1));
    passWalls(roomC, wallC, place, place + 1);
    runSlab(place < SHORT_END ? short : long, place, place + 1);
    passCold(dice, of, into, place, place + 1);
  }
}

/** Walls follow the air, from `begin` to `end`, all short steps or all long ones. */
function passWalls(roomC: Float64Array, wallsC: Float64Array, begin: number, end: number): void {
  const takes = begin < SHORT_END ? WALL_TAKES.short : WALL_TAKES.long;
  let wallC = at(wallsC, begin - 1);
  for (let place = begin; place < end; place++) {
    wallC += (at(roomC, place) - wallC) * takes;
    wallsC[place] = wallC;
  }
}

/** The coldest spot, from the surface: what the model misses now, what is expected of that again, and how far it strays. */
function passCold(
  { row, side }: Dice,
  { slab, swingK, spreadK }: MemberSlab,
  { coldC, scratch: { surfaceC } }: Reckoned,
  begin: number,
  end: number,
): void {
  const missNowK = at(slab.residualK, STEPS_PER_DAY);
  const wanders = WANDERS.slab;
  for (let place = begin; place < end; place++)
    coldC[place] = at(surfaceC, place) + missNowK + at(swingK, place) + spreadK * (side * at(wanders, row + place));
}

/** What the dew point outdoors is expected to be, and how far it may stray. */
export interface DampOutdoors {
  readonly dewC: Float64Array;
  readonly strayK: Float64Array;
}

/** The vapour in the room, Pa: leaks, goods, sources, and what settles on a colder slab. */
export function passVapour(
  dice: Dice,
  room: MoistureCandidate,
  damp: DampOutdoors,
  startC: number,
  into: Reckoned,
): void {
  into.scratch.pa[0] = saturatedPa(startC);
  into.scratch.goods[0] = room.goods;
  const renewed = room.leakPerH + room.goodsPerH;
  const fades = { room: fadeOf(renewed), goods: fadeOf(1 / room.goodsH) };
  vapourStretch(dice, room, damp, fades, into, 1, SHORT_END);
  vapourStretch(dice, room, damp, fades, into, SHORT_END, TAKEN_END);
}

/**
 * From `begin` to `end`, all short steps or all long ones. Each waits for vapour and goods of the last one: whatever these
 * are multiplied by stands ready, a division is asked for by nothing that waits.
 */
function vapourStretch(
  { row, side }: Dice,
  { leakPerH, goodsPerH, sourcePaPerH }: MoistureCandidate,
  damp: DampOutdoors,
  fades: { readonly room: Fade; readonly goods: Fade },
  { roomC, coldC, scratch }: Reckoned,
  begin: number,
  end: number,
): void {
  const { outC, pa: pas, goods: goodsOf } = scratch;
  const { dewC, strayK } = damp;
  const kind = begin < SHORT_END ? "short" : "long";
  const keeps = fades.room[kind];
  const perH = (1 - keeps) / (leakPerH + goodsPerH);
  const ofOutdoors = leakPerH * perH;
  const ofGoods = goodsPerH * perH;
  const ofSources = sourcePaPerH * perH;
  const goodsKeep = fades.goods[kind];
  const goodsTake = 1 - goodsKeep;
  const stays = SETTLE_FADE[kind];
  const wanders = WANDERS.dew;
  let goods = at(goodsOf, begin - 1);
  let pa = at(pas, begin - 1);
  for (let place = begin; place < end; place++) {
    const full = saturatedPa(at(roomC, place));
    const dampC = at(dewC, place) + at(strayK, place) * (side * at(wanders, row + place));
    const blown = ofSources + ofOutdoors * saturatedPa(Math.min(at(outC, place), dampC));
    const onSlab = saturatedPa(at(coldC, place));
    pa = Math.max(20, blown + keeps * pa + ofGoods * full * goods);
    if (pa > onSlab) pa = onSlab + (pa - onSlab) * stays;
    pa = Math.min(pa, full);
    goods = goodsKeep * goods + (goodsTake / full) * pa;
    pas[place] = pa;
    goodsOf[place] = goods;
  }
}

/** The dew point of that vapour, and how far it strays with the air of the room. */
export function passDewPoint(
  { row, side }: Dice,
  spreadK: number,
  startC: number,
  { dewC, scratch: { pa } }: Reckoned,
): void {
  const wanders = WANDERS.room;
  dewC[0] = startC;
  for (let place = 1; place < TAKEN_END; place++)
    dewC[place] = dewPointOfPa(at(pa, place)) + spreadK * (side * at(wanders, row + place));
}
