// Documents that can be wrong are compared with what they speak of: commands, and the example settings file.
import { describe, expect, it } from "vitest";
import { exampleSettings } from "../../server/settings.ts";
import { textOf } from "./tree.ts";

const documents = ["README.md", "DEVELOPERS.md"];

/** Names of the npm scripts that a text tells people to run. */
function scriptsIn(text: string): string[] {
  const runs = [...text.matchAll(/\bnpm (?:run (?:--silent |-s )?([a-z][\w:-]*)|(?:--silent |-s )?(test|start)\b)/g)];
  return [...new Set(runs.map((found) => found[1] ?? found[2] ?? ""))].sort();
}

const scripts = Object.keys((JSON.parse(textOf("package.json")) as { scripts: Record<string, string> }).scripts).sort();

describe("npm scripts", () => {
  it.each(documents)("named in %s exist", (path) => {
    const named = scriptsIn(textOf(path));
    expect(named.length).toBeGreaterThan(0);
    expect(named.filter((name) => !scripts.includes(name))).toEqual([]);
  });

  it("are each told to people in one of the documents", () => {
    const told = new Set(documents.flatMap((path) => scriptsIn(textOf(path))));
    expect(scripts.filter((name) => !told.has(name))).toEqual([]);
  });

  it("are found in prose and in code", () => {
    const text = "Run `npm run check`, npm test, then:\n    npm ci && npm start\n    npm run --silent replay -- FILE\n";
    expect(scriptsIn(text)).toEqual(["check", "replay", "start", "test"]);
  });
});

describe(".env.example", () => {
  it("is what the settings schema says", () => {
    expect(textOf(".env.example")).toBe(exampleSettings());
  });
});
