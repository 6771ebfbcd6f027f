// The last line of a test run counts everything: passed, failed, left out, and files that cannot even be loaded.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type PlantedTree, plantTree, projectRoot } from "./plant.ts";

let tree: PlantedTree;
beforeAll(() => {
  tree = plantTree({
    "a/two-pass.test.ts": 'import { it } from "vitest";\nit("one", () => undefined);\nit("two", () => undefined);',
    "b/one-fails.test.ts":
      'import { it } from "vitest";\nit("bad", () => {\n  throw new Error("soft");\n});\nit("good", () => undefined);',
    "b/one-left-out.test.ts":
      'import { it } from "vitest";\nit.skip("later", () => undefined);\nit("now", () => undefined);',
    "b/broken.test.ts": 'import "./nowhere.ts";',
    "c/second-try.test.ts":
      'import { expect, it } from "vitest";\nlet tries = 0;\nit("comes", { retry: 1 }, () => {\n  expect(++tries).toBe(2);\n});',
  });
});
afterAll(() => tree.remove());

function lastLines(folder: string, count: number): { lines: string[]; exitCode: number | null } {
  const vitest = join(projectRoot, "node_modules/vitest/vitest.mjs");
  const reporter = join(projectRoot, "tests/support/last-line.ts");
  const args = [vitest, "run", "--root", tree.root, "--reporter", "default", "--reporter", reporter, `${folder}/`];
  const run = spawnSync(process.execPath, args, { cwd: tree.root, encoding: "utf8" });
  return { lines: run.stdout.trimEnd().split("\n").slice(-count), exitCode: run.status };
}

it("says that all passed", () => {
  expect(lastLines("a", 1)).toEqual({ lines: ["2 passed, 0 failed"], exitCode: 0 });
});

it("counts a test that is left out, and a file that cannot be loaded, as failed", () => {
  expect(lastLines("b", 1)).toEqual({ lines: ["2 passed, 3 failed"], exitCode: 1 });
});

it("names a test that passed only when it was run again, and why it failed", () => {
  const { lines, exitCode } = lastLines("c", 2);
  expect(lines[0]).toMatch(/^passed when run again: c\/second-try\.test\.ts > comes: .*expected 1 to be 2/);
  expect([lines[1], exitCode]).toEqual(["1 passed, 0 failed", 0]);
});
