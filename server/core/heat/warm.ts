// What heat does to a room from now on: the course without it, the course with it, and the difference of the two.
import { demandFinite } from "#core/guard.ts";
import type { BuildingHeat } from "#core/heat/building.ts";
import {
  type BaseCourse,
  dewPointWithC,
  type HeatDifference,
  heatDifference,
  type HeatRun,
} from "#core/heat/difference.ts";
import { type Floor, startCells, USUAL_FLOOR } from "#core/heat/floor.ts";
import type { Heater, HeatSchedule } from "#core/heat/heater.ts";
import { dewPointFromWaterC, moistureOf, saturatedGPerKg, stepAddedGPerKg } from "#core/heat/moisture.ts";
import { COARSE_PARTS, roomModel, type RoomState, stepRoom, surfaceC } from "#core/heat/room.ts";

export interface HeatStart {
  readonly airC: number;
  readonly slabC: number;
  readonly dewPointC: number;
}

/** Outdoor air and dew point on the same steps; flat where nothing is known. */
export interface OutdoorCourse {
  readonly airC: ArrayLike<number>;
  readonly dewPointC: ArrayLike<number>;
}

export interface HeatSetting {
  readonly floor?: Floor;
  readonly altitudeM?: number;
  /** Heat that the room gets anyway (lights, a heater that runs already), kW. */
  readonly steadyKW?: number;
}

export interface Course {
  readonly airC: Float64Array;
  readonly slabC: Float64Array;
  readonly dewPointC: Float64Array;
}

export interface HeatEffect extends HeatDifference {
  readonly steps: number;
  readonly stepMs: number;
  readonly without: Course;
  readonly with: Course;
  /** The heater in its room, for courses other than this one. */
  readonly run: HeatRun;
}

export function heatRun(
  building: BuildingHeat,
  heater: Heater,
  schedule: HeatSchedule,
  stepMs: number,
  setting: HeatSetting = {},
): HeatRun {
  return {
    model: roomModel(building, setting.floor ?? USUAL_FLOOR, stepMs),
    moisture: moistureOf(building, setting.altitudeM ?? 0),
    heater,
    schedule,
    stepMs,
  };
}

/** The room left to itself and to the outdoors. Dew that settles on the floor leaves the air; none comes back from it. */
function unheated(run: HeatRun, start: HeatStart, outdoor: OutdoorCourse, steps: number, steadyKW: number): Course {
  const { model, moisture } = run;
  const { coarse, floor, grid } = model;
  const { pressurePa } = moisture;
  const hours = coarse.stepS / 3600;
  const state: RoomState = {
    airC: start.airC,
    wallC: start.airC,
    cellsC: startCells(floor, grid, start.slabC),
  };
  const course: Course = {
    airC: new Float64Array(steps).fill(start.airC),
    slabC: new Float64Array(steps).fill(start.slabC),
    dewPointC: new Float64Array(steps).fill(start.dewPointC),
  };
  const groundC = floor.base.kind === "on-grade" ? (floor.base.groundC ?? 0) : 0;
  const open = floor.base.kind === "suspended" && floor.base.below === "outdoors";
  let waterGPerKg = saturatedGPerKg(start.dewPointC, pressurePa);
  for (let step = 1; step < steps; step++) {
    const outC = outdoor.airC[step] as number;
    // Outdoor water comes in with the air changes; the room's own is what is "added" to it.
    const outGPerKg = saturatedGPerKg(outdoor.dewPointC[step] as number, pressurePa);
    for (let part = 0; part < COARSE_PARTS; part++) {
      stepRoom(coarse, state, outC, open ? outC : groundC, 1000 * steadyKW, 0, 0);
      const floorGPerKg = saturatedGPerKg(surfaceC(coarse, state), pressurePa);
      const above = waterGPerKg - outGPerKg;
      // Air drier than outdoors only fills up; damper air may also leave water on the floor.
      const added =
        above > 0
          ? stepAddedGPerKg(moisture, above, 0, outGPerKg, floorGPerKg, hours)
          : above / (1 + moisture.airChangesPerH * hours);
      waterGPerKg = Math.min(outGPerKg + added, saturatedGPerKg(state.airC, pressurePa));
    }
    course.airC[step] = state.airC;
    course.slabC[step] = surfaceC(coarse, state);
    course.dewPointC[step] = dewPointFromWaterC(waterGPerKg, pressurePa);
  }
  return course;
}

/** A course with the differences added. */
export function coursePlus(base: BaseCourse, difference: HeatDifference, pressurePa: number): Course {
  const steps = difference.airK.length;
  const airC = new Float64Array(steps);
  const slabC = new Float64Array(steps);
  const dewPointC = new Float64Array(steps);
  for (let step = 0; step < steps; step++) {
    airC[step] = (base.airC[step] as number) + (difference.airK[step] as number);
    slabC[step] = (base.slabC[step] as number) + (difference.slabK[step] as number);
    dewPointC[step] = dewPointWithC(
      base.dewPointC[step] as number,
      difference.waterGPerKg[step] as number,
      airC[step] as number,
      pressurePa,
    );
  }
  return { airC, slabC, dewPointC };
}

/**
 * Air, slab and moisture of a room over `steps` steps of `stepMs`, with and without a heater. Implicit and stable at any
 * step; pure. The slab begins in balance with its surface. Slab rises within 25 % of the trade's table of lags; a rough
 * building is within a factor of two of its power, which is why the courses of an outlook are better bases than this one.
 */
export function heatEffect(
  building: BuildingHeat,
  heater: Heater,
  schedule: HeatSchedule,
  start: HeatStart,
  outdoor: OutdoorCourse,
  steps: number,
  stepMs: number,
  setting: HeatSetting = {},
): HeatEffect {
  for (const [name, value] of Object.entries(start)) demandFinite(`start.${name}`, value as number);
  const run = heatRun(building, heater, schedule, stepMs, setting);
  const without = unheated(run, start, outdoor, steps, setting.steadyKW ?? 0);
  const difference = heatDifference(run, without, steps);
  return {
    ...difference,
    steps,
    stepMs,
    without,
    with: coursePlus(without, difference, run.moisture.pressurePa),
    run,
  };
}
