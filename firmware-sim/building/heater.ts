// A heater with its thermostat: switches by hysteresis, follows targets and set-back, stops when the fuel is gone.
import { type Heater, hourOfDay, inSpan } from "./spec.ts";

export interface HeaterState {
  readonly on: boolean;
  readonly fuelKwh: number | null;
}

export interface HeaterStep extends HeaterState {
  readonly powerW: number;
  readonly waterKgPerS: number;
}

/** Target in force at a moment, °C; null = off. */
export function targetAt(heater: Heater, midnightMs: number, atMs: number): number | null {
  let target: number | null = null;
  for (const step of heater.targets) if (step.fromMs <= atMs) target = step.targetC;
  if (target === null || heater.setBack === null) return target;
  return inSpan(hourOfDay({ midnightMs }, atMs), heater.setBack.daily) ? target - heater.setBack.byK : target;
}

export function stepHeater(
  heater: Heater,
  state: HeaterState,
  targetC: number | null,
  airC: number,
  atMs: number,
  dtS: number,
): HeaterStep {
  const half = heater.hysteresisK / 2;
  const fuelLeft = state.fuelKwh === null || state.fuelKwh > 0;
  const wants = targetC !== null && (airC < targetC - half || (state.on && airC < targetC + half));
  const on = wants && fuelLeft;
  if (!on) return { on: false, fuelKwh: state.fuelKwh, powerW: 0, waterKgPerS: 0 };
  const burnsKwh = (heater.powerKw * dtS) / 3600;
  const counted = state.fuelKwh !== null && atMs >= heater.fuelFromMs;
  return {
    on,
    fuelKwh: counted && state.fuelKwh !== null ? Math.max(0, state.fuelKwh - burnsKwh) : state.fuelKwh,
    powerW: heater.powerKw * 1000,
    waterKgPerS: (heater.waterKgPerKwh * heater.powerKw) / 3600,
  };
}
