// The server as its own process, as people start it: settings in the environment, killed or asked to stop.
import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const START_WITHIN_MS = 60_000;

export interface ServerProcess {
  pid: number;
  httpUrl: string;
  mqttUrl: string;
  log(): string;
  signal(name: NodeJS.Signals): void;
  /** Exit code, or null when a signal ended it. */
  ended: Promise<number | null>;
}

/** Starts the server, from its sources unless a build is named, and waits until its doors are open; what it says when it cannot is in the error. */
export async function startServer(env: Record<string, string>, built?: string): Promise<ServerProcess> {
  const child: ChildProcess = spawn(
    process.execPath,
    built === undefined ? ["--import", "tsx", "server/main.ts"] : [built],
    {
      cwd: ROOT,
      env: { PATH: process.env["PATH"] ?? "", NIGHTSLAB_HTTP_PORT: "0", NIGHTSLAB_MQTT_PORT: "0", ...env },
      stdio: ["ignore", "pipe", "pipe"],
    },
  );
  let text = "";
  const ended = new Promise<number | null>((resolve) => child.once("close", (code) => resolve(code)));
  for (const output of [child.stdout, child.stderr])
    output?.setEncoding("utf8").on("data", (piece: string) => (text += piece));
  const deadline = performance.now() + START_WITHIN_MS;
  for (;;) {
    const ready = text.split("\n").find((line) => line.includes('"msg":"ready"'));
    if (ready !== undefined) {
      const { httpUrl, mqttUrl } = JSON.parse(ready) as { httpUrl: string; mqttUrl: string };
      return {
        pid: child.pid ?? -1,
        httpUrl,
        mqttUrl,
        log: () => text,
        signal: (name) => void child.kill(name),
        ended,
      };
    }
    if (child.exitCode !== null || performance.now() > deadline) {
      child.kill("SIGKILL");
      throw new Error(`exit code ${child.exitCode}: ${text}`);
    }
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
}

/** Asks the API of a server over its own address. */
export async function askApi(
  url: string,
  method: string,
  path: string,
  body?: unknown,
): Promise<{ status: number; body: unknown }> {
  const answer = await fetch(`${url}/api/v1${path}`, {
    method,
    ...(body === undefined ? {} : { headers: { "content-type": "application/json" }, body: JSON.stringify(body) }),
  });
  const text = await answer.text();
  return { status: answer.status, body: text === "" ? null : (JSON.parse(text) as unknown) };
}
