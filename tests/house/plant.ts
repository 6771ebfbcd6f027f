// Plants files into a throw-away tree that has the project's own compiler settings and packages, and nothing else of it.
import { cpSync, mkdirSync, mkdtempSync, readdirSync, realpathSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** The project's own tree. */
export const projectRoot = fileURLToPath(new URL("../..", import.meta.url));

const copied = [
  "package.json",
  "tsconfig.json",
  "server/tsconfig.json",
  "server/core/tsconfig.json",
  "server/contract/tsconfig.json",
  "dashboard/tsconfig.json",
  "firmware-sim/tsconfig.json",
  "tests/tsconfig.json",
  ".ci/tsconfig.json",
];

export interface PlantedTree {
  root: string;
  remove(): void;
}

/** A tree of the given files (path from its root to text). */
export function plantTree(files: Record<string, string>): PlantedTree {
  const root = realpathSync(mkdtempSync(join(tmpdir(), "nightslab-planted-")));
  for (const path of copied) cpSync(join(projectRoot, path), join(root, path));
  // Package by package, so that what tools keep in node_modules/.cache stays in the planted tree.
  mkdirSync(join(root, "node_modules"));
  for (const name of readdirSync(join(projectRoot, "node_modules"))) {
    if (name !== ".cache") symlinkSync(join(projectRoot, "node_modules", name), join(root, "node_modules", name));
  }
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), `${text}\n`);
  }
  return { root, remove: () => rmSync(root, { recursive: true, force: true }) };
}
