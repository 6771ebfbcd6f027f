// The part of the study that looks at alarms: runs it over all processors, prints its table, and gives its figures.
import { fileURLToPath } from "node:url";
import { overProcesses } from "../study/processes.ts";
import type { AlarmNight } from "./night.ts";
import { alarmStudyFigures } from "./summary.ts";
import { alarmTable } from "./table.ts";
import { type AlarmOrder, answer } from "./worker.ts";

export interface AlarmPlan {
  readonly weather: string;
  readonly seed: number;
  readonly nights: number;
  readonly faults: boolean;
  /** 0 = in this process. */
  readonly workers: number;
  /** Minutes between two looks. */
  readonly stepMin: number;
}

export async function runAlarms(plan: AlarmPlan, progress: (done: number) => void): Promise<readonly AlarmNight[]> {
  const { weather, seed, faults, stepMin } = plan;
  const orders: AlarmOrder[] = Array.from({ length: plan.nights }, (_, index) => ({
    weather,
    seed,
    index,
    faults,
    stepMin,
  }));
  const file = fileURLToPath(new URL("./worker.ts", import.meta.url));
  const answers = await overProcesses({ file, word: "alarm-worker", answer }, orders, plan.workers, progress);
  return [...answers]
    .sort((a, b) => a.order.index - b.order.index)
    .flatMap((each) => {
      if ("problem" in each) throw new Error(`night ${each.order.index} of seed ${seed}: ${each.problem}`);
      return each.outcome ?? [];
    });
}

/** Runs and prints; the figures are what `--json` keeps. */
export async function alarmStudy(plan: AlarmPlan): Promise<object> {
  const nights = await runAlarms(plan, (done) => {
    if (done % 10 === 0 || done === plan.nights) process.stderr.write(`alarms: ${done} of ${plan.nights} nights\n`);
  });
  const name = plan.faults ? "alarms, a faulty node in a third of the nights" : "alarms";
  process.stdout.write(`${alarmTable(`seed ${plan.seed}, ${name}`, nights)}\n`);
  return alarmStudyFigures(nights);
}
