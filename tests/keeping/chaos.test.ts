// The trials in small, as the command runs them: nothing lost, nothing doubled, the same calls.
import { spawn } from "node:child_process";
import { describe, expect, it } from "vitest";

const root = new URL("../..", import.meta.url).pathname;

function chaos(...words: string[]): Promise<{ code: number | null; said: string; error: string }> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, ["--import", "tsx", "firmware-sim/chaos.ts", ...words], { cwd: root });
    let [said, error] = ["", ""];
    child.stdout.on("data", (text: Buffer) => (said += text.toString()));
    child.stderr.on("data", (text: Buffer) => (error += text.toString()));
    child.once("close", (code) => resolve({ code, said, error }));
  });
}

/** The program under trial is started several times, and a busy machine takes its time over that. */
describe("chaos", { timeout: 600_000 }, () => {
  it("ends as an undisturbed run after the server was killed in the flow", async () => {
    const { code, said, error } = await chaos("--short", "--only", "kill", "--kills", "1");
    expect(code, said + error).toBe(0);
    const rows = said.split("\n").filter((line) => /^\| (none|kill) /.test(line));
    const cells = rows.map((row) => row.split("|").map((cell) => cell.trim()));
    expect(cells.map(([, name, , , lost, wrong]) => [name, lost, wrong])).toEqual([
      ["none", "0", "0"],
      ["kill", "0", "0"],
    ]);
    expect(cells[1]?.[2]).toMatch(/^killed 1 times? under 500 packs\/s$/);
    expect(cells[1]?.[6]).toMatch(/^all \d+$/);
  });

  it("refuses what it does not know by name", async () => {
    expect(await chaos("--only", "flood")).toMatchObject({
      code: 2,
      error: 'chaos: --only takes one of kill, broker, influx, disk, clock, hostile, crowd, not "flood"\n',
    });
  });
});
