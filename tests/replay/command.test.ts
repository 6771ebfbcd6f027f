// The replay command from outside: one call a line, exit code, and messages that name file and field.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CallSchema } from "#contract/call.ts";
import { readerOf } from "#contract/faults.ts";
import { replayFile } from "../../server/replay.ts";
import { caseFiles, casesFolder, readCase } from "../support/cases.ts";

const root = new URL("../..", import.meta.url).pathname;
const readCall = readerOf(CallSchema);
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "nightslab-replay-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

function replay(files: readonly string[]) {
  const run = spawnSync("npm", ["run", "--silent", "replay", "--", ...files], { cwd: root, encoding: "utf8" });
  return { exitCode: run.status, lines: run.stdout.split("\n").filter((line) => line !== ""), stderr: run.stderr };
}

type Night = Record<string, unknown> & {
  readings: Record<string, unknown>[];
  journal: Record<string, unknown>[];
  ask: Record<string, unknown>[];
};

/** A file like case 57, the shortest, with something changed. */
function planted(name: string, change: (night: Night) => unknown): string {
  const night = JSON.parse(readFileSync(`${casesFolder}57.json`, "utf8")) as Night;
  const changed = change(night) ?? night;
  const file = join(folder, name);
  writeFileSync(file, typeof changed === "string" ? changed : JSON.stringify(changed));
  return file;
}

describe("npm run --silent replay -- FILE...", () => {
  it("prints one call a line for every ask of every night file, in order, and exits 0", () => {
    const { exitCode, lines, stderr } = replay(caseFiles.map((file) => casesFolder + file));
    expect(stderr).toBe("");
    expect(exitCode).toBe(0);
    const wanted = caseFiles.flatMap((file) => readCase(file).expect);
    const asked = caseFiles.flatMap((file) => readCase(file).ask);
    expect(lines).toHaveLength(asked.length);
    for (const [index, line] of lines.entries()) {
      const read = readCall(JSON.parse(line));
      if (!read.ok) throw new Error(`line ${index + 1}: ${JSON.stringify(read.faults)}`);
      const { call, limiting, zone, at, rules, steps, next } = read.value;
      expect(zone).toBe(asked[index]?.zone);
      expect(Date.parse(at)).toBe(asked[index]?.atMs);
      expect(call).toBe(wanted[index]?.call);
      expect(wanted[index]?.limiting).toContain(limiting);
      expect(rules).toHaveLength(37);
      if (wanted[index]?.steps !== undefined) expect(steps).toEqual(wanted[index]?.steps);
      if (wanted[index]?.next !== undefined) expect(next?.call).toBe(wanted[index]?.next);
    }
  }, 120_000);

  it("judges the files it can, and exits 2 for the one it cannot", () => {
    const bad = planted("bad.json", () => "{");
    const { exitCode, lines, stderr } = replay([`${casesFolder}57.json`, bad, `${casesFolder}01.json`]);
    expect(exitCode).toBe(2);
    expect(lines.map((line) => (JSON.parse(line) as { call: string }).call)).toEqual(["wait", "pour"]);
    expect(stderr).toContain(bad);
  });

  it("without a file says how it is used and exits 2; with --help it exits 0", () => {
    expect(replay([])).toMatchObject({ exitCode: 2 });
    const help = replay(["--help"]);
    expect(help.lines.join("\n")).toContain("npm run --silent replay -- FILE...");
    expect(help.exitCode).toBe(0);
  });
});

describe("a file that cannot be judged", () => {
  const faults: { what: string; change: (night: Night) => unknown; says: RegExp }[] = [
    { what: "not JSON", change: () => "{ nightFile: 1 }", says: /is not JSON/ },
    { what: "wrong nightFile", change: (night) => ({ ...night, nightFile: 2 }), says: /\/nightFile: must be 1/ },
    { what: "a list", change: () => [], says: /\/nightFile: must be 1/ },
    { what: "unknown key", change: (night) => ({ ...night, colour: "red" }), says: /\/colour: is not a known field/ },
    { what: "missing key", change: ({ zones: _, ...night }) => night, says: /\/zones: is missing/ },
    {
      what: "unknown kind of entry",
      change: (night) => void (night.journal[1] = { ...night.journal[1], did: "painted" }),
      says: /\/journal\/1\/did: must be one of/,
    },
    {
      what: "unknown key in an entry",
      change: (night) => void (night.journal[0] = { ...night.journal[0], colour: 1 }),
      says: /\/journal\/0\/colour: is not a known field/,
    },
    {
      what: "bad time of an entry",
      change: (night) => void (night.journal[2] = { ...night.journal[2], at: "2026-02-31T10:00:00Z" }),
      says: /\/journal\/2\/at: names a day/,
    },
    {
      what: "bad time of an ask",
      change: (night) => void (night.ask[0] = { ...night.ask[0], at: "2026-02-03 12:00" }),
      says: /\/ask\/0\/at: /,
    },
    {
      what: "a day that does not exist",
      change: (night) => void (night.ask[0] = { ...night.ask[0], at: "2026-02-30T12:00:00Z" }),
      says: /\/ask\/0\/at: names a day/,
    },
    {
      what: "unknown zone in ask",
      change: (night) => void (night.ask[0] = { ...night.ask[0], zone: "nowhere" }),
      says: /\/ask\/0\/zone: no zone "nowhere"/,
    },
    {
      what: "unknown unit",
      change: (night) => void (night.readings[3] = { ...night.readings[3], u: "K" }),
      says: /\/readings\/3\/u: "K" is not a unit of /,
    },
    {
      what: "a reading without a value",
      change: (night) => void delete night.readings[4]?.v,
      says: /\/readings\/4: carries no value/,
    },
    {
      what: "a value that is no number",
      change: (night) => void (night.readings[5] = { ...night.readings[5], v: "12" }),
      says: /\/readings\/5\/v: must be a number/,
    },
    {
      what: "a relative time",
      change: (night) => void (night.readings[0] = { ...night.readings[0], bt: 0 }),
      says: /\/readings\/\d+\/t: must be an absolute time/,
    },
    {
      what: "bad heardS",
      change: (night) => void (night.readings[2] = { ...night.readings[2], heardS: "late" }),
      says: /\/readings\/2\/heardS: must be a number/,
    },
    {
      what: "a feed without a day",
      change: (night) => ({ ...night, feed: [{ fetchedAt: "2026-13-01T00:00:00Z", hours: [] }] }),
      says: /\/feed\/0\/fetchedAt: names a day/,
    },
    {
      what: "a part that is not yet split off",
      change: (night) => {
        night.journal.push({
          at: "2026-02-05T00:00:00Z",
          zone: "a",
          did: "split",
          into: [
            { id: "a-1", areaM2: 10 },
            { id: "a-2", areaM2: 20 },
          ],
        });
        night.ask[0] = { ...night.ask[0], zone: "a-1" };
      },
      says: /\/ask\/0: zone: "a-1" is not a zone/,
    },
  ];

  // In this process; the command itself is started below.
  it.each(faults)("$what", ({ what, change, says }) => {
    const file = planted(`${what.replaceAll(" ", "-")}.json`, change);
    expect(() => replayFile(file)).toThrow(says);
    expect(() => replayFile(file)).toThrow(file);
  });

  it("a file that is not there", () => {
    expect(() => replayFile(join(folder, "no-such.json"))).toThrow(/no-such\.json: cannot be read/);
  });

  it("a sheet with nonsense values is judged, not refused", () => {
    const [line] = replayFile(`${casesFolder}44.json`);
    expect(JSON.parse(line as string)).toMatchObject({ call: "wait", limiting: "sheet-invalid" });
  });

  it("says so on stderr, one message a file", () => {
    const files = faults.slice(0, 4).map(({ what, change }) => planted(`${what.replaceAll(" ", "-")}.json`, change));
    const { exitCode, lines, stderr } = replay(files);
    expect({ exitCode, lines }).toEqual({ exitCode: 2, lines: [] });
    const messages = stderr.trim().split("\n");
    expect(messages).toHaveLength(4);
    for (const [index, message] of messages.entries()) {
      expect(message).toContain(files[index]);
      expect(message).toMatch(faults[index]?.says as RegExp);
    }
  });
});
