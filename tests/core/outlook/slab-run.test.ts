// Many steps at once give to the last bit what one step after the other gives.
import { describe, expect, it } from "vitest";
import { prepareStep } from "#core/slab/conduction.ts";
import { slabGrid } from "#core/slab/grid.ts";
import { MATERIALS } from "#core/slab/materials.ts";
import { runAny, runSlab } from "#core/outlook/slab-run.ts";

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
      const driven = {
        roomC: column((step) => 12 + 9 * Math.sin(step / 11) + Math.cos(step * 1.7)),
        wallC: column((step) => 11 + 3 * Math.cos(step / 30)),
        outC: column((step) => 4 + 3 * Math.cos(step / 23)),
      };
      for (const belowOutdoorK of [Number.NaN, 2]) {
        const under = { filmWPerM2K: 7.3, radiantShare: 0.4, edgeShare: 0.1, bottomC: 6, belowOutdoorK };
        const start = Float64Array.from({ length: cells }, (_, cell) => 10 + Math.sin(cell));
        const [stepped, expected] = [start.slice(), new Float64Array(LENGTH)];
        for (let step = 0; step < LENGTH; step++)
          runAny({ prepared, under, driven, cellsC: stepped, surfaceC: expected }, step, step + 1);
        const [cellsC, surfaceC] = [start.slice(), new Float64Array(LENGTH)];
        // In two stretches, since a stretch begins where the last one ended.
        runSlab({ prepared, under, driven, cellsC, surfaceC }, 0, 70);
        runSlab({ prepared, under, driven, cellsC, surfaceC }, 70, LENGTH);
        expect(surfaceC).toEqual(expected);
        expect(cellsC).toEqual(stepped);
      }
    }
  });
});
