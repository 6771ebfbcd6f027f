// Runs the nights of a study over all processors; the outcome is the same whatever their number.
import { type ChildProcess, fork } from "node:child_process";
import { createRequire } from "node:module";
import { availableParallelism } from "node:os";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { StudyMoment } from "./moment.ts";
import { answer, type NightAnswer, type NightOrder } from "./worker.ts";

export interface StudyPlan {
  readonly weather: string;
  readonly seed: number;
  readonly nights: number;
  readonly faults: boolean;
  /** 0 = in this process. */
  readonly workers: number;
}

/** One core is worth a process each; a machine with one does without. */
export const workersHere = () => Math.max(1, availableParallelism());

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
  const answers: NightAnswer[] = [];
  if (plan.workers === 0) {
    for (const order of orders) {
      answers.push(answer(order));
      progress(answers.length);
    }
    return momentsOf(answers);
  }
  const file = fileURLToPath(new URL("./worker.ts", import.meta.url));
  // Whoever runs this, the processes read TypeScript in the same way.
  const execArgv = ["--import", pathToFileURL(createRequire(import.meta.url).resolve("tsx")).href];
  const count = Math.min(plan.workers, orders.length);
  const children = Array.from({ length: count }, () => fork(file, ["study-worker"], { execArgv }));
  try {
    await Promise.all(
      children.map(
        (child) =>
          new Promise<void>((resolve, reject) => {
            child.once("error", reject);
            child.once("exit", (code) => reject(new Error(`a process of the study ended early (${code ?? "killed"})`)));
            child.on("message", (each: NightAnswer) => {
              answers.push(each);
              progress(answers.length);
              if (!send(child, orders)) resolve();
            });
            if (!send(child, orders)) resolve();
          }),
      ),
    );
  } finally {
    for (const child of children) child.disconnect();
  }
  return momentsOf(answers);
}

/** Sends the next night; false when none is left. */
function send(child: ChildProcess, orders: NightOrder[]): boolean {
  const order = orders.shift();
  if (order !== undefined) child.send(order);
  return order !== undefined;
}
