// A reporter that ends the run with one plain line, 'N passed, N failed', for people and machines that read the tail.
import type { Reporter, SerializedError, TestModule } from "vitest/node";

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

export default class LastLine implements Reporter {
  #line: string | null = null;

  onTestRunEnd(modules: readonly TestModule[], errors: readonly SerializedError[]): void {
    const { passed, failed } = tally(modules, errors);
    this.#line = `${passed} passed, ${failed} failed`;
    // The summary of the default reporter is written at the same moment; this line belongs after it.
    process.once("exit", () => process.stdout.write(`${this.#line}\n`));
  }
}
