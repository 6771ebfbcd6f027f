// The command `npm run sim` from outside: what it says of wrong options, the night file it writes, and nodes on a broker.
import { spawn } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readNightFile } from "#contract/night-file.ts";
import { startMosquitto } from "../support/mosquitto.ts";

const root = new URL("../..", import.meta.url).pathname;

interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

function sim(args: readonly string[], stopOn?: (out: string) => boolean): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ["--import", "tsx", "firmware-sim/main.ts", ...args], { cwd: root });
    let out = "";
    let err = "";
    child.stdout.on("data", (data: Buffer) => {
      out += data.toString();
      if (stopOn?.(out) === true) child.kill("SIGINT");
    });
    child.stderr.on("data", (data: Buffer) => {
      err += data.toString();
    });
    child.once("error", reject);
    child.once("close", (code) => resolve({ code, out, err }));
  });
}

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightslab-sim-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("sim", () => {
  it("explains itself, naming every option", async () => {
    const { code, out } = await sim(["--help"]);
    expect(code).toBe(0);
    for (const option of [
      "url",
      "username",
      "password",
      "site",
      "scenario",
      "list",
      "seed",
      "fault",
      "from",
      "pace",
      "backfill",
      "hours",
      "out",
    ]) {
      expect(out).toContain(`--${option}`);
    }
  });

  it("refuses a wrong option with exit code 2 and its name", async () => {
    const { code, err } = await sim(["--url", "nowhere"]);
    expect(code).toBe(2);
    expect(err).toContain(
      'sim: --url takes an address such as mqtt://127.0.0.1:1883, not "nowhere"\n(--help lists the options)',
    );
    const unwritable = await sim(["--scenario", "steady-heat", "--out", "/nowhere/at/all.json"]);
    expect(unwritable.code).toBe(2);
    expect(unwritable.err).toContain("--out: ENOENT");
  });

  it("writes a night file that is one, with asks and what they must bring", async () => {
    const path = join(folder, "night.json");
    const { code } = await sim(["--scenario", "steady-heat", "--from", "2026-02-03T18:00:00Z", "--out", path]);
    expect(code).toBe(0);
    const file = readNightFile(JSON.parse(await readFile(path, "utf8")));
    if (!file.ok) throw new Error(JSON.stringify(file.faults));
    expect(file.value.ask).toEqual([{ atMs: Date.UTC(2026, 1, 3, 18), zone: "floor" }]);
    expect(file.value.expect).toHaveLength(1);
    expect(file.value.log.series.find((series) => series.quantity === "slab")?.atMs).toHaveLength(54 * 12 + 1);
  });

  it("publishes to a broker with a password, the past first, and leaves in order on Ctrl-C", async () => {
    const broker = await startMosquitto({ users: { node: "a-long-password" } });
    try {
      const login = { username: "node", password: "a-long-password" };
      const client = await connectAsync(broker.url, { protocolVersion: 4, ...login });
      const presence = new Map<string, string>();
      let packs = 0;
      client.on("message", (topic, payload) => {
        if (topic.endsWith("/presence")) presence.set(topic, payload.toString());
        else packs += 1;
      });
      await client.subscribeAsync("nightslab/v1/yard/node/#", { qos: 1 });
      const args = [
        "--url",
        broker.url,
        "--username",
        "node",
        "--password",
        "a-long-password",
        "--site",
        "yard",
        "--scenario",
        "steady-heat",
        "--backfill",
        "6",
      ];
      const { code, out } = await sim(args, (text) => text.includes("the nodes are live"));
      expect(code).toBe(0);
      expect(out).toContain("73 rounds of the past wait");
      expect(packs).toBeGreaterThanOrEqual(7);
      expect([...presence]).toEqual([["nightslab/v1/yard/node/n1/presence", "offline"]]);
      await client.endAsync();

      const refused = await sim(["--url", broker.url, "--username", "node", "--password", "wrong"]);
      expect(refused.code).toBe(1);
      expect(refused.err).toContain("the broker refuses --username and --password");
    } finally {
      await broker.stop();
    }
  });
});
