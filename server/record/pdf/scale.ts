// Axes of a chart: where a value stands on paper, and round numbers between two ends.
import type { SiteClock } from "./site-clock.ts";

export interface TimeAxis {
  readonly fromMs: number;
  readonly toMs: number;
  readonly left: number;
  readonly width: number;
  x(atMs: number): number;
}
export interface ValueAxis {
  readonly low: number;
  readonly high: number;
  readonly top: number;
  readonly height: number;
  y(value: number): number;
}

export function timeAxis(fromMs: number, toMs: number, left: number, width: number): TimeAxis {
  const x = (atMs: number) => left + ((Math.min(toMs, Math.max(fromMs, atMs)) - fromMs) / (toMs - fromMs)) * width;
  return { fromMs, toMs, left, width, x };
}

export function valueAxis(low: number, high: number, top: number, height: number): ValueAxis {
  return { low, high, top, height, y: (value) => top + height - ((value - low) / (high - low)) * height };
}

/** Round numbers from `low` to `high`, about `wanted` of them, in steps of 1, 2 or 5 times a power of ten. */
export function roundNumbers(low: number, high: number, wanted: number): number[] {
  const rough = (high - low) / Math.max(1, wanted);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((of) => of * power).find((of) => of >= rough) ?? 10 * power;
  const found: number[] = [];
  for (let count = Math.ceil(low / step - 1e-9); count * step <= high + step * 1e-9; count += 1)
    found.push(count * step);
  return found;
}

const STEPS_H = [1, 2, 3, 6, 12, 24] as const;

/** Whole hours of the site's clock, so few that their names do not touch. */
export function hourTicks(clock: SiteClock, fromMs: number, toMs: number, most: number) {
  const step = STEPS_H.find((of) => (toMs - fromMs) / 3_600_000 / of <= most) ?? 24;
  return clock.hours(fromMs, toMs, step);
}
