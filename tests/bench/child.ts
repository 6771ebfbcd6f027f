// A program of the bench in a process of its own: it is asked by name and answers, so that no two of them share a loop.
import { type ChildProcess, fork } from "node:child_process";
import { join } from "node:path";
import { type Answer, CPU, MEMORY, type Question } from "./answer.ts";
import { builtPrograms } from "./child-build.ts";

export interface Child {
  ask<T>(name: string, given?: unknown): Promise<T>;
  /** Time that the process has spent computing so far, ms over all its threads: other programs do not lengthen it. */
  cpuMs(): Promise<number>;
  /** What the process holds of the machine's memory, bytes. */
  memoryBytes(): Promise<number>;
  /** Ends the process. */
  end(): Promise<void>;
}

const END_MS = 5000;

/** Starts the built program `name` (`name-child.ts` beside this file) as a process; it must call `answer` of `answer.ts`. */
export async function startChild(file: string): Promise<Child> {
  const child: ChildProcess = fork(join(await builtPrograms(), `${file}-child.js`), {
    execArgv: ["--expose-gc"],
    env: { ...process.env, NODE_ENV: "production" },
    stdio: ["ignore", "inherit", "inherit", "ipc"],
  });
  const waiting = new Map<number, { resolve(value: unknown): void; reject(error: Error): void }>();
  let asked = 0;
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  child.on("message", (message) => {
    const { id, value, error } = message as Answer;
    const one = waiting.get(id);
    waiting.delete(id);
    if (error === undefined) one?.resolve(value);
    else one?.reject(new Error(`${file}: ${error}`));
  });
  void ended.then(() => {
    for (const { reject } of waiting.values()) reject(new Error(`${file} ended while it was being asked`));
  });
  const ask = <T>(name: string, given: unknown = null): Promise<T> =>
    new Promise<T>((resolve, reject) => {
      const id = asked++;
      waiting.set(id, { resolve: resolve as (value: unknown) => void, reject });
      const question: Question = { id, name, given };
      child.send(question, (error) => {
        if (error) reject(error);
      });
    });
  return {
    ask,
    cpuMs: () => ask<number>(CPU),
    memoryBytes: () => ask<number>(MEMORY),
    async end() {
      if (child.connected) child.disconnect();
      const timer = setTimeout(() => child.kill("SIGKILL"), END_MS);
      await ended;
      clearTimeout(timer);
    },
  };
}

export function sleep(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
