// Runs the nights of a study over all processors; the outcome is the same whatever their number.
import { fileURLToPath } from "node:url";
import type { StudyMoment } from "./moment.ts";
import { overProcesses } from "./processes.ts";
import { answer, type NightAnswer, type NightOrder } from "./worker.ts";

export interface StudyPlan {
  readonly weather: string;
  readonly seed: number;
  readonly nights: number;
  readonly faults: boolean;
  /** 0 = in this process. */
  readonly workers: number;
}

function momentsOf(answers: readonly NightAnswer[]): readonly StudyMoment[] {
  return [...answers]
    .sort((a, b) => a.order.index - b.order.index)
    .flatMap((each) => {
      if ("problem" in each) throw new Error(`night ${each.order.index} of seed ${each.order.seed}: ${each.problem}`);
      return each.moments;
    });
}

/** All moments of the planned nights, in order of night and time. `progress` hears how many nights are done. */
export async function runStudy(plan: StudyPlan, progress: (done: number) => void): Promise<readonly StudyMoment[]> {
  const { weather, seed, faults } = plan;
  const orders: NightOrder[] = Array.from({ length: plan.nights }, (_, index) => ({ weather, seed, index, faults }));
  const file = fileURLToPath(new URL("./worker.ts", import.meta.url));
  return momentsOf(await overProcesses({ file, word: "study-worker", answer }, orders, plan.workers, progress));
}
