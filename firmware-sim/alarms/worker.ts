// One process of the study of alarms.
import { sampleNight, type Year, yearsIn } from "../study/sample.ts";
import { type AlarmNight, alarmNight } from "./night.ts";

export interface AlarmOrder {
  readonly weather: string;
  readonly seed: number;
  readonly index: number;
  readonly faults: boolean;
  readonly stepMin: number;
}
export type AlarmAnswer =
  /** null where nothing was laid, or the night is not watched. */
  | { readonly order: AlarmOrder; readonly outcome: AlarmNight | null }
  | { readonly order: AlarmOrder; readonly problem: string };

/** Every night with harm is watched, and one in three of the others: watching takes most of the time. */
const ONE_IN = 3;

let years: { readonly weather: string; readonly years: readonly Year[] } | null = null;

export function answer(order: AlarmOrder): AlarmAnswer {
  try {
    if (years?.weather !== order.weather) years = { weather: order.weather, years: yearsIn(order.weather) };
    const night = sampleNight(years.years, order.seed, order.index, order.faults);
    return { order, outcome: alarmNight(night, order, (harms) => harms.length > 0 || order.index % ONE_IN === 0) };
  } catch (error) {
    return { order, problem: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

if (process.send !== undefined && process.argv[2] === "alarm-worker")
  process.on("message", (order: AlarmOrder) => process.send?.(answer(order)));
