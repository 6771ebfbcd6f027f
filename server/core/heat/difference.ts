// What heating changes against a course without it: differences of air, slab and water, step by step.
import { heaterWaterKgPerH } from "#core/air/combustion.ts";
import type { Heater, HeatSchedule, HeatStretch } from "#core/heat/heater.ts";
import { dewPointFromWaterC, type Moisture, saturatedGPerKg, stepAddedGPerKg } from "#core/heat/moisture.ts";
import {
  COARSE_PARTS,
  FINE_MS,
  FINE_PARTS,
  type RoomModel,
  type RoomState,
  stepRoom,
  surfaceC,
} from "#core/heat/room.ts";

/** The course without this heat, on the steps of the outlook. */
export interface BaseCourse {
  readonly airC: ArrayLike<number>;
  readonly slabC: ArrayLike<number>;
  readonly dewPointC: ArrayLike<number>;
}

/** Arrays on the steps; the first entry is now and zero. Energy and water of a step stand at its end. */
export interface HeatDifference {
  readonly airK: Float64Array;
  readonly slabK: Float64Array;
  /** Change of the humidity ratio, g per kg of dry air. */
  readonly waterGPerKg: Float64Array;
  readonly energyKWh: Float64Array;
  /** Water brought by fumes. */
  readonly waterKg: Float64Array;
}

/** A heater that runs by a schedule in a room: everything but the course that it changes. */
export interface HeatRun {
  readonly model: RoomModel;
  readonly moisture: Moisture;
  readonly heater: Heater;
  readonly schedule: HeatSchedule;
  readonly stepMs: number;
}

function stretchAt(schedule: HeatSchedule, step: number): HeatStretch | null {
  return schedule.find(({ fromStep, toStep }) => step >= fromStep && step < toStep) ?? null;
}

/** Steps that begin within an hour of a switch. */
function fineSteps(schedule: HeatSchedule, steps: number, stepMs: number): Uint8Array {
  const fine = new Uint8Array(steps);
  const span = Math.ceil(FINE_MS / stepMs);
  for (const { fromStep, toStep } of schedule)
    for (const from of [fromStep, toStep]) if (from < steps) fine.fill(1, Math.max(0, from), from + span);
  return fine;
}

/**
 * The differences that the run makes to `base`. The room is linear but for the thermostat, which sees base plus difference:
 * heat never lifts the air above its target, and air that is above it anyway gets none. Without power all are exactly zero.
 */
export function heatDifference(run: HeatRun, base: BaseCourse, steps: number): HeatDifference {
  const { model, moisture, heater, schedule, stepMs } = run;
  const { airKg, pressurePa } = moisture;
  const column = () => new Float64Array(steps);
  const out: HeatDifference = {
    airK: column(),
    slabK: column(),
    waterGPerKg: column(),
    energyKWh: column(),
    waterKg: column(),
  };
  const waterKgPerKWh = heaterWaterKgPerH(heater.fuel, 1, heater.vented);
  const firstStep = Math.min(...schedule.map(({ fromStep }) => Math.max(0, fromStep)));
  if (!(firstStep < steps) || heater.kW === 0) return out;
  const state: RoomState = { airC: 0, wallC: 0, cellsC: new Float64Array(model.grid.cells) };
  const fine = fineSteps(schedule, steps, stepMs);
  let waterGPerKg = 0;
  for (let step = firstStep; step + 1 < steps; step++) {
    const stretch = stretchAt(schedule, step);
    const parts = fine[step] === 1 ? FINE_PARTS : COARSE_PARTS;
    const room = fine[step] === 1 ? model.fine : model.coarse;
    const hours = room.stepS / 3600;
    const fromC = base.airC[step] as number;
    const toC = base.airC[step + 1] as number;
    const baseGPerKg = saturatedGPerKg(base.dewPointC[step + 1] as number, pressurePa);
    let energyKWh = 0;
    for (let part = 1; part <= parts; part++) {
      const ceilingK = stretch === null ? 0 : stretch.targetC - (fromC + ((toC - fromC) * part) / parts);
      const powerW = stepRoom(room, state, 0, 0, 0, stretch === null ? 0 : 1000 * heater.kW, ceilingK);
      energyKWh += (powerW / 1000) * hours;
      if (waterKgPerKWh > 0) {
        const floorC = (base.slabC[step + 1] as number) + surfaceC(room, state);
        const floorGPerKg = saturatedGPerKg(floorC, pressurePa);
        const sourceKgPerH = (powerW / 1000) * waterKgPerKWh;
        waterGPerKg = stepAddedGPerKg(moisture, waterGPerKg, sourceKgPerH, baseGPerKg, floorGPerKg, hours);
      }
    }
    out.airK[step + 1] = state.airC;
    out.slabK[step + 1] = surfaceC(room, state);
    out.waterGPerKg[step + 1] = airKg > 0 ? waterGPerKg : 0;
    out.energyKWh[step + 1] = energyKWh;
    out.waterKg[step + 1] = energyKWh * waterKgPerKWh;
  }
  return out;
}

/** Dew point of a course with added water, never above the air that holds it; without any it stays what it was. */
export function dewPointWithC(dewPointC: number, addedGPerKg: number, airC: number, pressurePa: number): number {
  if (addedGPerKg === 0) return dewPointC;
  const wetC = dewPointFromWaterC(saturatedGPerKg(dewPointC, pressurePa) + addedGPerKg, pressurePa);
  return Math.max(dewPointC, Math.min(wetC, airC));
}
