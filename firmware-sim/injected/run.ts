// Runs the injected nights over all processors.
import { fileURLToPath } from "node:url";
import { overProcesses } from "../study/processes.ts";
import type { CasePlan } from "./cases.ts";
import type { NightOutcome } from "./outcome.ts";
import { answer, type InjectedOrder } from "./worker.ts";

export interface InjectedPlan extends CasePlan {
  readonly weather: string;
  /** 0 = in this process. */
  readonly workers: number;
  /** This night alone; null = all. */
  readonly only: number | null;
}

/** Outcomes in order of night. */
export async function runInjected(
  plan: InjectedPlan,
  progress: (done: number) => void,
): Promise<readonly NightOutcome[]> {
  const { weather, workers, only, seed, nights, asks, pairs } = plan;
  const indices = only === null ? Array.from({ length: nights }, (_, index) => index) : [only];
  const orders: InjectedOrder[] = indices.map((index) => ({ weather, index, plan: { seed, nights, asks, pairs } }));
  const file = fileURLToPath(new URL("./worker.ts", import.meta.url));
  const answers = await overProcesses({ file, word: "injected-worker", answer }, orders, workers, progress);
  return [...answers]
    .sort((a, b) => a.order.index - b.order.index)
    .map((each) => {
      if ("problem" in each) throw new Error(`night ${each.order.index} of seed ${seed}: ${each.problem}`);
      return each.outcome;
    });
}
