// The top level is fixed, and the folder map in DEVELOPERS.md is the tree.
import { describe, expect, it } from "vitest";
import { entries, foldersBelow, textOf } from "./tree.ts";

const topLevel = [
  "DEVELOPERS.md",
  "LICENSE",
  "README.md",
  "dashboard",
  "docker-compose.yml",
  "firmware-sim",
  "package-lock.json",
  "package.json",
  "server",
  "tests",
  "tsconfig.json",
];

/** Paths of the map that is drawn in the first code block below the heading, each with what is said of it. */
function folderMap(document: string): Map<string, string> {
  const block = /^## Folder map$[\s\S]*?^```.*$\n([\s\S]*?)^```$/m.exec(document)?.[1];
  if (block === undefined) throw new Error("DEVELOPERS.md has no code block below '## Folder map'");
  const map = new Map<string, string>();
  const above: string[] = [];
  for (const line of block.split("\n").filter((text) => text.trim() !== "")) {
    const drawn = /^( *)(\S+)\/(?: +(.*))?$/.exec(line);
    if (drawn === null) throw new Error(`the folder map has a line that is no folder: '${line}'`);
    const [, indent = "", name = "", said = ""] = drawn;
    above.length = indent.length / 2;
    above.push(name);
    map.set(above.join("/"), said);
  }
  return map;
}

describe("the top level", () => {
  it("holds exactly what the design fixes, besides dotfiles", () => {
    const found = entries("").map(({ name }) => name);
    expect(found.filter((name) => !name.startsWith("."))).toEqual(topLevel);
  });

  it("keeps .ci as its only hidden folder", () => {
    expect(entries("").filter(({ name, isFolder }) => isFolder && name.startsWith("."))).toEqual([
      { name: ".ci", isFolder: true },
    ]);
  });
});

describe("the folder map in DEVELOPERS.md", () => {
  it("names every folder two levels deep", () => {
    const map = folderMap(textOf("DEVELOPERS.md"));
    expect(foldersBelow("", 2).filter((path) => !map.has(path))).toEqual([]);
  });

  it("names no folder that is not there", () => {
    const there = new Set(foldersBelow("", 4));
    expect([...folderMap(textOf("DEVELOPERS.md")).keys()].filter((path) => !there.has(path))).toEqual([]);
  });

  it("says something of every folder", () => {
    const silent = [...folderMap(textOf("DEVELOPERS.md"))].filter(([, said]) => said.trim() === "");
    expect(silent.map(([path]) => path)).toEqual([]);
  });

  it("is read by its indentation, and a line that is no folder is refused", () => {
    const drawn =
      "## Folder map\n\n```\nserver/   the server\n  core/   pure\n    air/  moist air\ntests/    proof\n```\n";
    expect([...folderMap(drawn)]).toEqual([
      ["server", "the server"],
      ["server/core", "pure"],
      ["server/core/air", "moist air"],
      ["tests", "proof"],
    ]);
    expect(() => folderMap("## Folder map\n```\nserver is a folder\n```\n")).toThrow("no folder");
    expect(() => folderMap("# Nothing\n")).toThrow("no code block");
  });
});
