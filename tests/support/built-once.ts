// Builds a program as it is shipped, once for all test files of a run that find it fresh.
import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdir, readdir, rename, rm, rmdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";

const root = new URL("../../", import.meta.url).pathname;
const run = promisify(execFile);
/** Inside the project, since packages are looked up from there. */
const shelves = join(root, "node_modules/.cache/nightslab");
const KEEP_MS = 6 * 3_600_000;
/** Whoever builds for longer has died over it. */
const BUILD_WITHIN_MS = 120_000;

interface Program {
  /** Folder with the settings of its build. */
  readonly root: string;
  readonly sources: readonly string[];
  /** The file that is there when it is built. */
  readonly entry: string;
}

async function newest(folder: string): Promise<number> {
  let newestMs = 0;
  for (const item of await readdir(folder, { withFileTypes: true, recursive: true })) {
    if (!item.isFile() || item.parentPath.includes("/dist")) continue;
    newestMs = Math.max(newestMs, (await stat(join(item.parentPath, item.name))).mtimeMs);
  }
  return newestMs;
}

/** Removes builds that no run of today can still be using. */
async function removeOld(shelf: string): Promise<void> {
  for (const name of await readdir(shelf)) {
    const folder = join(shelf, name);
    if (Date.now() - (await stat(folder)).mtimeMs > KEEP_MS) await rm(folder, { recursive: true, force: true });
  }
}

/** True for one of all that ask at a time; the folder is the lock, since only one can make it. */
async function holds(lock: string): Promise<boolean> {
  return mkdir(lock).then(
    () => true,
    () => false,
  );
}

async function build(program: Program, out: string): Promise<void> {
  // By the command that ships it, and not in this process: a test runner's NODE_ENV would build another program.
  const vite = join(root, "node_modules/vite/bin/vite.js");
  const fresh = `${out}-fresh-${process.pid}`;
  const args = [vite, "build", program.root, "--outDir", fresh, "--emptyOutDir", "--logLevel", "warn"];
  await run(process.execPath, args, { cwd: root, env: { ...process.env, NODE_ENV: "production" } });
  // Renamed into place whole; whoever comes second finds it there and leaves it.
  await rename(fresh, out).catch(() => rm(fresh, { recursive: true, force: true }));
}

/**
 * The folder with the built program, one for each state of the sources: test files run side by side, and one must not
 * take away what another uses. Who finds another building waits for it.
 */
export async function builtOnce(program: Program): Promise<string> {
  const shelf = join(shelves, program.root);
  const sourcesMs = Math.max(...(await Promise.all(program.sources.map((folder) => newest(join(root, folder))))));
  const out = join(shelf, String(Math.round(sourcesMs)));
  const isThere = () => existsSync(join(out, program.entry));
  if (isThere()) return out;
  await mkdir(shelf, { recursive: true });
  const lock = `${out}-lock`;
  const deadline = performance.now() + BUILD_WITHIN_MS;
  while (!isThere()) {
    const mine = await holds(lock);
    if (!mine && performance.now() < deadline) {
      await new Promise((resolve) => setTimeout(resolve, 100));
      continue;
    }
    try {
      if (!isThere()) {
        await removeOld(shelf);
        await build(program, out);
      }
    } finally {
      await rmdir(lock).catch(() => undefined);
    }
  }
  return out;
}
