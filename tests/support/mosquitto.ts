// Starts a real Mosquitto broker on a free loopback port, with persistence on and nothing dropped from its queues.
import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { connect } from "node:net";
import { tmpdir, userInfo } from "node:os";
import { join } from "node:path";
import { freePort } from "./free-port.ts";
import { programPath } from "../../.ci/programs.ts";

export interface MosquittoWishes {
  /** Name to password. When given, nobody may connect without one of them. */
  users?: Record<string, string>;
  /** Text of the access list file, in Mosquitto's own syntax. */
  acl?: string;
  /** More lines of mosquitto.conf. */
  extra?: string[];
  /** A port of the caller's choice instead of a free one: to come back where clients expect it. */
  port?: number;
}

export interface RunningMosquitto {
  url: string;
  port: number;
  /** What the broker has written so far. */
  log(): string;
  /** Stops and starts again on the same port with the same data; `kill` pulls the plug instead of asking. */
  restart(how: "ask" | "kill"): Promise<void>;
  /** Stops the process only; `restart` brings it back. */
  halt(how: "ask" | "kill"): Promise<void>;
  /** Stops the broker and deletes its folder. */
  stop(): Promise<void>;
}

const startWithinMs = 40_000;

/** True once something accepts on the port. */
function accepts(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect({ host: "127.0.0.1", port });
    const answer = (value: boolean) => {
      socket.destroy();
      resolve(value);
    };
    socket.once("connect", () => answer(true));
    socket.once("error", () => answer(false));
  });
}

async function writeConfig(folder: string, port: number, wishes: MosquittoWishes): Promise<string> {
  const lines = [
    `listener ${port} 127.0.0.1`,
    // As root Mosquitto changes to a user of its own, who may not write into a test's folder.
    `user ${userInfo().username}`,
    "persistence true",
    `persistence_location ${folder}/`,
    "autosave_interval 1",
    // The default of 1000 drops acknowledged messages of a client that is away.
    "max_queued_messages 0",
    `allow_anonymous ${wishes.users === undefined}`,
  ];
  if (wishes.users !== undefined) {
    const file = join(folder, "passwords");
    await writeFile(file, "", { mode: 0o600 });
    for (const [name, password] of Object.entries(wishes.users)) {
      const done = spawnSync(programPath("mosquitto_passwd"), ["-b", file, name, password], { encoding: "utf8" });
      if (done.status !== 0) throw new Error(`mosquitto_passwd refused '${name}': ${done.stderr}`);
    }
    lines.push(`password_file ${file}`);
  }
  if (wishes.acl !== undefined) {
    const file = join(folder, "acl");
    await writeFile(file, `${wishes.acl}\n`, { mode: 0o600 });
    lines.push(`acl_file ${file}`);
  }
  const config = join(folder, "mosquitto.conf");
  await writeFile(config, `${[...lines, ...(wishes.extra ?? [])].join("\n")}\n`);
  return config;
}

/** A broker that accepts connections by the time the promise resolves. */
export async function startMosquitto(wishes: MosquittoWishes = {}): Promise<RunningMosquitto> {
  const folder = await mkdtemp(join(tmpdir(), "nightslab-mosquitto-"));
  let written = "";
  let child: ChildProcess | null = null;
  let port = wishes.port ?? (await freePort());
  let config = await writeConfig(folder, port, wishes);

  const halt = async (how: "ask" | "kill"): Promise<void> => {
    const running = child;
    child = null;
    if (running === null || running.exitCode !== null || running.signalCode !== null) return;
    const ended = new Promise<void>((resolve) => running.once("exit", () => resolve()));
    running.kill(how === "ask" ? "SIGTERM" : "SIGKILL");
    await ended;
  };

  const start = async (): Promise<void> => {
    const before = written.length;
    const started = spawn(programPath("mosquitto"), ["-c", config], { stdio: ["ignore", "pipe", "pipe"] });
    child = started;
    for (const output of [started.stdout, started.stderr]) {
      output.setEncoding("utf8").on("data", (text: string) => {
        written += text;
      });
    }
    const deadline = performance.now() + startWithinMs;
    while (!(await accepts(port)) || started.exitCode !== null) {
      if (started.exitCode !== null || performance.now() > deadline) {
        await halt("kill");
        throw new Error(`mosquitto did not start on port ${port}:\n${written.slice(before)}`);
      }
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  };

  const stop = async (): Promise<void> => {
    await halt("ask");
    await rm(folder, { recursive: true, force: true });
  };

  try {
    await start();
  } catch (failure) {
    // A free port can be taken by somebody else between asking and binding: once more with another one.
    if (wishes.port !== undefined || !written.includes("Address already in use")) {
      await stop();
      throw failure;
    }
    port = await freePort();
    config = await writeConfig(folder, port, wishes);
    await start().catch(async (second: unknown) => {
      await stop();
      throw second;
    });
  }

  return {
    url: `mqtt://127.0.0.1:${port}`,
    port,
    log: () => written,
    halt,
    async restart(how) {
      await halt(how);
      await start();
    },
    stop,
  };
}
