// Hands orders to as many processes as a machine has processors, and gathers what they answer.
import { type ChildProcess, fork } from "node:child_process";
import { createRequire } from "node:module";
import { availableParallelism } from "node:os";
import { pathToFileURL } from "node:url";

export interface Work<Order, Answer> {
  /** The program of a process, and the word by which it knows that it is one. */
  readonly file: string;
  readonly word: string;
  /** The same work in this process. */
  readonly answer: (order: Order) => Answer;
}

/** One core is worth a process each; a machine with one does without. */
export const workersHere = () => Math.max(1, availableParallelism());

/** Answers in the order in which they came. `workers` 0 = in this process; `progress` hears how many are there. */
export async function overProcesses<Order, Answer>(
  work: Work<Order, Answer>,
  planned: readonly Order[],
  workers: number,
  progress: (done: number) => void,
): Promise<readonly Answer[]> {
  const orders = [...planned];
  const answers: Answer[] = [];
  if (workers === 0) {
    for (const order of orders) {
      answers.push(work.answer(order));
      progress(answers.length);
    }
    return answers;
  }
  // Whoever runs this, the processes read TypeScript in the same way.
  const execArgv = ["--import", pathToFileURL(createRequire(import.meta.url).resolve("tsx")).href];
  const count = Math.min(workers, orders.length);
  const children = Array.from({ length: count }, () => fork(work.file, [work.word], { execArgv }));
  try {
    await Promise.all(
      children.map(
        (child) =>
          new Promise<void>((resolve, reject) => {
            child.once("error", reject);
            child.once("exit", (code) => reject(new Error(`a process of the study ended early (${code ?? "killed"})`)));
            child.on("message", (each: Answer) => {
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
  return answers;
}

/** Sends the next order; false when none is left. */
function send<Order>(child: ChildProcess, orders: Order[]): boolean {
  const order = orders.shift();
  if (order !== undefined) child.send(order as object);
  return order !== undefined;
}
