// Many steps of a slab at once, for ensembles: the cells stay in plain numbers from step to step. The two counts that the
// outlook knows are written out, since a loop over so few cells costs three times what it reckons; others go step by step.
import { advanceSlab, type PreparedStep } from "#core/slab/conduction.ts";

/** What drives the steps, and the first cell after each, °C: columns read and written from `begin` to `end`. */
export interface CellRun {
  /** Air that the surface feels. */
  readonly feltC: Float64Array;
  /** Below the slab; not read where the bottom is insulated. */
  readonly belowC: Float64Array;
  readonly topC: Float64Array;
}

/** Runs `cellsC` on in place: to the last bit what `advanceSlab` gives step by step, without heat that falls on the surface. */
export function runCells(prepared: PreparedStep, cellsC: Float64Array, run: CellRun, begin: number, end: number): void {
  if (prepared.grid.cells === 3) runThree(prepared, cellsC, run, begin, end);
  else if (prepared.grid.cells === 7) runSeven(prepared, cellsC, run, begin, end);
  else runAny(prepared, cellsC, run, begin, end);
}

const at = (column: Float64Array, place: number) => column[place] as number;

function runAny(prepared: PreparedStep, cellsC: Float64Array, run: CellRun, begin: number, end: number): void {
  const { feltC, belowC, topC } = run;
  for (let place = begin; place < end; place++) {
    advanceSlab(prepared, cellsC, at(feltC, place), 0, at(belowC, place));
    topC[place] = at(cellsC, 0);
  }
}

function runThree(prepared: PreparedStep, cellsC: Float64Array, run: CellRun, begin: number, end: number): void {
  const { feltC, belowC, topC } = run;
  const { grid, heatWPerM2K: heat, eliminate, inversePivot: inverse, topWPerM2K, bottomWPerM2K } = prepared;
  const heat0 = at(heat, 0);
  const heat1 = at(heat, 1);
  const heat2 = at(heat, 2);
  const inverse0 = at(inverse, 0);
  const inverse1 = at(inverse, 1);
  const inverse2 = at(inverse, 2);
  const down0 = at(grid.downWPerM2K, 0);
  const down1 = at(grid.downWPerM2K, 1);
  const eliminate0 = at(eliminate, 0);
  const eliminate1 = at(eliminate, 1);
  let cell0 = at(cellsC, 0);
  let cell1 = at(cellsC, 1);
  let cell2 = at(cellsC, 2);
  for (let place = begin; place < end; place++) {
    cell0 = (heat0 * cell0 + topWPerM2K * at(feltC, place)) * inverse0;
    cell1 = (heat1 * cell1 + down0 * cell0) * inverse1;
    cell2 = heat2 * cell2 + down1 * cell1;
    if (bottomWPerM2K > 0) cell2 += bottomWPerM2K * at(belowC, place);
    cell2 *= inverse2;
    cell1 += eliminate1 * cell2;
    cell0 += eliminate0 * cell1;
    topC[place] = cell0;
  }
  cellsC[0] = cell0;
  cellsC[1] = cell1;
  cellsC[2] = cell2;
}

function runSeven(prepared: PreparedStep, cellsC: Float64Array, run: CellRun, begin: number, end: number): void {
  const { feltC, belowC, topC } = run;
  const { grid, heatWPerM2K: heat, eliminate, inversePivot: inverse, topWPerM2K, bottomWPerM2K } = prepared;
  const { downWPerM2K: down } = grid;
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
    cell0 = (heat0 * cell0 + topWPerM2K * at(feltC, place)) * inverse0;
    cell1 = (heat1 * cell1 + down0 * cell0) * inverse1;
    cell2 = (heat2 * cell2 + down1 * cell1) * inverse2;
    cell3 = (heat3 * cell3 + down2 * cell2) * inverse3;
    cell4 = (heat4 * cell4 + down3 * cell3) * inverse4;
    cell5 = (heat5 * cell5 + down4 * cell4) * inverse5;
    cell6 = heat6 * cell6 + down5 * cell5;
    if (bottomWPerM2K > 0) cell6 += bottomWPerM2K * at(belowC, place);
    cell6 *= inverse6;
    cell5 += eliminate5 * cell6;
    cell4 += eliminate4 * cell5;
    cell3 += eliminate3 * cell4;
    cell2 += eliminate2 * cell3;
    cell1 += eliminate1 * cell2;
    cell0 += eliminate0 * cell1;
    topC[place] = cell0;
  }
  cellsC[0] = cell0;
  cellsC[1] = cell1;
  cellsC[2] = cell2;
  cellsC[3] = cell3;
  cellsC[4] = cell4;
  cellsC[5] = cell5;
  cellsC[6] = cell6;
}
