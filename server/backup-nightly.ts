// A backup each night: made by the command in a process of its own, so that nobody waits for it; old ones go.
import { spawn } from "node:child_process";
import { readdirSync, rmSync } from "node:fs";
import { constants, setPriority } from "node:os";
import { join } from "node:path";
import type { PartHealth } from "#contract/health.ts";
import { backupName, isBackupName } from "./backup-name.ts";
import { home } from "./home.ts";

export interface NightlyParts {
  readonly data: string;
  readonly dir: string;
  readonly keep: number;
  readonly nowMs: () => number;
  readonly failed: (error: Error) => void;
  readonly made: (path: string) => void;
}

function runCommand(data: string, to: string): { readonly done: Promise<string | null>; kill(): void } {
  const child = spawn(process.execPath, ["--import", "tsx", "server/backup.ts", "--data", data, "--to", to], {
    cwd: home(),
    env: { PATH: process.env["PATH"] ?? "" },
    stdio: ["ignore", "ignore", "pipe"],
  });
  // It must not take the machine from the judge.
  if (child.pid !== undefined) setPriority(child.pid, constants.priority.PRIORITY_BELOW_NORMAL);
  let said = "";
  child.stderr.setEncoding("utf8").on("data", (text: string) => (said += text));
  const done = new Promise<string | null>((resolve) => {
    child.once("error", (error) => resolve(error.message));
    child.once("close", (code) => {
      if (code === 0) resolve(null);
      else
        resolve(
          code === 1 ? "it was made, and the chain of evidence in it is broken" : said.trim() || `ended with ${code}`,
        );
    });
  });
  return { done, kill: () => void child.kill("SIGTERM") };
}

/** Backups of a folder, newest first. */
export function backupsIn(dir: string): string[] {
  return readdirSync(dir).filter(isBackupName).sort().reverse();
}

export function createNightly({ data, dir, keep, nowMs, failed, made }: NightlyParts) {
  let going: { readonly done: Promise<void>; kill(): void } | null = null;
  let failure: string | null = null;
  const finish = (path: string, reason: string | null): void => {
    try {
      if (reason !== null) throw new Error(reason);
      for (const old of backupsIn(dir).slice(keep)) rmSync(join(dir, old), { force: true });
      failure = null;
      made(path);
    } catch (error) {
      failure = error instanceof Error ? error.message : String(error);
      failed(error instanceof Error ? error : new Error(failure));
    }
  };
  return {
    /** Begins one, unless one is going on. */
    begin(): void {
      if (going !== null) return;
      const path = join(dir, backupName(nowMs()));
      const { done, kill } = runCommand(data, path);
      going = {
        kill,
        done: done.then((reason) => {
          going = null;
          finish(path, reason);
        }),
      };
    },
    /** Null while nothing is wrong. */
    health: (): PartHealth | null =>
      failure === null ? null : { state: "degraded", detail: `the last backup failed: ${failure}` },
    /** Cuts off what is going on: it leaves no file with the name of a backup. */
    async close(): Promise<void> {
      const last = going;
      last?.kill();
      await last?.done;
    },
  };
}
