// A reporter that ends the run with one plain line, 'N passed, N failed', for people and machines that read the tail, and
// before it names every test that passed only when it was run again.
import type { Reporter, SerializedError, TestModule, TestResult } from "vitest/node";

/** Counts of a run. A skipped or unfinished test counts as failed: nothing is left out in silence. */
export interface Tally {
  passed: number;
  failed: number;
}

export function tally(modules: readonly TestModule[], errors: readonly SerializedError[]): Tally {
  let passed = 0;
  // A file that cannot be loaded holds no tests, and an error outside a test belongs to none: each is one failure.
  let failed = errors.length;
  for (const module of modules) {
    for (const test of module.children.allTests()) {
      if (test.result().state === "passed") passed += 1;
      else failed += 1;
    }
    failed += module.errors().length;
  }
  return { passed, failed };
}

/** The tests that failed at first, each with the first line of what was wrong then. */
export function ranAgain(modules: readonly TestModule[]): string[] {
  return modules.flatMap((module) =>
    [...module.children.allTests()]
      .filter((test) => test.diagnostic()?.flaky === true)
      .map((test) => `${module.relativeModuleId} > ${test.fullName}: ${reasonOf(test.result())}`),
  );
}

const reasonOf = ({ errors }: TestResult): string => errors?.[0]?.message.split("\n")[0] ?? "no reason given";

export default class LastLine implements Reporter {
  #line: string | null = null;

  onTestRunEnd(modules: readonly TestModule[], errors: readonly SerializedError[]): void {
    const { passed, failed } = tally(modules, errors);
    const again = ranAgain(modules).map((line) => `passed when run again: ${line}\n`);
    this.#line = `${again.join("")}${passed} passed, ${failed} failed`;
    // The summary of the default reporter is written at the same moment; this line belongs after it.
    process.once("exit", () => process.stdout.write(`${this.#line}\n`));
  }
}
