// `npm run check` itself, on a tree with something wrong for every gate: it must go through all of them and fail.
import { spawnSync } from "node:child_process";
import { cpSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type PlantedTree, plantTree, projectRoot } from "./plant.ts";

let tree: PlantedTree;
let output: string;
let exitCode: number | null;

beforeAll(() => {
  tree = plantTree({
    "server/core/format.ts": "// Badly spaced.\nexport const   slabC = 12 ;",
    "server/core/lint.ts": "// Asks the clock.\nexport const nowMs = () => Date.now();",
    "server/core/types.ts": '// A word for a number.\nexport const slabC: number = "cold";',
    "server/core/imports.ts": '// Reads files.\nimport "node:fs";',
    // One folder is enough here: what each gate catches where is the business of the other tests of the law.
    "tsconfig.json": readFileSync(join(projectRoot, "tsconfig.json"), "utf8").replace(
      /"references": \[[^\]]*\]/,
      '"references": [{ "path": "server/core" }]',
    ),
  });
  for (const path of [".ci", ".biome.json", ".gitignore"]) {
    cpSync(join(projectRoot, path), join(tree.root, path), { recursive: true });
  }
  const run = spawnSync(process.execPath, ["--import", "tsx", ".ci/check.ts"], { cwd: tree.root, encoding: "utf8" });
  output = run.stdout + run.stderr;
  exitCode = run.status;
}, 120_000);
afterAll(() => tree.remove());

it("ends with a summary of all gates and fails", () => {
  const summary = output.slice(output.lastIndexOf("gate "));
  const outcomes = [...summary.matchAll(/^(\w+) +(passed|FAILED) /gm)].map((found) => `${found[1]} ${found[2]}`);
  expect(outcomes, output).toEqual(["format FAILED", "lint FAILED", "types FAILED", "imports FAILED"]);
  expect(exitCode).toBe(1);
});

it("shows where and why", () => {
  expect(output).toContain("server/core/format.ts");
  expect(output).toContain("The clock is an argument");
  expect(output).toMatch(/server\/core\/types\.ts.*TS2322/);
  expect(output).toMatch(/server\/core\/imports\.ts imports (node:)?fs\n {2}core-stands-alone: /);
});
