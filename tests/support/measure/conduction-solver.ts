// The slab model against the temperatures of conduction.csv: finely cut in short steps, and as the product cuts it.
import { DEFAULT_CUT, slabGrid } from "#core/slab/grid.ts";
import type { Quantity } from "../../reference/tolerances.ts";
import type { Check } from "../checks.ts";
import { numberOf, type Row } from "../csv.ts";
import { atDepthC, runSlab, type Sample } from "../slab-run.ts";
import { type Inputs, inputsOf, materialOf } from "./conduction-inputs.ts";

/** Deep enough that a day does not reach the bottom. */
const HALF_SPACE_M = 2;
const FINE = { cut: { topCellM: 0.0005, growth: 1.05, maxCellM: 0.02 }, stepS: 2 };
const AS_USED = { cut: DEFAULT_CUT, stepS: 60 };

type Resolution = typeof FINE;

/** The run that a row asks for; null for rows that are no temperature in a slab. */
function slabRows(row: Row): {
  readonly thicknessM: number;
  readonly filmWPerM2K: number;
  readonly airC: number;
  readonly depthM: number;
} | null {
  const i = inputsOf(row);
  if (row.quantity === "T" && row.case === "semi_infinite_convection") {
    return { thicknessM: HALF_SPACE_M, filmWPerM2K: i.h as number, airC: i.Tinf as number, depthM: i.x as number };
  }
  if (row.quantity === "T" && row.case === "semi_infinite_surface_step") {
    return {
      thicknessM: HALF_SPACE_M,
      filmWPerM2K: Number.POSITIVE_INFINITY,
      airC: i.Ts as number,
      depthM: i.x as number,
    };
  }
  if (row.case === "slab_insulated_below") {
    const thicknessM = i.L as number;
    return {
      thicknessM,
      filmWPerM2K: i.h as number,
      airC: i.Tinf as number,
      depthM: row.quantity === "T_top" ? 0 : thicknessM,
    };
  }
  return null;
}

/** Runs each slab once and reads all rows off it. */
function sampled(rows: readonly Row[], resolution: Resolution, quantity: Quantity): Check[] {
  const runs = new Map<string, { row: Row; inputs: Inputs; depthM: number }[]>();
  for (const row of rows) {
    const run = slabRows(row);
    if (run === null) continue;
    const inputs = inputsOf(row);
    const key = JSON.stringify([
      run.thicknessM,
      run.filmWPerM2K === Number.POSITIVE_INFINITY ? "fixed" : run.filmWPerM2K,
      run.airC,
      inputs.Ti,
    ]);
    runs.set(key, [...(runs.get(key) ?? []), { row, inputs, depthM: run.depthM }]);
  }
  return [...runs.values()].flatMap((group) => {
    const first = group[0] as (typeof group)[number];
    const run = slabRows(first.row) as NonNullable<ReturnType<typeof slabRows>>;
    const grid = slabGrid([{ ...materialOf(first.inputs), thicknessM: run.thicknessM }], resolution.cut);
    const times = [...new Set(group.map(({ inputs }) => inputs.t as number))];
    const samples = runSlab(
      {
        grid,
        startC: first.inputs.Ti as number,
        filmWPerM2K: run.filmWPerM2K,
        airC: () => run.airC,
        stepS: resolution.stepS,
      },
      times,
    );
    return group.map(({ row, inputs, depthM }) => {
      const sample = samples.find(({ atS }) => atS === inputs.t) as Sample;
      const got = atDepthC(grid, sample, depthM);
      return {
        row: `${row.id} | ${quantity}`,
        kind: row.case as string,
        quantity,
        got,
        want: numberOf(row, "expected"),
      };
    });
  });
}

/** The half space under a constant flux (copper), the textbook's only flux on a surface. */
function fluxChecks(rows: readonly Row[]): Check[] {
  return rows
    .filter((row) => row.case === "semi_infinite_constant_flux")
    .map((row) => {
      const i = inputsOf(row);
      const material = {
        conductivityWPerMK: i.k as number,
        densityKgPerM3: (i.k as number) / (i.alpha as number) / 1000,
        heatJPerKgK: 1000,
      };
      const grid = slabGrid([{ ...material, thicknessM: 2 }], { topCellM: 0.001, growth: 1.03, maxCellM: 0.02 });
      const run = {
        grid,
        startC: i.Ti as number,
        filmWPerM2K: 0,
        airC: () => 0,
        fluxWPerM2: i.q as number,
        stepS: 0.25,
      };
      const sample = runSlab(run, [i.t as number])[0] as Sample;
      const quantity = "slab model, heat flux, textbook";
      return {
        row: `${row.id} | ${quantity}`,
        kind: row.case as string,
        quantity,
        got: atDepthC(grid, sample, i.x as number),
        want: numberOf(row, "expected"),
      };
    });
}

/** A daily swing of the surface, run until it repeats: how much of it arrives at a depth, and how late. */
function periodicChecks(rows: readonly Row[]): Check[] {
  const wanted = rows.filter((row) => row.case === "periodic_penetration" && !row.quantity?.startsWith("damping"));
  const first = inputsOf(wanted[0] as Row);
  const periodS = first.period as number;
  const stepS = 60;
  const days = 12;
  const grid = slabGrid([{ ...materialOf(first), thicknessM: HALF_SPACE_M }], {
    topCellM: 0.002,
    growth: 1.1,
    maxCellM: 0.01,
  });
  const angle = (atS: number): number => (2 * Math.PI * atS) / periodS;
  const times = Array.from({ length: periodS / stepS }, (_, step) => (days - 1) * periodS + (step + 1) * stepS);
  const samples = runSlab(
    { grid, startC: 0, filmWPerM2K: Number.POSITIVE_INFINITY, airC: (atS) => Math.cos(angle(atS)), stepS },
    times,
  );
  return wanted.map((row) => {
    const depthM = inputsOf(row).x as number;
    let inPhase = 0;
    let behind = 0;
    for (const sample of samples) {
      const value = atDepthC(grid, sample, depthM);
      inPhase += (2 * value * Math.cos(angle(sample.atS))) / samples.length;
      behind += (2 * value * Math.sin(angle(sample.atS))) / samples.length;
    }
    const isRatio = row.quantity === "amplitude_ratio";
    const lagH = ((Math.atan2(behind, inPhase) / (2 * Math.PI)) * periodS) / 3600;
    const quantity: Quantity = isRatio ? "slab model, daily swing, ratio" : "slab model, daily swing, lag";
    const got = isRatio ? Math.hypot(inPhase, behind) : lagH;
    return { row: `${row.id} | ${quantity}`, kind: row.case as string, quantity, got, want: numberOf(row, "expected") };
  });
}

/** Two thick bodies touching: the temperature of their meeting face soon after, from the model of two layers. */
function contactChecks(rows: readonly Row[]): Check[] {
  const concrete = { conductivityWPerMK: 1.4, densityKgPerM3: 2300, heatJPerKgK: 880 };
  const resin = { conductivityWPerMK: 0.2, densityKgPerM3: 1150, heatJPerKgK: 1300 };
  return rows
    .filter((row) => row.case === "two_semi_infinite_contact")
    .map((row) => {
      const i = inputsOf(row);
      const grid = slabGrid(
        [
          { ...resin, thicknessM: 0.1 },
          { ...concrete, thicknessM: 0.4 },
        ],
        { topCellM: 0.0005, growth: 1, maxCellM: 0.0005 },
      );
      const startC = (depthM: number): number => (depthM < 0.1 ? (i.Tb as number) : (i.Ta as number));
      const sample = runSlab({ grid, startC, filmWPerM2K: 0, airC: () => 0, stepS: 1 }, [600])[0] as Sample;
      const last = grid.depthM.findLastIndex((depthM) => depthM < 0.1);
      const above = sample.cellsC[last] as number;
      const below = sample.cellsC[last + 1] as number;
      // Flux is continuous: each half cell pulls with its own conductance.
      const got =
        (resin.conductivityWPerMK * above + concrete.conductivityWPerMK * below) /
        (resin.conductivityWPerMK + concrete.conductivityWPerMK);
      const quantity = "slab model, fine (2 s)";
      return {
        row: `${row.id} | ${quantity}`,
        kind: row.case as string,
        quantity,
        got,
        want: numberOf(row, "expected"),
      };
    });
}

export function solverChecks(rows: readonly Row[]): Check[] {
  return [
    ...sampled(rows, FINE, "slab model, fine (2 s)"),
    ...sampled(rows, AS_USED, "slab model, as used (60 s)"),
    ...fluxChecks(rows),
    ...periodicChecks(rows),
    ...contactChecks(rows),
  ];
}
