// Runs the slab model for the checks: a uniform start, constant or changing air, samples at given times and depths.
import { advanceSlab, prepareStep, slabSurfaceC } from "#core/slab/conduction.ts";
import type { SlabGrid } from "#core/slab/grid.ts";

export interface SlabRun {
  readonly grid: SlabGrid;
  readonly startC: number | ((depthM: number) => number);
  readonly filmWPerM2K: number;
  readonly airC: (atS: number) => number;
  readonly fluxWPerM2?: number;
  readonly bottomFilmWPerM2K?: number;
  readonly bottomC?: number;
  readonly stepS: number;
}

export interface Sample {
  readonly atS: number;
  readonly surfaceC: number;
  readonly cellsC: Float64Array;
  /** Heat taken through the top since the start, J/m². */
  readonly topHeatJPerM2: number;
}

/** Samples at the wanted times, which must be multiples of the step. */
export function runSlab(run: SlabRun, wantedS: readonly number[]): Sample[] {
  const { grid, stepS } = run;
  const prepared = prepareStep(grid, run.filmWPerM2K, run.bottomFilmWPerM2K ?? 0, stepS);
  const { startC } = run;
  const cellsC = grid.depthM.map((depthM) => (typeof startC === "number" ? startC : startC(depthM)));
  const fluxWPerM2 = run.fluxWPerM2 ?? 0;
  const wanted = new Set(wantedS);
  const samples: Sample[] = [];
  let topHeatJPerM2 = 0;
  const endS = Math.max(...wantedS);
  for (let step = 1; step * stepS <= endS; step++) {
    const atS = step * stepS;
    const airC = run.airC(atS);
    advanceSlab(prepared, cellsC, airC, fluxWPerM2, run.bottomC ?? 0);
    topHeatJPerM2 += stepS * (prepared.topWPerM2K * (airC - (cellsC[0] as number)) + prepared.fluxShare * fluxWPerM2);
    if (!wanted.has(atS)) continue;
    const surfaceC = slabSurfaceC(grid, cellsC, { airC, filmWPerM2K: run.filmWPerM2K, fluxWPerM2 });
    samples.push({ atS, surfaceC, cellsC: Float64Array.from(cellsC), topHeatJPerM2 });
  }
  if (samples.length !== wanted.size) throw new RangeError("a wanted time is not a multiple of the step");
  return samples;
}

/** Temperature at a depth, °C: straight lines between surface, cell middles, and the last cell. */
export function atDepthC(grid: SlabGrid, sample: Sample, depthM: number): number {
  let aboveM = 0;
  let aboveC = sample.surfaceC;
  for (let i = 0; i < grid.cells; i++) {
    const belowM = grid.depthM[i] as number;
    const belowC = sample.cellsC[i] as number;
    if (depthM <= belowM) return aboveC + ((belowC - aboveC) * (depthM - aboveM)) / (belowM - aboveM);
    aboveM = belowM;
    aboveC = belowC;
  }
  return aboveC;
}
