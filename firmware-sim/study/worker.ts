// One process of the study: plays and judges the nights that it is sent, and sends back their moments.
import { type StudyMoment, studyNight } from "./moment.ts";
import { sampleNight, type Year, yearsIn } from "./sample.ts";

export interface NightOrder {
  readonly weather: string;
  readonly seed: number;
  readonly index: number;
  readonly faults: boolean;
}
export type NightAnswer =
  | { readonly order: NightOrder; readonly moments: readonly StudyMoment[] }
  | { readonly order: NightOrder; readonly problem: string };

let years: { readonly weather: string; readonly years: readonly Year[] } | null = null;

export function answer(order: NightOrder): NightAnswer {
  try {
    if (years === null || years.weather !== order.weather)
      years = { weather: order.weather, years: yearsIn(order.weather) };
    const night = sampleNight(years.years, order.seed, order.index, order.faults);
    return { order, moments: studyNight(night, () => performance.now()) };
  } catch (error) {
    return { order, problem: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

if (process.send !== undefined && process.argv[2] === "study-worker")
  process.on("message", (order: NightOrder) => process.send?.(answer(order)));
