// Runs the import checker over a tree and returns what it read and what it found, for `npm run check` and for its test.
import { spawn } from "node:child_process";
import { existsSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** Folders of the tree that the import law speaks about. */
export const lawFolders = ["server", "dashboard", "firmware-sim", "tests", ".ci"];

/** Folders whose files are the product; the checker must have read at least all of these. */
export const productFolders = ["server", "dashboard", "firmware-sim"];

export interface Violation {
  rule: string;
  comment: string;
  from: string;
  to: string;
}

export interface ImportReport {
  /** Own files that were read (packages and Node modules not counted). */
  filesRead: string[];
  /** Imports that were followed. */
  imports: number;
  violations: Violation[];
}

/** The part of the checker's own report that is used here. */
interface CruiseOutput {
  modules: { source: string; dependencies: unknown[] }[];
  summary: { violations: { rule: { name: string }; from: string; to: string }[] };
}

const config = fileURLToPath(new URL("dependency-cruiser.cjs", import.meta.url));
const require = createRequire(import.meta.url);
const cruiser = fileURLToPath(new URL("../node_modules/dependency-cruiser/bin/dependency-cruise.mjs", import.meta.url));

function commentsByRule(): Map<string, string> {
  const rules = require(config) as { forbidden: { name: string; comment: string }[] };
  return new Map(rules.forbidden.map((rule) => [rule.name, rule.comment]));
}

/** Names of the rules of the import checker, in their order. */
export function importRules(): string[] {
  return [...commentsByRule().keys()];
}

/** All TypeScript files below the product folders of a tree, as paths from its root. */
export function productFiles(root: string): string[] {
  return productFolders
    .filter((folder) => existsSync(join(root, folder)))
    .flatMap((folder) =>
      readdirSync(join(root, folder), { recursive: true, encoding: "utf8" }).map((name) => join(folder, name)),
    )
    .filter((path) => /\.tsx?$/.test(path) && !/(^|\/)(node_modules|dist)\//.test(path))
    .sort();
}

function runCruiser(root: string): Promise<string> {
  const folders = lawFolders.filter((folder) => existsSync(join(root, folder)));
  return new Promise((resolve, reject) => {
    const args = [cruiser, "--config", config, "--output-type", "json", ...folders];
    const child = spawn(process.execPath, args, { cwd: root, stdio: ["ignore", "pipe", "pipe"] });
    let output = "";
    let complaint = "";
    child.stdout.setEncoding("utf8").on("data", (text: string) => {
      output += text;
    });
    child.stderr.setEncoding("utf8").on("data", (text: string) => {
      complaint += text;
    });
    child.once("error", reject);
    child.once("close", () => {
      // The exit code only repeats the number of violations; a run without a report is the failure.
      if (output.trimStart().startsWith("{")) resolve(output);
      else reject(new Error(`the import checker gave no report: ${complaint || output}`));
    });
  });
}

/** Reads every import below `root` and judges it by the law. */
export async function checkImports(root: string): Promise<ImportReport> {
  const report = JSON.parse(await runCruiser(root)) as CruiseOutput;
  const own = report.modules.filter((module) => lawFolders.some((folder) => module.source.startsWith(`${folder}/`)));
  const comments = commentsByRule();
  return {
    filesRead: own.map((module) => module.source),
    imports: own.reduce((sum, module) => sum + module.dependencies.length, 0),
    violations: report.summary.violations.map((found) => ({
      rule: found.rule.name,
      comment: comments.get(found.rule.name) ?? "",
      from: found.from,
      to: found.to,
    })),
  };
}

/** Product files that the checker has not read. A checker that reads nothing also finds nothing wrong. */
export function unreadFiles(root: string, report: ImportReport): string[] {
  const read = new Set(report.filesRead);
  return productFiles(root).filter((path) => !read.has(path));
}
