// Many steps at once give to the last bit what one step after the other gives.
import { describe, expect, it } from "vitest";
import { advanceSlab, prepareStep } from "#core/slab/conduction.ts";
import { slabGrid } from "#core/slab/grid.ts";
import { MATERIALS } from "#core/slab/materials.ts";
import { runCells } from "#core/slab/run-cells.ts";

const LENGTH = 300;
const CUT = { topCellM: 0.03, growth: 2, maxCellM: 0.4 };
const concrete = (thicknessM: number) => ({ ...MATERIALS.concrete2200, thicknessM });
const soil = { ...MATERIALS.soil, thicknessM: 1.2 };
const column = (value: (step: number) => number) => Float64Array.from({ length: LENGTH }, (_, step) => value(step));

describe("a slab that is run over many steps", () => {
  it.each([
    { cells: 3, layers: [concrete(0.16)] },
    { cells: 7, layers: [concrete(0.15), soil] },
    { cells: 4, layers: [concrete(0.3)] },
  ])("of $cells cells is where one step after the other leaves it", ({ cells, layers }) => {
    const grid = slabGrid(layers, CUT);
    expect(grid.cells).toBe(cells);
    for (const bottomFilm of [0, 0.6, Number.POSITIVE_INFINITY]) {
      const prepared = prepareStep(grid, 7.3, bottomFilm, 600);
      const feltC = column((step) => 12 + 9 * Math.sin(step / 11) + Math.cos(step * 1.7));
      const belowC = column((step) => 4 + 3 * Math.cos(step / 23));
      const start = Float64Array.from({ length: cells }, (_, cell) => 10 + Math.sin(cell));
      const [stepped, run] = [start.slice(), start.slice()];
      const expected = column((step) => {
        advanceSlab(prepared, stepped, feltC[step] as number, 0, belowC[step] as number);
        return stepped[0] as number;
      });
      const topC = new Float64Array(LENGTH);
      // In two stretches, since a stretch begins where the last one ended.
      runCells(prepared, run, { feltC, belowC, topC }, 0, 70);
      runCells(prepared, run, { feltC, belowC, topC }, 70, LENGTH);
      expect(topC).toEqual(expected);
      expect(run).toEqual(stepped);
    }
  });
});
