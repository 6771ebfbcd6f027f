// Many steps at once in modes are, to the rounding, what one implicit step of all cells after the other gives.
import { describe, expect, it } from "vitest";
import { advanceSlab, prepareStep, slabSurfaceC } from "#core/slab/conduction.ts";
import { slabGrid } from "#core/slab/grid.ts";
import { MATERIALS } from "#core/slab/materials.ts";
import { modeStep, partsOf, slabModes } from "#core/slab/modes.ts";
import { belowC, runSlab } from "#core/outlook/slab-run.ts";

const LENGTH = 300;
/** Rounding and no more, K. */
const SAME_K = 1e-10;
const CUT = { topCellM: 0.03, growth: 2, maxCellM: 0.4 };
const concrete = (thicknessM: number) => ({ ...MATERIALS.concrete2200, thicknessM });
const soil = { ...MATERIALS.soil, thicknessM: 1.2 };
const column = (value: (step: number) => number) => Float64Array.from({ length: LENGTH }, (_, step) => value(step));
const FILM = 7.3;

const driven = {
  roomC: column((step) => 12 + 9 * Math.sin(step / 11) + Math.cos(step * 1.7)),
  outC: column((step) => 4 + 3 * Math.cos(step / 23)),
};
const COLUMNS = { roomC: 0, outC: LENGTH, feltC: 2 * LENGTH, surfaceC: 3 * LENGTH, wallC: 4 * LENGTH };
const WALL = { startC: 11, takes: 0.03 };

describe("a slab that is run over many steps", () => {
  it.each([
    { cells: 3, layers: [concrete(0.16)] },
    { cells: 7, layers: [concrete(0.15), soil] },
    { cells: 4, layers: [concrete(0.3)] },
  ])("of $cells cells is where one step after the other leaves it", ({ cells, layers }) => {
    const grid = slabGrid(layers, CUT);
    expect(grid.cells).toBe(cells);
    let most = 0;
    for (const bottomFilm of [0, 0.6, Number.POSITIVE_INFINITY])
      for (const stepS of [600, 3600])
        for (const belowOutdoorK of [Number.NaN, 2]) {
          const under = { filmWPerM2K: FILM, radiantShare: 0.4, edgeShare: 0.1, bottomC: 6, belowOutdoorK };
          const cellsC = Float64Array.from({ length: cells }, (_, cell) => 10 + Math.sin(cell));
          const modes = slabModes(grid, FILM, bottomFilm);
          const memory = new Float64Array(4 * LENGTH + 1);
          memory.set([...driven.roomC, ...driven.outC]);
          memory[COLUMNS.wallC] = WALL.startC;
          const fromC = belowC(under);
          const partsC = partsOf(
            modes,
            cellsC.map((cellC) => cellC - fromC),
          );
          const run = { modes, wallTakes: WALL.takes, under, memory, columns: COLUMNS, partsC };
          // In two stretches, since a stretch begins where the last one ended.
          runSlab({ ...run, step: modeStep(modes, stepS) }, 0, 70);
          runSlab({ ...run, step: modeStep(modes, stepS) }, 70, LENGTH);
          const prepared = prepareStep(grid, FILM, bottomFilm, stepS);
          let wallC = WALL.startC;
          for (let step = 0; step < LENGTH; step++) {
            const [roomC, outC] = [driven.roomC[step] as number, driven.outC[step] as number];
            wallC += WALL.takes * (roomC - wallC);
            const insideC = 0.6 * roomC + 0.4 * wallC;
            const airC = insideC + 0.1 * (outC - insideC);
            advanceSlab(prepared, cellsC, airC, 0, Number.isNaN(belowOutdoorK) ? 6 : outC + belowOutdoorK);
            const expectedC = slabSurfaceC(grid, cellsC, { airC, filmWPerM2K: FILM });
            most = Math.max(most, Math.abs((memory[COLUMNS.surfaceC + step] as number) - expectedC));
          }
        }
    expect(most).toBeLessThan(SAME_K);
  });
});
