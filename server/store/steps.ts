// The steps of a chart: from the sums that are kept, and from the readings where none are.
import type { Bucket } from "./ports.ts";
import type { ReadSums } from "./read-sums.ts";
import {
  countIn,
  type HalfDay,
  maxIn,
  MICROS,
  microsIn,
  minIn,
  SHORTEST_CELL_MS,
  type Sum,
  type Sums,
} from "./sums.ts";

interface Asked {
  readonly series: number;
  readonly fromMs: number;
  readonly stepMs: number;
  readonly points: number;
}

const HOUR_MS = 3_600_000;
/**
 * Where one step ends and the next begins: in long steps not before the next whole quarter of an hour, or hour, so that what
 * is kept of those can be used. The first step begins and the last one ends as asked: every reading counts once.
 */
const GRAINS = [
  { grainMs: HOUR_MS, fromStepMs: 6 * HOUR_MS },
  { grainMs: SHORTEST_CELL_MS, fromStepMs: HOUR_MS },
] as const;

/** The steps as they are summed up. */
class Steps {
  readonly toMs: number;
  readonly grainMs: number;

  constructor(readonly asked: Asked) {
    const { fromMs, stepMs, points } = asked;
    this.toMs = fromMs + stepMs * points;
    this.grainMs = fromMs < 0 ? 1 : (GRAINS.find(({ fromStepMs }) => stepMs >= fromStepMs)?.grainMs ?? 1);
  }

  /** In which step a moment of the asked range lies: that in which its grain begins. */
  at(ms: number): number {
    const { fromMs, stepMs } = this.asked;
    return Math.max(0, Math.floor((ms - (ms % this.grainMs) - fromMs) / stepMs));
  }

  /** Where a step begins that is not the first, ms. */
  startMs(step: number): number {
    const ms = this.asked.fromMs + step * this.asked.stepMs;
    return Math.ceil(ms / this.grainMs) * this.grainMs;
  }
}

/** What the steps come to, number by number: an object for each cell of a year would be most of the work. */
class Totals {
  private readonly min: Float64Array;
  private readonly max: Float64Array;
  private readonly micros: Float64Array;
  private readonly count: Float64Array;

  constructor(points: number) {
    this.min = new Float64Array(points).fill(Infinity);
    this.max = new Float64Array(points).fill(-Infinity);
    this.micros = new Float64Array(points);
    this.count = new Float64Array(points);
  }

  add(step: number, min: number, max: number, micros: number, count: number): void {
    if (min < (this.min[step] as number)) this.min[step] = min;
    if (max > (this.max[step] as number)) this.max[step] = max;
    this.micros[step] = (this.micros[step] as number) + micros;
    this.count[step] = (this.count[step] as number) + count;
  }

  readonly told = (step: number, { min, max, micros, count }: Sum): void => this.add(step, min, max, micros, count);

  buckets(): Bucket[] {
    return Array.from(this.count, (count, step) =>
      count === 0
        ? { min: null, mean: null, max: null }
        : {
            min: this.min[step] as number,
            mean: (this.micros[step] as number) / (MICROS * count),
            max: this.max[step] as number,
          },
    );
  }
}

function addHalfDay(totals: Totals, halfDay: HalfDay, steps: Steps): void {
  for (let cell = 0; cell < halfDay.cells; cell++) {
    const count = countIn(halfDay, cell);
    const startMs = halfDay.fromMs + cell * halfDay.cellMs;
    if (count > 0 && startMs >= steps.asked.fromMs && startMs + halfDay.cellMs <= steps.toMs)
      totals.add(steps.at(startMs), minIn(halfDay, cell), maxIn(halfDay, cell), microsIn(halfDay, cell), count);
  }
}

/** A stretch without sums: its readings are asked for. */
function addRead(totals: Totals, reads: ReadSums, fromMs: number, toMs: number, steps: Steps): void {
  if (fromMs >= toMs) return;
  const { series, stepMs } = steps.asked;
  const part = (step: number, startMs: number, endMs: number) =>
    reads.stretches(series, startMs, endMs - startMs, 1, 1, (_, sum) => totals.told(step, sum));
  const [first, last] = [steps.at(fromMs), steps.at(toMs - 1)];
  if (first === last) return part(first, fromMs, toMs);
  part(first, fromMs, steps.startMs(first + 1));
  const wholeMs = steps.asked.fromMs + (first + 1) * stepMs;
  reads.stretches(series, wholeMs, stepMs, last - first - 1, steps.grainMs, (at, sum) =>
    totals.told(first + 1 + at, sum),
  );
  part(last, steps.startMs(last), toMs);
}

/** The buckets of a series; the same, to the last bit, whatever sums are kept. Times in whole ms. */
export function bucketsOf(sums: Sums, reads: ReadSums, asked: Asked): Bucket[] {
  const steps = new Steps(asked);
  const { fromMs } = asked;
  const { toMs, grainMs } = steps;
  const totals = new Totals(asked.points);
  const kept = grainMs < SHORTEST_CELL_MS ? [] : sums.halfDays(asked.series, fromMs, toMs);
  let readFromMs = fromMs;
  for (const halfDay of kept.filter(({ cellMs }) => grainMs % cellMs === 0)) {
    const { cellMs, cells } = halfDay;
    addHalfDay(totals, halfDay, steps);
    // Of the half days at both ends only whole cells lie within what was asked.
    const firstMs = Math.max(halfDay.fromMs, Math.ceil(fromMs / cellMs) * cellMs);
    addRead(totals, reads, readFromMs, Math.min(firstMs, toMs), steps);
    readFromMs = Math.min(halfDay.fromMs + cells * cellMs, Math.floor(toMs / cellMs) * cellMs);
  }
  addRead(totals, reads, readFromMs, toMs, steps);
  return totals.buckets();
}
