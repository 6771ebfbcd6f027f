// Cheap sensors: a steady bias within the stated accuracy, noise, and steps of the converter.
import { normal, uniform } from "../random.ts";

/** One-wire slab probes step by a sixteenth of a degree; the air chip by a tenth. */
export const SLAB_STEP_K = 0.0625;
export const AIR_STEP_K = 0.1;
export const RH_STEP_PCT = 0.1;

export interface Sensor {
  readonly seed: number;
  /** `node/quantity`: the same probe of the same seed is always wrong by the same amount. */
  readonly name: string;
  /** Stated accuracy, a two-sigma bound, in the quantity's unit. */
  readonly bound: number;
  readonly step: number;
}

/** Rounds to a step without leaving a tail of binary digits. */
export function quantise(value: number, step: number): number {
  return Math.round(Math.round(value / step) * step * 1e4) / 1e4 + 0;
}

/** The steady error of a sensor: normal with sigma half the bound, cut at 0.8 of the bound. */
export function biasOf({ seed, name, bound }: Sensor): number {
  return Math.max(-0.8, Math.min(0.8, normal(seed, `${name}/bias`) / 2)) * bound;
}

/** What the sensor says of a true value; `index` counts its samples. */
export function sense(sensor: Sensor, truth: number, index: number): number {
  const noise = (normal(sensor.seed, `${sensor.name}/noise`, index) * sensor.bound) / 12;
  return quantise(truth + biasOf(sensor) + noise, sensor.step);
}

/** True once in `oneIn` samples, by seed. */
export function nowAndThen(seed: number, name: string, index: number, oneIn: number): boolean {
  return uniform(seed, name, index) < 1 / oneIn;
}
