// One process of the injected nights: plays those that it is sent and sends back what came of them.
import { type Year, yearsIn } from "../study/sample.ts";
import { type CasePlan, cleanNight } from "./cases.ts";
import { injectInto, type NightOutcome } from "./outcome.ts";

export interface InjectedOrder {
  readonly weather: string;
  readonly index: number;
  readonly plan: CasePlan;
}
export type InjectedAnswer =
  | { readonly order: InjectedOrder; readonly outcome: NightOutcome }
  | { readonly order: InjectedOrder; readonly problem: string };

let years: { readonly weather: string; readonly years: readonly Year[] } | null = null;

export function answer(order: InjectedOrder): InjectedAnswer {
  try {
    if (years === null || years.weather !== order.weather)
      years = { weather: order.weather, years: yearsIn(order.weather) };
    return { order, outcome: injectInto(cleanNight(years.years, order.plan.seed, order.index), order.plan) };
  } catch (error) {
    return { order, problem: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

if (process.send !== undefined && process.argv[2] === "injected-worker")
  process.on("message", (order: InjectedOrder) => process.send?.(answer(order)));
