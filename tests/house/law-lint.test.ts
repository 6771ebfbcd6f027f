// Gate 3 of the import law: a planted violation of every rule of the linter must fire, and nothing else may.
import { join } from "node:path";
import { ESLint } from "eslint";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type PlantedTree, plantTree, projectRoot } from "./plant.ts";

interface Plant {
  path: string;
  text: string;
  /** Rules that must fire, one for each message in the order of the lines; a directive that has no effect has no rule. */
  rules: string[];
}

const typed = (name: string) => `@typescript-eslint/${name}`;
const syntax = "no-restricted-syntax";
const properties = "no-restricted-properties";
const globals = "no-restricted-globals";
const later = "const later = async (): Promise<number> => 1;\n";
const longText = Array.from({ length: 401 }, (_, at) => `// ${at}`).join("\n");

const plants: Plant[] = [
  // What the core may do: dates from numbers, tables that never change, plain arithmetic.
  {
    path: "server/core/allowed.ts",
    text:
      'const limits = new Map([["slab", 3]]);\nexport const dayMs = (nowMs: number) => new Date(nowMs).getTime();\n' +
      'export const iso = (nowMs: number) => new Date(nowMs).toISOString();\nexport const limit = limits.get("slab");\n' +
      "export const sum = (all: number[]) => {\n  let total = 0;\n  for (const one of all) total += one;\n  return total;\n};",
    rules: [],
  },
  { path: "server/core/now.ts", text: "export const now = () => Date.now();", rules: [properties] },
  { path: "server/core/now-apart.ts", text: "export const { now } = Date;", rules: [properties] },
  { path: "server/core/new-date.ts", text: "export const now = () => new Date();", rules: [syntax] },
  { path: "server/core/date-text.ts", text: "export const now = () => Date();", rules: [syntax] },
  { path: "server/core/local-date.ts", text: "export const then = new Date(2026, 1, 3);", rules: [syntax] },
  { path: "server/core/local-hour.ts", text: "export const hour = (at: Date) => at.getHours();", rules: [syntax] },
  { path: "server/core/local-text.ts", text: "export const say = (at: Date) => at.toLocaleString();", rules: [syntax] },
  { path: "server/core/random.ts", text: "export const draw = () => Math.random();", rules: [properties] },
  { path: "server/core/random-bracket.ts", text: 'export const draw = () => Math["random"]();', rules: [properties] },
  { path: "server/core/performance.ts", text: "export const t = performance.now();", rules: [globals] },
  { path: "server/core/process.ts", text: "export const zone = process.env;", rules: [globals] },
  { path: "server/core/global.ts", text: "export const all = globalThis;", rules: [globals] },
  { path: "server/core/crypto.ts", text: "export const id = crypto.randomUUID();", rules: [globals] },
  { path: "server/core/timeout.ts", text: "setTimeout(() => undefined, 1);", rules: [globals] },
  { path: "server/core/interval.ts", text: "setInterval(() => undefined, 1);", rules: [globals] },
  { path: "server/core/console.ts", text: 'console.log("slab");', rules: [globals] },
  { path: "server/core/let.ts", text: "let last = 0;\nexport const next = () => (last += 1);", rules: [syntax] },
  {
    path: "server/core/let-out.ts",
    text: "export let last = 0;\nexport const next = () => (last += 1);",
    rules: [syntax],
  },
  {
    path: "server/core/cache.ts",
    text: "const seen = new Map<string, number>();\nexport const n = seen.size;",
    rules: [syntax],
  },
  { path: "server/core/cache-out.ts", text: "export const seen = new Set<string>();", rules: [syntax] },
  { path: "server/contract/now.ts", text: "export const now = () => Date.now();", rules: [properties] },
  // The same words are free where the outside is met.
  {
    path: "server/now.ts",
    text: "let last = 0;\nexport const now = () => Math.max((last += 1), Date.now());",
    rules: [],
  },
  { path: "server/gather.ts", text: 'export * from "./now.ts";', rules: [syntax] },
  { path: "server/core/gather.ts", text: 'export * from "./allowed.ts";', rules: [syntax] },
  { path: "server/floating.ts", text: `${later}later();`, rules: [typed("no-floating-promises")] },
  {
    path: "server/misused.ts",
    text: `${later}export const n = [1].filter(async () => (await later()) > 0);\nif (later()) void 0;`,
    rules: [typed("no-misused-promises"), typed("no-misused-promises")],
  },
  { path: "server/await.ts", text: "export const f = async () => await 1;", rules: [typed("await-thenable")] },
  { path: "server/any.ts", text: "export const f = (x: any): unknown => x;", rules: [typed("no-explicit-any")] },
  { path: "tests/any.ts", text: "export const f = (x: any): unknown => x;", rules: [] },
  {
    path: "dashboard/switch.tsx",
    text:
      'type Call = "pour" | "wait";\nexport const f = (call: Call) => {\n  switch (call) {\n    case "pour":\n' +
      "      return 1;\n  }\n  return 2;\n};",
    rules: [typed("switch-exhaustiveness-check")],
  },
  {
    path: "server/type.ts",
    text: 'import { ESLint } from "eslint";\nexport type T = ESLint;',
    rules: [typed("consistent-type-imports")],
  },
  { path: "server/unused.ts", text: "const left = 1;\nexport {};", rules: [typed("no-unused-vars")] },
  { path: "server/unused-argument.ts", text: "export const f = (_topic: string, body: string) => body;", rules: [] },
  {
    path: "server/throw.ts",
    text: 'export const f = () => {\n  throw "soft";\n};',
    rules: [typed("only-throw-error")],
  },
  { path: "server/ignore.ts", text: "// @ts-ignore\nexport const n = 1;", rules: [typed("ban-ts-comment")] },
  { path: "server/equal.ts", text: "export const f = (a: number, b: number) => a == b;", rules: ["eqeqeq"] },
  { path: "server/var.ts", text: "export var n = 1;", rules: ["no-var"] },
  { path: "server/const.ts", text: "export const f = () => {\n  let n = 1;\n  return n;\n};", rules: ["prefer-const"] },
  { path: "server/eval.ts", text: 'export const n: unknown = eval("1");', rules: ["no-eval"] },
  { path: "server/long.ts", text: `${longText}\nexport {};`, rules: ["max-lines"] },
  { path: "tests/long.ts", text: `${longText}\nexport {};`, rules: ["max-lines"] },
  {
    path: "server/switched-off.ts",
    text: "/* eslint-disable eqeqeq */\nexport const n = 1 == 1;",
    rules: ["", "eqeqeq"],
  },
  { path: "tests/skip.ts", text: 'import { it } from "vitest";\nit.skip("later", () => undefined);', rules: [syntax] },
  {
    path: "tests/only.ts",
    text: 'import { describe } from "vitest";\ndescribe.only("this", () => undefined);',
    rules: [syntax],
  },
];

const config = join(projectRoot, ".ci/eslint.config.js");
const fired: Record<string, string[]> = {};
const messages: Record<string, string[]> = {};
let tree: PlantedTree;
let eslint: ESLint;

beforeAll(async () => {
  tree = plantTree(Object.fromEntries(plants.map(({ path, text }) => [path, text])));
  eslint = new ESLint({ cwd: tree.root, overrideConfigFile: config });
  for (const result of await eslint.lintFiles(["."])) {
    const path = result.filePath.slice(tree.root.length + 1);
    fired[path] = result.messages.map((message) => message.ruleId ?? "");
    messages[path] = result.messages.map((message) => message.message);
  }
});
afterAll(() => tree.remove());

it.each(plants)("$path -> $rules", ({ path, rules }) => {
  expect(fired[path], messages[path]?.join("; ")).toEqual(rules);
});

it("says why, not only what", () => {
  expect(messages["server/core/now.ts"]?.[0]).toContain("a past call cannot be reproduced");
  expect(messages["server/core/let.ts"]?.[0]).toContain("what the first one left behind");
});

it("has a planted violation for every rule that is on", async () => {
  const on = new Set<string>();
  for (const path of ["server/core/allowed.ts", "server/now.ts", "dashboard/switch.tsx", "tests/any.ts"]) {
    const rules = (await eslint.calculateConfigForFile(join(tree.root, path)))?.rules ?? {};
    for (const [name, setting] of Object.entries<any>(rules)) if ([setting].flat()[0] !== 0) on.add(name);
  }
  const covered = new Set(plants.flatMap(({ rules }) => rules).filter((rule) => rule !== ""));
  expect([...covered].sort()).toEqual([...on].sort());
});
