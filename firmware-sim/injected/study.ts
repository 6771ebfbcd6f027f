// The part of the study that injects faults: runs it, prints its table, and gives its figures.
import type { CaseOutcome } from "./outcome.ts";
import { type InjectedPlan, runInjected } from "./run.ts";
import { alarmFigures, alone, callFigures, inPairs, toldFigures } from "./summary.ts";
import { injectedTable } from "./table.ts";
import { writeTurned } from "./turned-nights.ts";

const MOST_FILES = 20;

function byLabel(cases: readonly CaseOutcome[]) {
  const labels = [...new Set(cases.map(({ labels: [first] }) => first ?? ""))].sort();
  return Object.fromEntries(
    labels.map((label) => {
      const of = cases.filter(({ labels: [first] }) => first === label);
      return [label, { ...toldFigures(of), ...callFigures(of) }];
    }),
  );
}

/** Runs and prints; the figures are what `--json` keeps. */
export async function injectedStudy(plan: InjectedPlan & { readonly turnedFolder: string | null }): Promise<object> {
  const nights = plan.only === null ? plan.nights : 1;
  const outcomes = await runInjected(plan, (done) => {
    if (done % 10 === 0 || done === nights) process.stderr.write(`injected faults: ${done} of ${nights} nights\n`);
  });
  process.stdout.write(`${injectedTable(`seed ${plan.seed}, injected faults`, outcomes)}\n`);
  if (plan.only !== null)
    for (const each of outcomes.flatMap(({ cases }) => cases)) process.stdout.write(`${JSON.stringify(each)}\n`);
  if (plan.turnedFolder !== null)
    for (const path of writeTurned(plan.turnedFolder, plan, outcomes, MOST_FILES)) process.stdout.write(`${path}\n`);
  const [one, two] = [alone(outcomes), inPairs(outcomes)];
  return { alone: callFigures(one), pairs: callFigures(two), byLabel: byLabel(one), alarms: alarmFigures(outcomes) };
}
