// The demo from outside, as a stranger runs it: five calls, a page, a clear word when the port is taken, a clean stop.
import { type ChildProcess, spawn } from "node:child_process";
import { createServer } from "node:net";
import { existsSync } from "node:fs";
import { mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { BoardBody } from "#contract/board.ts";

const root = new URL("../..", import.meta.url).pathname;

interface Running {
  readonly child: ChildProcess;
  readonly out: () => string;
  readonly err: () => string;
  readonly done: Promise<number | null>;
}

/** As the npm script runs it: without a runner in between, which would kill it before it has stopped in order. */
function demo(args: readonly string[], tmp: string): Running {
  const child = spawn(process.execPath, ["--import", "tsx", "firmware-sim/demo.ts", ...args], {
    cwd: root,
    env: { ...process.env, TMPDIR: tmp },
  });
  let out = "";
  let err = "";
  child.stdout.on("data", (data: Buffer) => {
    out += data.toString();
  });
  child.stderr.on("data", (data: Buffer) => {
    err += data.toString();
  });
  const done = new Promise<number | null>((resolve, reject) => {
    child.once("error", reject);
    child.once("close", resolve);
  });
  return { child, out: () => out, err: () => err, done };
}

async function until(what: string, holds: () => boolean, seconds: number): Promise<void> {
  for (let i = 0; i < seconds * 20; i++) {
    if (holds()) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`waited in vain until ${what}`);
}

let tmp: string;
beforeAll(async () => {
  tmp = await mkdtemp(join(tmpdir(), "nightslab-demo-test-"));
});
afterAll(() => rm(tmp, { recursive: true, force: true }));

describe("npm run demo", () => {
  it("--once says the five calls and ends well, leaving nothing behind", async () => {
    const run = demo(["--once", "--port", "0"], tmp);
    expect(await run.done, run.err()).toBe(0);
    for (const line of [
      /Clubroom +POUR$/m,
      /Launch bay +WAIT +night-dew$/m,
      /Workshop +ABRADE +window-closed$/m,
      /Entrance hall +FINISHED$/m,
      /Oar store +WAIT +data-stale$/m,
    ]) {
      expect(run.out()).toMatch(line);
    }
    expect((await readdir(tmp)).filter((name) => name.startsWith("nightslab-demo-"))).toEqual([]);
  }, 120_000);

  it("shows the board in a time-lapse, keeps --data, and stops on Ctrl-C", async () => {
    const data = join(tmp, "kept");
    const run = demo(["--port", "0", "--pace", "600", "--data", data], tmp);
    await until("it is ready", () => run.out().includes("Ctrl-C stops."), 100);
    const url = /Open (http:\/\/127\.0\.0\.1:\d+)/.exec(run.out())?.[1] ?? "";
    const page = await fetch(url);
    expect(page.status).toBe(200);
    expect(await page.text()).toContain("<div id=");
    const board = async () => (await (await fetch(`${url}/api/v1/sites/heron-reach/board`)).json()) as BoardBody;
    const before = await board();
    expect(before.pace).toBe(600);
    expect(before.nodes.find(({ node }) => node.id === "oars-1")?.presence).toBe("offline");
    const heard = (body: BoardBody) =>
      Date.parse(body.zones.find(({ zone }) => zone.id === "launch-bay")?.lastHeard ?? "");
    let after = before;
    for (let i = 0; i < 100 && heard(after) - heard(before) < 900_000; i++) {
      await new Promise((resolve) => setTimeout(resolve, 100));
      after = await board();
    }
    // Three more rounds of the night came in while a few seconds went by.
    expect(heard(after) - heard(before)).toBeGreaterThanOrEqual(900_000);
    run.child.kill("SIGINT");
    expect(await run.done, run.err()).toBe(0);
    expect(run.out()).toMatch(/stopped\n$/);
    expect(existsSync(data)).toBe(true);
    expect((await readdir(data)).length).toBeGreaterThan(0);
  }, 150_000);

  it("says so when the port is taken", async () => {
    const server = createServer();
    const port = await new Promise<number>((resolve) =>
      server.listen(0, "127.0.0.1", () => resolve((server.address() as { port: number }).port)),
    );
    const run = demo(["--port", String(port)], tmp);
    expect(await run.done).toBe(2);
    expect(run.err()).toContain(`port ${port} on 127.0.0.1 is taken; choose another with --port N`);
    await new Promise((resolve) => server.close(resolve));
  }, 60_000);
});
