// A heated room, one step at a time: air, inner mass and floor solved together, implicit, with a thermostat.
import type { BuildingHeat } from "#core/heat/building.ts";
import { type Floor, floorGrid, type PreparedFloor, prepareFloor } from "#core/heat/floor.ts";
import { advanceSlab, slabSurfaceC } from "#core/slab/conduction.ts";
import type { SlabGrid } from "#core/slab/grid.ts";

/** Dry air at room temperature, round values: 1.2 kg/m³, 1006 J/(kg K). */
export const AIR_KG_PER_M3 = 1.2;
export const AIR_J_PER_M3K = AIR_KG_PER_M3 * 1006;

/** A room prepared for steps of one length. */
export interface RoomStep {
  readonly stepS: number;
  readonly floor: PreparedFloor;
  readonly floorM2: number;
  readonly lossWPerK: number;
  /** Heat of the air over the step, W/K. */
  readonly airWPerK: number;
  /** From the air to the inner mass as it was before the step, and how the mass follows. */
  readonly wallWPerK: number;
  readonly wallFollows: number;
  readonly floorWPerM2K: number;
  readonly floorUnit: number;
  /** W that keep the air one kelvin warmer through the step. */
  readonly totalWPerK: number;
}

export interface RoomState {
  airC: number;
  wallC: number;
  readonly cellsC: Float64Array;
}

export interface RoomModel {
  readonly building: BuildingHeat;
  readonly floor: Floor;
  readonly grid: SlabGrid;
  /** Steps are taken whole; after a switch of the heater cut in six. */
  readonly coarse: RoomStep;
  readonly fine: RoomStep;
}

/** Parts of a step: a room changes fast only after a switch. */
export const COARSE_PARTS = 1;
export const FINE_PARTS = 6;
/** How long after a switch steps are cut finely, ms. */
export const FINE_MS = 3_600_000;

function prepareRoom(building: BuildingHeat, floor: Floor, grid: SlabGrid, stepS: number): RoomStep {
  const prepared = prepareFloor(floor, grid, stepS);
  const airWPerK = (AIR_J_PER_M3K * building.volumeM3) / stepS;
  const massWPerK = building.wallMassJPerK / stepS;
  const follows = massWPerK === 0 ? 0 : building.wallWPerK / (building.wallWPerK + massWPerK);
  const wallWPerK = follows * massWPerK;
  const floorWPerM2K = prepared.prepared.topWPerM2K;
  const floorUnit = prepared.unit[0] as number;
  return {
    stepS,
    floor: prepared,
    floorM2: building.floorM2,
    lossWPerK: building.lossWPerK,
    airWPerK,
    wallWPerK,
    wallFollows: follows,
    floorWPerM2K,
    floorUnit,
    totalWPerK: airWPerK + building.lossWPerK + wallWPerK + building.floorM2 * floorWPerM2K * (1 - floorUnit),
  };
}

export function roomModel(building: BuildingHeat, floor: Floor, stepMs: number): RoomModel {
  const grid = floorGrid(floor);
  return {
    building,
    floor,
    grid,
    coarse: prepareRoom(building, floor, grid, stepMs / 1000 / COARSE_PARTS),
    fine: prepareRoom(building, floor, grid, stepMs / 1000 / FINE_PARTS),
  };
}

/**
 * One step in place; gives the power used, W: as much of `mostW` as the thermostat at `ceilingC` lets through, never below
 * zero. Temperatures may as well be differences from some other course, since all but the thermostat is linear.
 */
export function stepRoom(
  room: RoomStep,
  state: RoomState,
  outdoorC: number,
  bottomC: number,
  steadyW: number,
  mostW: number,
  ceilingC: number,
): number {
  const { floor, floorM2, floorWPerM2K } = room;
  const { cellsC } = state;
  advanceSlab(floor.prepared, cellsC, 0, 0, bottomC);
  const rest =
    room.airWPerK * state.airC +
    room.lossWPerK * outdoorC +
    room.wallWPerK * state.wallC +
    floorM2 * floorWPerM2K * (cellsC[0] as number) +
    steadyW;
  const powerW = mostW <= 0 ? 0 : Math.min(mostW, Math.max(0, room.totalWPerK * ceilingC - rest));
  const airC = (rest + powerW) / room.totalWPerK;
  for (let i = 0; i < cellsC.length; i++) cellsC[i] = (cellsC[i] as number) + airC * (floor.unit[i] as number);
  state.wallC += room.wallFollows * (airC - state.wallC);
  state.airC = airC;
  return powerW;
}

/** Temperature of the floor's surface, °C. */
export function surfaceC(room: RoomStep, state: RoomState): number {
  return slabSurfaceC(room.floor.grid, state.cellsC, { airC: state.airC, filmWPerM2K: room.floor.filmWPerM2K });
}
