// Modes of a slab: any slab, any films, any step comes to what the cells come to; a mode by itself only dies out.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { advanceSlab, prepareStep, slabSurfaceC } from "#core/slab/conduction.ts";
import { DEFAULT_CUT, type SlabGrid, slabGrid } from "#core/slab/grid.ts";
import { MATERIALS } from "#core/slab/materials.ts";
import { modeStep, partsOf, type SlabModes, slabModes } from "#core/slab/modes.ts";

const COARSE = { topCellM: 0.03, growth: 2, maxCellM: 0.4 };
const layers = (concreteM: number, soilM: number) => [
  { ...MATERIALS.concrete2200, thicknessM: concreteM },
  ...(soilM > 0 ? [{ ...MATERIALS.soil, thicknessM: soilM }] : []),
];

/** The surface, °C, after each of `steps` steps in modes. */
function inModes(modes: SlabModes, cellsC: Float64Array, airC: number, belowC: number, stepS: number, steps: number) {
  const { keeps, air, below } = modeStep(modes, stepS);
  const partsC = partsOf(modes, cellsC);
  return Array.from({ length: steps }, () => {
    for (let mode = 0; mode < partsC.length; mode++)
      partsC[mode] =
        (keeps[mode] as number) * (partsC[mode] as number) +
        (air[mode] as number) * airC +
        (below[mode] as number) * belowC;
    return modes.airShare * airC + partsC.reduce((sum, partC) => sum + partC, 0);
  });
}

/** The same cell by cell. */
function inCells(grid: SlabGrid, films: [number, number], start: Float64Array, of: [number, number], stepS: number) {
  const [cellsC, prepared] = [start.slice(), prepareStep(grid, ...films, stepS)];
  return Array.from({ length: 60 }, () => {
    advanceSlab(prepared, cellsC, of[0], 0, of[1]);
    return slabSurfaceC(grid, cellsC, { airC: of[0], filmWPerM2K: films[0] });
  });
}

describe("modes of a slab", () => {
  it("come to what the cells come to, whatever the slab, its films and the step", () => {
    fc.assert(
      fc.property(
        fc.record({
          concreteM: fc.double({ min: 0.03, max: 0.4, noNaN: true }),
          soilM: fc.constantFrom(0, 0.5, 1.2),
          topFilm: fc.double({ min: 0, max: 30, noNaN: true }),
          bottomFilm: fc.constantFrom(0, 0.6, 7, Number.POSITIVE_INFINITY),
          stepS: fc.constantFrom(60, 600, 3600, 86_400),
          airC: fc.double({ min: -40, max: 60, noNaN: true }),
          belowC: fc.double({ min: -40, max: 60, noNaN: true }),
        }),
        ({ concreteM, soilM, topFilm, bottomFilm, stepS, airC, belowC }) => {
          const grid = slabGrid(layers(concreteM, soilM), COARSE);
          const start = Float64Array.from({ length: grid.cells }, (_, cell) => 10 + 7 * Math.sin(2 * cell));
          const found = inModes(slabModes(grid, topFilm, bottomFilm), start, airC, belowC, stepS, 60);
          const expected = inCells(grid, [topFilm, bottomFilm], start, [airC, belowC], stepS);
          for (const [step, valueC] of found.entries())
            expect(Math.abs(valueC - (expected[step] as number))).toBeLessThan(1e-10);
        },
      ),
    );
  });

  it("hold for a fine grid of many cells", () => {
    const grid = slabGrid(layers(0.15, 1.2), DEFAULT_CUT);
    expect(grid.cells).toBeGreaterThan(20);
    const start = Float64Array.from({ length: grid.cells }, (_, cell) => 10 + 7 * Math.sin(2 * cell));
    const found = inModes(slabModes(grid, 8, Number.POSITIVE_INFINITY), start, -3, 9, 600, 60);
    const expected = inCells(grid, [8, Number.POSITIVE_INFINITY], start, [-3, 9], 600);
    for (const [step, valueC] of found.entries())
      expect(Math.abs(valueC - (expected[step] as number))).toBeLessThan(1e-9);
  });

  it("die out each at a rate of its own, and stand still in balance", () => {
    const grid = slabGrid(layers(0.15, 1.2), COARSE);
    const modes = slabModes(grid, 8, Number.POSITIVE_INFINITY);
    const { keeps } = modeStep(modes, 600);
    for (const keep of keeps.subarray(0, grid.cells)) {
      expect(keep).toBeGreaterThan(0);
      expect(keep).toBeLessThan(1);
    }
    const level = new Float64Array(grid.cells).fill(13);
    for (const valueC of inModes(modes, level, 13, 13, 600, 60)) expect(valueC).toBeCloseTo(13, 10);
  });

  it("need a step that is one", () => {
    const modes = slabModes(slabGrid(layers(0.15, 0), COARSE), 8, 0.6);
    expect(() => modeStep(modes, 0)).toThrow(RangeError);
    expect(() => modeStep(modes, Number.NaN)).toThrow(RangeError);
  });
});
