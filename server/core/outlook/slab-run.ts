// A slab of the outlook under the air of its room, many steps at once. The cells stay in plain numbers from step to step: the
// two counts that the outlook knows are written out, since a loop over so few cells costs three times what it reckons.
import { advanceSlab, type PreparedStep } from "#core/slab/conduction.ts";

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

/** What a slab is driven by at each step, °C. */
export interface SlabDriven {
  readonly roomC: Float64Array;
  readonly wallC: Float64Array;
  readonly outC: Float64Array;
}

export interface SlabRun {
  readonly prepared: PreparedStep;
  readonly under: SlabUnder;
  readonly driven: SlabDriven;
  /** Runs on in place. */
  readonly cellsC: Float64Array;
  /** The surface after each step is written here, °C. */
  readonly surfaceC: Float64Array;
}

/** Steps from `begin` to `end`: to the last bit what `advanceSlab` gives step by step. */
export function runSlab(run: SlabRun, begin: number, end: number): void {
  const { cells } = run.prepared.grid;
  if (cells === 3) runThree(run, begin, end);
  else if (cells === 7) runSeven(run, begin, end);
  else runAny(run, begin, end);
}

const at = (column: Float64Array, place: number) => column[place] as number;

/** Any count of cells; where the air of the room hangs on the slab it is called for one step after the other. */
export function runAny({ prepared, cellsC, under, driven, surfaceC }: SlabRun, begin: number, end: number): void {
  const { filmWPerM2K, radiantShare, edgeShare, bottomC, belowOutdoorK } = under;
  const { topWPerM2K } = prepared.grid;
  const overOutdoors = !Number.isNaN(belowOutdoorK);
  const filmAndTop = filmWPerM2K + topWPerM2K;
  for (let place = begin; place < end; place++) {
    const outC = at(driven.outC, place);
    const insideC = (1 - radiantShare) * at(driven.roomC, place) + radiantShare * at(driven.wallC, place);
    const feltC = insideC + edgeShare * (outC - insideC);
    advanceSlab(prepared, cellsC, feltC, 0, overOutdoors ? outC + belowOutdoorK : bottomC);
    surfaceC[place] = (filmWPerM2K * feltC + topWPerM2K * at(cellsC, 0)) / filmAndTop;
  }
}

function runThree({ prepared, cellsC, under, driven, surfaceC }: SlabRun, begin: number, end: number): void {
  const { filmWPerM2K, radiantShare, edgeShare, bottomC, belowOutdoorK } = under;
  const { roomC: roomsC, wallC: wallsC, outC: outsC } = driven;
  const { grid, heatWPerM2K: heat, eliminate, inversePivot: inverse, topWPerM2K, bottomWPerM2K } = prepared;
  const { downWPerM2K: down } = grid;
  const airShare = 1 - radiantShare;
  const overOutdoors = !Number.isNaN(belowOutdoorK);
  const filmAndTop = filmWPerM2K + grid.topWPerM2K;
  const heat0 = at(heat, 0);
  const heat1 = at(heat, 1);
  const heat2 = at(heat, 2);
  const inverse0 = at(inverse, 0);
  const inverse1 = at(inverse, 1);
  const inverse2 = at(inverse, 2);
  const down0 = at(down, 0);
  const down1 = at(down, 1);
  const eliminate0 = at(eliminate, 0);
  const eliminate1 = at(eliminate, 1);
  let cell0 = at(cellsC, 0);
  let cell1 = at(cellsC, 1);
  let cell2 = at(cellsC, 2);
  for (let place = begin; place < end; place++) {
    const outC = at(outsC, place);
    const insideC = airShare * at(roomsC, place) + radiantShare * at(wallsC, place);
    const feltC = insideC + edgeShare * (outC - insideC);
    cell0 = (heat0 * cell0 + topWPerM2K * feltC) * inverse0;
    cell1 = (heat1 * cell1 + down0 * cell0) * inverse1;
    cell2 = heat2 * cell2 + down1 * cell1;
    if (bottomWPerM2K > 0) cell2 += bottomWPerM2K * (overOutdoors ? outC + belowOutdoorK : bottomC);
    cell2 *= inverse2;
    cell1 += eliminate1 * cell2;
    cell0 += eliminate0 * cell1;
    surfaceC[place] = (filmWPerM2K * feltC + grid.topWPerM2K * cell0) / filmAndTop;
  }
  cellsC[0] = cell0;
  cellsC[1] = cell1;
  cellsC[2] = cell2;
}

function runSeven({ prepared, cellsC, under, driven, surfaceC }: SlabRun, begin: number, end: number): void {
  const { filmWPerM2K, radiantShare, edgeShare, bottomC, belowOutdoorK } = under;
  const { roomC: roomsC, wallC: wallsC, outC: outsC } = driven;
  const { grid, heatWPerM2K: heat, eliminate, inversePivot: inverse, topWPerM2K, bottomWPerM2K } = prepared;
  const { downWPerM2K: down } = grid;
  const airShare = 1 - radiantShare;
  const overOutdoors = !Number.isNaN(belowOutdoorK);
  const filmAndTop = filmWPerM2K + grid.topWPerM2K;
  const heat0 = at(heat, 0);
  const heat1 = at(heat, 1);
  const heat2 = at(heat, 2);
  const heat3 = at(heat, 3);
  const heat4 = at(heat, 4);
  const heat5 = at(heat, 5);
  const heat6 = at(heat, 6);
  const inverse0 = at(inverse, 0);
  const inverse1 = at(inverse, 1);
  const inverse2 = at(inverse, 2);
  const inverse3 = at(inverse, 3);
  const inverse4 = at(inverse, 4);
  const inverse5 = at(inverse, 5);
  const inverse6 = at(inverse, 6);
  const down0 = at(down, 0);
  const down1 = at(down, 1);
  const down2 = at(down, 2);
  const down3 = at(down, 3);
  const down4 = at(down, 4);
  const down5 = at(down, 5);
  const eliminate0 = at(eliminate, 0);
  const eliminate1 = at(eliminate, 1);
  const eliminate2 = at(eliminate, 2);
  const eliminate3 = at(eliminate, 3);
  const eliminate4 = at(eliminate, 4);
  const eliminate5 = at(eliminate, 5);
  let cell0 = at(cellsC, 0);
  let cell1 = at(cellsC, 1);
  let cell2 = at(cellsC, 2);
  let cell3 = at(cellsC, 3);
  let cell4 = at(cellsC, 4);
  let cell5 = at(cellsC, 5);
  let cell6 = at(cellsC, 6);
  for (let place = begin; place < end; place++) {
    const outC = at(outsC, place);
    const insideC = airShare * at(roomsC, place) + radiantShare * at(wallsC, place);
    const feltC = insideC + edgeShare * (outC - insideC);
    cell0 = (heat0 * cell0 + topWPerM2K * feltC) * inverse0;
    cell1 = (heat1 * cell1 + down0 * cell0) * inverse1;
    cell2 = (heat2 * cell2 + down1 * cell1) * inverse2;
    cell3 = (heat3 * cell3 + down2 * cell2) * inverse3;
    cell4 = (heat4 * cell4 + down3 * cell3) * inverse4;
    cell5 = (heat5 * cell5 + down4 * cell4) * inverse5;
    cell6 = heat6 * cell6 + down5 * cell5;
    if (bottomWPerM2K > 0) cell6 += bottomWPerM2K * (overOutdoors ? outC + belowOutdoorK : bottomC);
    cell6 *= inverse6;
    cell5 += eliminate5 * cell6;
    cell4 += eliminate4 * cell5;
    cell3 += eliminate3 * cell4;
    cell2 += eliminate2 * cell3;
    cell1 += eliminate1 * cell2;
    cell0 += eliminate0 * cell1;
    surfaceC[place] = (filmWPerM2K * feltC + grid.topWPerM2K * cell0) / filmAndTop;
  }
  cellsC[0] = cell0;
  cellsC[1] = cell1;
  cellsC[2] = cell2;
  cellsC[3] = cell3;
  cellsC[4] = cell4;
  cellsC[5] = cell5;
  cellsC[6] = cell6;
}
