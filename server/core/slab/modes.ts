// A slab as its modes: shapes of temperature over the depth that each die out at a rate of their own and leave the others
// alone. A step goes through the cells down and up again, each waiting for the one before; in modes it is one sum each, all
// at once. Same grid, same films, same implicit rule as conduction.ts: to the rounding, the same temperatures.
import { demandPositive } from "#core/guard.ts";
import { type PreparedStep, prepareStep } from "#core/slab/conduction.ts";
import type { SlabGrid } from "#core/slab/grid.ts";

/** Modes are run in groups of so many; the last group is filled up with modes that stay at zero. */
export const MODES_AT_ONCE = 4;

/**
 * What is said of a mode is said of its part in the temperature of the surface, °C: all parts and the share of the air make
 * up the surface. Arrays have one entry a mode, whole groups of them.
 */
export interface SlabModes {
  readonly grid: SlabGrid;
  /** How fast it dies out, 1/s. */
  readonly ratePerS: Float64Array;
  /** What 1 K of the air above, and of what is below, add to it in a second, K/s. */
  readonly airPerS: Float64Array;
  readonly belowPerS: Float64Array;
  /** What 1 K of a cell is in it; row by row, the cells of the first mode first. */
  readonly ofCells: Float64Array;
  /** Share of the air in the surface itself. */
  readonly airShare: number;
}

/** How a mode goes on over one step: what it keeps, and what it takes of the air above and of what is below. */
export interface ModeStep {
  readonly keeps: Float64Array;
  readonly air: Float64Array;
  readonly below: Float64Array;
}

/** The rates between neighbours, 1/s, as a symmetric matrix: of temperatures times the root of the heat of their cells. */
function ratesOf({ grid, topWPerM2K, bottomWPerM2K }: PreparedStep, rootHeat: Float64Array): Float64Array {
  const { cells, downWPerM2K, heatJPerM2K } = grid;
  const rates = new Float64Array(cells * cells);
  for (let cell = 0; cell < cells; cell++) {
    const last = cell === cells - 1;
    const up = cell === 0 ? topWPerM2K : (downWPerM2K[cell - 1] as number);
    const down = last ? bottomWPerM2K : (downWPerM2K[cell] as number);
    rates[cell * cells + cell] = (up + down) / (heatJPerM2K[cell] as number);
    if (last) continue;
    const between = -down / ((rootHeat[cell] as number) * (rootHeat[cell + 1] as number));
    rates[cell * cells + cell + 1] = between;
    rates[(cell + 1) * cells + cell] = between;
  }
  return rates;
}

/** Rounds over all pairs after which nothing of a matrix of some ten rows is left beside its diagonal; it takes six. */
const ROUNDS = 12;

/** Turns a symmetric matrix until it is diagonal (Jacobi's rotations); gives the directions, one a row. In place. */
function turned(matrix: Float64Array, rows: number): Float64Array {
  const directions = new Float64Array(rows * rows);
  for (let row = 0; row < rows; row++) directions[row * rows + row] = 1;
  const get = (values: Float64Array, row: number, column: number) => values[row * rows + column] as number;
  const rotate = (values: Float64Array, one: number, other: number, cos: number, sin: number) => {
    const [a, b] = [values[one] as number, values[other] as number];
    values[one] = cos * a - sin * b;
    values[other] = sin * a + cos * b;
  };
  for (let round = 0; round < ROUNDS; round++)
    for (let p = 0; p < rows; p++)
      for (let q = p + 1; q < rows; q++) {
        const beside = get(matrix, p, q);
        if (beside === 0) continue;
        const half = (get(matrix, q, q) - get(matrix, p, p)) / (2 * beside);
        const tan = (half < 0 ? -1 : 1) / (Math.abs(half) + Math.hypot(half, 1));
        const cos = 1 / Math.hypot(tan, 1);
        for (let k = 0; k < rows; k++) rotate(matrix, k * rows + p, k * rows + q, cos, tan * cos);
        for (let k = 0; k < rows; k++) {
          rotate(matrix, p * rows + k, q * rows + k, cos, tan * cos);
          rotate(directions, p * rows + k, q * rows + k, cos, tan * cos);
        }
      }
  return directions;
}

/** The modes of a slab under films in W/(m² K): 0 = insulated, Infinity = fixed temperature; of the top below Infinity. */
export function slabModes(grid: SlabGrid, topFilmWPerM2K: number, bottomFilmWPerM2K: number): SlabModes {
  const { cells } = grid;
  // Conductances alone are wanted of it; they hang on no step.
  const prepared = prepareStep(grid, topFilmWPerM2K, bottomFilmWPerM2K, 1);
  const rootHeat = grid.heatJPerM2K.map(Math.sqrt);
  const rates = ratesOf(prepared, rootHeat);
  const directions = turned(rates, cells);
  const count = Math.ceil(cells / MODES_AT_ONCE) * MODES_AT_ONCE;
  const modes: SlabModes = {
    grid,
    ratePerS: new Float64Array(count),
    airPerS: new Float64Array(count),
    belowPerS: new Float64Array(count),
    ofCells: new Float64Array(count * cells),
    airShare: 1 - prepared.fluxShare,
  };
  for (let mode = 0; mode < cells; mode++) {
    const along = (cell: number) => directions[mode * cells + cell] as number;
    const inSurface = (prepared.fluxShare * along(0)) / (rootHeat[0] as number);
    const ofHeat = (cell: number) => (inSurface * along(cell)) / (rootHeat[cell] as number);
    modes.ratePerS[mode] = rates[mode * cells + mode] as number;
    modes.airPerS[mode] = prepared.topWPerM2K * ofHeat(0);
    modes.belowPerS[mode] = prepared.bottomWPerM2K * ofHeat(cells - 1);
    for (let cell = 0; cell < cells; cell++)
      modes.ofCells[mode * cells + cell] = inSurface * along(cell) * (rootHeat[cell] as number);
  }
  return modes;
}

/** A step of `stepS` seconds by the implicit Euler rule. */
export function modeStep({ ratePerS, airPerS, belowPerS }: SlabModes, stepS: number): ModeStep {
  demandPositive("stepS", stepS);
  const keeps = ratePerS.map((rate) => 1 / (1 + rate * stepS));
  const taken = (perS: Float64Array) => perS.map((each, mode) => each * stepS * (keeps[mode] as number));
  return { keeps, air: taken(airPerS), below: taken(belowPerS) };
}

/** The parts in the surface, °C, of what stands in the cells, °C. */
export function partsOf({ ratePerS, ofCells }: SlabModes, cellsC: Float64Array): Float64Array {
  const cells = cellsC.length;
  const partsC = new Float64Array(ratePerS.length);
  for (let mode = 0; mode < partsC.length; mode++) {
    let partC = 0;
    for (let cell = 0; cell < cells; cell++)
      partC += (ofCells[mode * cells + cell] as number) * (cellsC[cell] as number);
    partsC[mode] = partC;
  }
  return partsC;
}
