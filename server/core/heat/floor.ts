// The floor under a heated room: the slab and what lies below it, cut for steps of minutes.
import { type PreparedStep, advanceSlab, prepareStep } from "#core/slab/conduction.ts";
import { slabGrid, type Cut, type SlabGrid } from "#core/slab/grid.ts";
import { MATERIALS, type Material } from "#core/slab/materials.ts";

/** What lies under the slab. `groundC`: deep ground, where known. Suspended over a room that is warmed along, or over outdoor air. */
export type FloorBase =
  | { readonly kind: "on-grade"; readonly groundC?: number }
  | { readonly kind: "insulated" }
  | { readonly kind: "suspended"; readonly below: "room" | "outdoors" };

export interface Floor {
  readonly base: FloorBase;
  readonly thicknessM: number;
  readonly concrete: Material;
  readonly ground: Material;
  readonly filmWPerM2K: number;
}

/** Between air and floor, radiation included. The trade's round figure for a heated hall; still air has about 5. */
export const FLOOR_FILM_W_PER_M2K = 8;
/** Concrete and ground of the trade's table of lags: k 1.6 W/mK; the rest round values, common practice, no source. */
const CONCRETE: Material = { conductivityWPerMK: 1.6, densityKgPerM3: 2300, heatJPerKgK: 900 };

/** A slab of 150 mm on the ground: the usual one, when nobody says otherwise. */
export const USUAL_FLOOR: Floor = {
  base: { kind: "on-grade" },
  thicknessM: 0.15,
  concrete: CONCRETE,
  ground: MATERIALS.soil,
  filmWPerM2K: FLOOR_FILM_W_PER_M2K,
};

/** Cells for steps of minutes: against a fine cut the surface is within 0.1 K an hour after a jump of 17 K. */
const CUT: Cut = { topCellM: 0.015, growth: 1.4, maxCellM: 0.6 };
/** Deep enough that three days of heat do not reach the end. */
const GROUND_M = 3;
/** Insulating board under a slab. Common practice, no source. */
const BOARD_M = 0.05;

export interface PreparedFloor {
  readonly grid: SlabGrid;
  readonly prepared: PreparedStep;
  readonly filmWPerM2K: number;
  /** Cells at the end of a step that began at 0 °C under air of 1 °C: the part of a step that the air decides. */
  readonly unit: Float64Array;
}

/** Cells of the floor. Warm on both sides = half of the slab over an insulated middle. */
export function floorGrid(floor: Floor): SlabGrid {
  const { base, thicknessM, concrete, ground } = floor;
  const half = base.kind === "suspended" && base.below === "room";
  const slab = { ...concrete, thicknessM: half ? thicknessM / 2 : thicknessM };
  const deep = { ...ground, thicknessM: GROUND_M };
  if (base.kind === "on-grade") return slabGrid([slab, deep], CUT);
  if (base.kind === "insulated") return slabGrid([slab, { ...MATERIALS.foam, thicknessM: BOARD_M }, deep], CUT);
  return slabGrid([slab], CUT);
}

export function prepareFloor(floor: Floor, grid: SlabGrid, stepS: number): PreparedFloor {
  const { base, filmWPerM2K } = floor;
  const open = base.kind === "suspended" && base.below === "outdoors";
  const deep = base.kind === "on-grade" && base.groundC !== undefined;
  const prepared = prepareStep(grid, filmWPerM2K, open ? filmWPerM2K : deep ? Number.POSITIVE_INFINITY : 0, stepS);
  const unit = new Float64Array(grid.cells);
  advanceSlab(prepared, unit, 1, 0, 0);
  return { grid, prepared, filmWPerM2K, unit };
}

/** Cells in balance between the surface and what lies deep below: a straight line, level where nothing is known below. */
export function startCells(floor: Floor, grid: SlabGrid, surfaceC: number): Float64Array {
  const { base } = floor;
  const groundC = base.kind === "on-grade" ? (base.groundC ?? surfaceC) : surfaceC;
  const deepM = floor.thicknessM + GROUND_M;
  return grid.depthM.map((depthM) => surfaceC + ((groundC - surfaceC) * depthM) / deepM);
}
