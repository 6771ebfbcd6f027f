// What lies in the project's tree, without what git ignores: for the tests that hold the documents and habits to it.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { projectRoot } from "./plant.ts";

/** Names that .gitignore keeps out, at any depth. Only plain names and '*.ending' stand there. */
const ignored = readFileSync(join(projectRoot, ".gitignore"), "utf8")
  .split("\n")
  .map((line) => line.trim().replace(/\/$/, ""))
  .filter((line) => line !== "" && !line.startsWith("#"));

function isIgnored(name: string): boolean {
  return (
    name === ".git" || ignored.some((rule) => (rule.startsWith("*.") ? name.endsWith(rule.slice(1)) : rule === name))
  );
}

/** Entries of one folder (path from the root, "" for the root), in order. */
export function entries(folder: string): { name: string; isFolder: boolean }[] {
  return readdirSync(join(projectRoot, folder), { withFileTypes: true })
    .filter((entry) => !isIgnored(entry.name))
    .map((entry) => ({ name: entry.name, isFolder: entry.isDirectory() }))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

/** All files below a folder, as paths from the root. */
export function filesBelow(folder: string): string[] {
  return entries(folder).flatMap(({ name, isFolder }) => {
    const path = folder === "" ? name : `${folder}/${name}`;
    return isFolder ? filesBelow(path) : [path];
  });
}

/** Folders that hold at least one file somewhere (git keeps no others), down to a depth below `folder`. */
export function foldersBelow(folder: string, depth: number): string[] {
  if (depth === 0) return [];
  return entries(folder)
    .filter(({ isFolder }) => isFolder)
    .map(({ name }) => (folder === "" ? name : `${folder}/${name}`))
    .filter((path) => filesBelow(path).length > 0)
    .flatMap((path) => [path, ...foldersBelow(path, depth - 1)]);
}

export function textOf(path: string): string {
  return readFileSync(join(projectRoot, path), "utf8");
}

/** Number of lines; the line feed at the end of the last line begins no new one. */
export function linesOf(path: string): number {
  return textOf(path).replace(/\n$/, "").split("\n").length;
}
