// Starts a real InfluxDB 1.6 on free loopback ports with a folder of its own, and asks for a password as a careful house does.
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { programPath } from "../../.ci/programs.ts";
import type { InfluxTarget } from "../../server/store/influx-target.ts";
import { freePort } from "./free-port.ts";

export interface RunningInflux {
  readonly url: string;
  /** A database of its own for whoever asks. */
  database(name: string): Promise<InfluxTarget>;
  /** Any statement, as the administrator; gives the rows of the first series. */
  ask(statement: string, database?: string): Promise<unknown[][]>;
  /** Writes a line as some other program would. */
  writeLine(database: string, line: string): Promise<void>;
  kill(): Promise<void>;
  /** Starts again on the same port with the same data. */
  restart(): Promise<void>;
  stop(): Promise<void>;
}

const START_WITHIN_MS = 60_000;
const USER = "tide";
const PASSWORD = "ebb-and-flow";
const AUTHORIZATION = `Basic ${Buffer.from(`${USER}:${PASSWORD}`).toString("base64")}`;

export async function startInflux(): Promise<RunningInflux> {
  const folder = await mkdtemp(join(tmpdir(), "nightslab-influx-"));
  const [port, rpcPort] = [await freePort(), await freePort()];
  const url = `http://127.0.0.1:${port}`;
  let child: ChildProcess | null = null;
  let log = "";

  const kill = async (): Promise<void> => {
    const running = child;
    child = null;
    if (running === null || running.exitCode !== null || running.signalCode !== null) return;
    const ended = new Promise<void>((resolve) => running.once("exit", () => resolve()));
    running.kill("SIGKILL");
    await ended;
  };
  const start = async (): Promise<void> => {
    const started = spawn(programPath("influxd"), ["run"], {
      cwd: folder,
      stdio: ["ignore", "ignore", "pipe"],
      env: {
        HOME: folder,
        // Its default binds every address of the machine, and tells its maker that it runs.
        INFLUXDB_BIND_ADDRESS: `127.0.0.1:${rpcPort}`,
        INFLUXDB_HTTP_BIND_ADDRESS: `127.0.0.1:${port}`,
        INFLUXDB_REPORTING_DISABLED: "true",
        INFLUXDB_META_DIR: join(folder, "meta"),
        INFLUXDB_DATA_DIR: join(folder, "data"),
        INFLUXDB_DATA_WAL_DIR: join(folder, "wal"),
        INFLUXDB_MONITOR_STORE_ENABLED: "false",
        INFLUXDB_HTTP_LOG_ENABLED: "false",
        INFLUXDB_HTTP_AUTH_ENABLED: "true",
      },
    });
    child = started;
    started.stderr?.setEncoding("utf8").on("data", (piece: string) => (log = (log + piece).slice(-4000)));
    const deadline = performance.now() + START_WITHIN_MS;
    for (;;) {
      const answer = await fetch(`${url}/ping`).catch(() => null);
      if (answer?.status === 204) return;
      if (started.exitCode !== null || started.signalCode !== null || performance.now() > deadline) {
        await kill();
        throw new Error(`influxd did not start on port ${port}:\n${log}`);
      }
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  };
  const ask = async (statement: string, database = ""): Promise<unknown[][]> => {
    const answer = await fetch(`${url}/query?db=${database}&epoch=ms`, {
      method: "POST",
      headers: { authorization: AUTHORIZATION },
      body: new URLSearchParams({ q: statement }),
    });
    const body = (await answer.json()) as {
      error?: string;
      results?: { error?: string; series?: { values: unknown[][] }[] }[];
    };
    const error = body.error ?? body.results?.[0]?.error;
    if (error !== undefined) throw new Error(`${statement}: ${error}`);
    return body.results?.[0]?.series?.[0]?.values ?? [];
  };

  await start();
  await ask(`CREATE USER "${USER}" WITH PASSWORD '${PASSWORD}' WITH ALL PRIVILEGES`);
  return {
    url,
    ask,
    async database(name) {
      await ask(`CREATE DATABASE "${name}"`);
      const token = `${USER}:${PASSWORD}`;
      return { url, version: 1, org: null, bucket: name, database: name, retentionPolicy: null, token };
    },
    async writeLine(database, line) {
      const answer = await fetch(`${url}/write?db=${database}&precision=ms`, {
        method: "POST",
        headers: { authorization: AUTHORIZATION },
        body: line,
      });
      if (!answer.ok) throw new Error(`${line}: ${await answer.text()}`);
    },
    kill,
    restart: async () => {
      await kill();
      await start();
    },
    async stop() {
      await kill();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
