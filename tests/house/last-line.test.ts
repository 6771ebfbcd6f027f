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
  });
});
afterAll(() => tree.remove());

function lastLine(folder: string): { line: string | undefined; exitCode: number | null } {
  const vitest = join(projectRoot, "node_modules/vitest/vitest.mjs");
  const reporter = join(projectRoot, "tests/support/last-line.ts");
  const args = [vitest, "run", "--root", tree.root, "--reporter", "default", "--reporter", reporter, `${folder}/`];
  const run = spawnSync(process.execPath, args, { cwd: tree.root, encoding: "utf8" });
  return { line: run.stdout.trimEnd().split("\n").at(-1), exitCode: run.status };
}

it("says that all passed", () => {
  expect(lastLine("a")).toEqual({ line: "2 passed, 0 failed", exitCode: 0 });
});

it("counts a test that is left out, and a file that cannot be loaded, as failed", () => {
  expect(lastLine("b")).toEqual({ line: "2 passed, 3 failed", exitCode: 1 });
});
