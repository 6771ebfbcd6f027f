// Gate 1 of the import law: the compiler, folder by folder, refuses what a folder has no right to know.
import { join } from "node:path";
import ts from "typescript";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type PlantedTree, plantTree } from "./plant.ts";

interface Plant {
  path: string;
  text: string;
  /** Code of the compiler error that must come; null for a file that must pass. */
  code: number | null;
}

const cannotFind = 2304;
const cannotFindNode = 2591;
const cannotFindDom = 2584;
const outsideProject = 6307;

const plants: Plant[] = [
  { path: "server/core/plain.ts", text: "export const twice = (slabC: number) => 2 * slabC;", code: null },
  { path: "server/core/process.ts", text: "export const cwd = process.cwd();", code: cannotFindNode },
  { path: "server/core/network.ts", text: 'export const page = fetch("http://127.0.0.1");', code: cannotFind },
  { path: "server/core/timer.ts", text: "setTimeout(() => undefined, 1);\nexport {};", code: cannotFind },
  { path: "server/core/screen.ts", text: "export const title = document.title;", code: cannotFindDom },
  {
    path: "server/core/files.ts",
    text: 'import { readFileSync } from "node:fs";\nexport const read = readFileSync;',
    code: cannotFindNode,
  },
  {
    path: "server/core/upward.ts",
    text: 'import { word } from "#contract/word.ts";\nexport const up = word;',
    code: outsideProject,
  },
  { path: "server/contract/word.ts", text: 'export const word = "pour";', code: null },
  { path: "server/contract/process.ts", text: "export const cwd = process.cwd();", code: cannotFindNode },
  { path: "server/app.ts", text: "export const cwd = process.cwd();", code: null },
  { path: "server/port.ts", text: "export const port = 8080;", code: null },
  { path: "server/window.ts", text: "export const widthPx = window.innerWidth;", code: cannotFind },
  { path: "dashboard/title.ts", text: "export const title = document.title;", code: null },
  { path: "dashboard/process.ts", text: "export const home = process.env;", code: cannotFindNode },
  {
    path: "dashboard/server.ts",
    text: 'import { port } from "../server/port.ts";\nexport const there = port;',
    code: outsideProject,
  },
  { path: "firmware-sim/window.ts", text: "export const widthPx = window.innerWidth;", code: cannotFind },
  // The strictness that the code leans on everywhere.
  {
    path: "server/core/index-access.ts",
    text: "const listC = [1.5];\nexport const firstC: number = listC[0];",
    code: 2322,
  },
  { path: "server/core/optional.ts", text: "export const note: { how?: string } = { how: undefined };", code: 2375 },
  { path: "server/core/unused.ts", text: "const left = 1;\nexport {};", code: 6133 },
  {
    path: "server/core/type-import.ts",
    text: 'import { Kelvin } from "./kelvin.ts";\nexport const oneK: Kelvin = 1;',
    code: 1484,
  },
  { path: "server/core/kelvin.ts", text: "export type Kelvin = number;", code: null },
];

const projects = ["server/core", "server/contract", "server", "dashboard", "firmware-sim"];

/** Error codes by file, over all folders, with the library files parsed once. */
function compile(root: string): Map<string, number[]> {
  const codes = new Map<string, number[]>();
  const parsed = new Map<string, ts.SourceFile | undefined>();
  for (const project of projects) {
    const configPath = join(root, project, "tsconfig.json");
    const config = ts.getParsedCommandLineOfConfigFile(
      configPath,
      { noEmit: true },
      { ...ts.sys, onUnRecoverableConfigFileDiagnostic: (d) => expect.fail(String(d.messageText)) },
    );
    if (config === undefined) throw new Error(`${configPath} cannot be read`);
    const host = ts.createCompilerHost(config.options);
    const readFile = host.getSourceFile.bind(host);
    host.getSourceFile = (name, languageVersion) => {
      // A file of the tree may be a module of one kind here and of another there; libraries are the same everywhere.
      if (!name.includes("/node_modules/")) return readFile(name, languageVersion);
      if (!parsed.has(name)) parsed.set(name, readFile(name, languageVersion));
      return parsed.get(name);
    };
    const program = ts.createProgram({
      rootNames: config.fileNames,
      options: config.options,
      projectReferences: config.projectReferences ?? [],
      host,
    });
    for (const found of ts.getPreEmitDiagnostics(program)) {
      const path = found.file?.fileName.slice(root.length + 1) ?? project;
      codes.set(path, [...(codes.get(path) ?? []), found.code]);
    }
  }
  return codes;
}

let tree: PlantedTree;
let codes: Map<string, number[]>;
beforeAll(() => {
  tree = plantTree(Object.fromEntries(plants.map(({ path, text }) => [path, text])));
  codes = compile(tree.root);
});
afterAll(() => tree.remove());

it.each(plants)("$path -> $code", ({ path, code }) => {
  const found = [...new Set(codes.get(path) ?? [])];
  if (code === null) expect(found).toEqual([]);
  else expect(found).toContain(code);
});

it("finds nothing beyond what was planted", () => {
  expect([...codes.keys()].sort()).toEqual(plants.flatMap(({ path, code }) => (code === null ? [] : [path])).sort());
});
