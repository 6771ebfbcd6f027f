// The golden timeline: what the judge says through nights of real weather, a line an ask. A change of judgement shows
// here as changed lines; whether they are right is read against truth.txt beside it.
//   npx tsx firmware-sim/nights.ts --out tests/golden/nights --judge
import { readdirSync, readFileSync, statSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readNightFile } from "#contract/night-file.ts";
import { judgedLines } from "../../firmware-sim/night/timeline.ts";

const at = (path: string) => new URL(path, import.meta.url);
const files = readdirSync(at("./nights")).filter((name) => name.endsWith(".json"));

/** The timeline by night: its id, and its lines without the heading. */
function golden(): Map<string, string[]> {
  const blocks = readFileSync(at("./timeline.txt"), "utf8").split("\n\n");
  return new Map(
    blocks.flatMap((block) => {
      const [head, ...lines] = block.split("\n").filter((line) => line !== "");
      return head === undefined ? [] : [[head.split(" ")[0] ?? "", lines] as const];
    }),
  );
}

describe("golden nights", () => {
  it("are thirty or more, small, and each has its timeline", () => {
    expect(files.length).toBeGreaterThanOrEqual(30);
    const sizes = files.map((name) => statSync(at(`./nights/${name}`)).size);
    expect(Math.max(...sizes)).toBeLessThan(60 * 1024);
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThan(2 * 1024 * 1024);
    expect([...golden().keys()].sort()).toEqual(files.map((name) => name.replace(".json", "")).sort());
  });

  it.each(files)("%s is judged as written", (name) => {
    const file = readNightFile(JSON.parse(readFileSync(at(`./nights/${name}`), "utf8")));
    if (!file.ok) throw new Error(JSON.stringify(file.faults));
    expect(file.value.ask).toHaveLength(10);
    expect(judgedLines(file.value)).toEqual(golden().get(file.value.id));
  });
});
