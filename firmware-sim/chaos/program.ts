// Programs of a trial: started, watched until a port opens, killed, and never left behind.
import { type ChildProcess, spawn } from "node:child_process";
import { connect, createServer } from "node:net";

const running = new Set<ChildProcess>();
process.on("exit", () => {
  for (const child of running) child.kill("SIGKILL");
});

export interface Program {
  readonly child: ChildProcess;
  /** The end of what it has written. */
  said(): string;
  readonly ended: Promise<void>;
  /** Resolves when it has gone. */
  end(signal: NodeJS.Signals): Promise<void>;
}

const KEPT_CHARS = 20_000;

export function startProgram(
  command: string,
  args: readonly string[],
  options: { readonly cwd: string; readonly env: Record<string, string>; readonly message?: boolean },
): Program {
  const child = spawn(command, args, {
    cwd: options.cwd,
    env: options.env,
    stdio: ["ignore", "pipe", "pipe", ...(options.message === true ? (["ipc"] as const) : [])],
  });
  running.add(child);
  let text = "";
  for (const output of [child.stdout, child.stderr])
    output?.setEncoding("utf8").on("data", (piece: string) => (text = (text + piece).slice(-KEPT_CHARS)));
  const ended = new Promise<void>((resolve) => {
    child.once("error", (error) => {
      text += error.message;
      running.delete(child);
      resolve();
    });
    child.once("close", () => {
      running.delete(child);
      resolve();
    });
  });
  return {
    child,
    said: () => text,
    ended,
    async end(signal) {
      child.kill(signal);
      await ended;
    },
  };
}

export const sleep = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

/** Asks again until it is so. Throws with the words given after the time is over. */
export async function until(
  isSo: () => boolean | Promise<boolean>,
  withinMs: number,
  what: () => string,
): Promise<void> {
  const deadlineMs = performance.now() + withinMs;
  while (!(await isSo())) {
    if (performance.now() > deadlineMs) throw new Error(what());
    await sleep(25);
  }
}

export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once("error", reject);
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => resolve(typeof address === "object" && address !== null ? address.port : 0));
    });
  });
}

export function accepts(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1");
    const answer = (open: boolean) => {
      socket.destroy();
      resolve(open);
    };
    socket.once("connect", () => answer(true));
    socket.once("error", () => answer(false));
  });
}
