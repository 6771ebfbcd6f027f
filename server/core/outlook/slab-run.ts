// A slab of the outlook under the air and the walls of its room, many steps at once. Its modes (slab/modes.ts) hang on nothing
// but the air and the ground, so four of them stay in plain numbers and go on side by side; seven cells take two such passes.
// Temperatures of modes are departures from what is below, so that ground that stays as it is drives nothing.
import { type ModeStep, MODES_AT_ONCE, type SlabModes } from "#core/slab/modes.ts";

/** How a slab feels what is above and below it. */
export interface SlabUnder {
  readonly filmWPerM2K: number;
  /** Share of the film that is radiation from the walls. */
  readonly radiantShare: number;
  /** Share of the outdoors in what the coldest spot feels: door edges, thresholds. */
  readonly edgeShare: number;
  readonly bottomC: number;
  /** Below a suspended slab: outdoors plus this; NaN = use `bottomC`. */
  readonly belowOutdoorK: number;
}

/** Columns of what drives a slab and what comes of it, °C, as the places at which they begin in one piece of memory. */
export interface SlabColumns {
  readonly roomC: number;
  readonly outC: number;
  /** One place: the walls, which follow the air; run on. */
  readonly wallC: number;
  /** Written: what the slab feels above it at each step, as a departure from `belowC`, and its surface after it. */
  readonly feltC: number;
  readonly surfaceC: number;
}

export interface SlabRun {
  readonly modes: SlabModes;
  readonly step: ModeStep;
  /** Share of the gap to the air that the walls close in a step. */
  readonly wallTakes: number;
  readonly under: SlabUnder;
  readonly memory: Float64Array;
  readonly columns: SlabColumns;
  /** Parts of the modes in the surface, as departures from `belowC`; run on in place. */
  readonly partsC: Float64Array;
}

const overOutdoors = ({ belowOutdoorK }: SlabUnder) => !Number.isNaN(belowOutdoorK);

/** What the modes depart from, °C: the ground; over outdoors what stands below when the outdoors are at 0 °C. */
export const belowC = (under: SlabUnder): number => (overOutdoors(under) ? under.belowOutdoorK : under.bottomC);

const at = (column: Float64Array, place: number) => column[place] as number;

/** Steps from `begin` to `end`: what `advanceSlab` gives step by step, to the rounding. */
export function runSlab(run: SlabRun, begin: number, end: number): void {
  feel(run, begin, end);
  for (let first = 0; first < run.partsC.length; first += MODES_AT_ONCE) runModes(run, first, begin, end);
}

/** What the slab feels: air, walls, and outdoors at its edges. The surface begins with the share of that. */
function feel({ modes, wallTakes, under, memory, columns }: SlabRun, begin: number, end: number): void {
  const { airShare } = modes;
  const fromC = belowC(under);
  const ofOutdoors = under.edgeShare;
  const ofRoom = (1 - ofOutdoors) * (1 - under.radiantShare);
  const ofWalls = (1 - ofOutdoors) * under.radiantShare;
  const { roomC, wallC, outC, feltC, surfaceC } = columns;
  const wallKeeps = 1 - wallTakes;
  let wall = at(memory, wallC);
  for (let place = begin; place < end; place++) {
    const room = at(memory, roomC + place);
    wall = wallKeeps * wall + wallTakes * room;
    const felt = ofRoom * room + ofWalls * wall + ofOutdoors * at(memory, outC + place) - fromC;
    memory[feltC + place] = felt;
    memory[surfaceC + place] = airShare * felt + fromC;
  }
  memory[wallC] = wall;
}

/** Four modes, from `first` on. */
function runModes({ step, under, memory, columns, partsC }: SlabRun, first: number, begin: number, end: number): void {
  const { keeps, air, below } = step;
  const { outC, feltC, surfaceC } = columns;
  const outdoorsBelow = overOutdoors(under);
  const keeps0 = at(keeps, first);
  const keeps1 = at(keeps, first + 1);
  const keeps2 = at(keeps, first + 2);
  const keeps3 = at(keeps, first + 3);
  const air0 = at(air, first);
  const air1 = at(air, first + 1);
  const air2 = at(air, first + 2);
  const air3 = at(air, first + 3);
  const below0 = at(below, first);
  const below1 = at(below, first + 1);
  const below2 = at(below, first + 2);
  const below3 = at(below, first + 3);
  let part0 = at(partsC, first);
  let part1 = at(partsC, first + 1);
  let part2 = at(partsC, first + 2);
  let part3 = at(partsC, first + 3);
  for (let place = begin; place < end; place++) {
    const felt = at(memory, feltC + place);
    part0 = keeps0 * part0 + air0 * felt;
    part1 = keeps1 * part1 + air1 * felt;
    part2 = keeps2 * part2 + air2 * felt;
    part3 = keeps3 * part3 + air3 * felt;
    if (outdoorsBelow) {
      const out = at(memory, outC + place);
      part0 += below0 * out;
      part1 += below1 * out;
      part2 += below2 * out;
      part3 += below3 * out;
    }
    memory[surfaceC + place] = at(memory, surfaceC + place) + (part0 + part1 + (part2 + part3));
  }
  partsC[first] = part0;
  partsC[first + 1] = part1;
  partsC[first + 2] = part2;
  partsC[first + 3] = part3;
}
