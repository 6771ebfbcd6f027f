// Builds the dashboard as it is shipped, once for all browser tests of a run that find it fresh.
import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdir, readdir, rename, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";

const root = new URL("../../", import.meta.url).pathname;
const sources = ["dashboard", "server/core", "server/contract"];
const run = promisify(execFile);
const shelf = join(root, "node_modules/.cache/nightslab/dashboards");
const KEEP_MS = 6 * 3_600_000;

async function newest(folder: string): Promise<number> {
  let newestMs = 0;
  for (const item of await readdir(folder, { withFileTypes: true, recursive: true })) {
    if (!item.isFile() || item.parentPath.includes("/dist")) continue;
    newestMs = Math.max(newestMs, (await stat(join(item.parentPath, item.name))).mtimeMs);
  }
  return newestMs;
}

/** Removes builds that no run of today can still be serving. */
async function removeOld(): Promise<void> {
  for (const name of await readdir(shelf)) {
    const folder = join(shelf, name);
    if (Date.now() - (await stat(folder)).mtimeMs > KEEP_MS) await rm(folder, { recursive: true, force: true });
  }
}

/**
 * The folder with the built dashboard, one for each state of the sources: test files run side by side, and one must not
 * take away what another serves.
 */
export async function builtDashboard(): Promise<string> {
  const sourcesMs = Math.max(...(await Promise.all(sources.map((folder) => newest(join(root, folder))))));
  const out = join(shelf, String(Math.round(sourcesMs)));
  if (existsSync(join(out, "index.html"))) return out;
  const fresh = join(shelf, `fresh-${process.pid}`);
  await mkdir(fresh, { recursive: true });
  await removeOld();
  // By the command that ships it, and not in this process: a test runner's NODE_ENV would build another program.
  const vite = join(root, "node_modules/vite/bin/vite.js");
  const args = [vite, "build", "dashboard", "--outDir", fresh, "--emptyOutDir", "--logLevel", "warn"];
  await run(process.execPath, args, { cwd: root, env: { ...process.env, NODE_ENV: "production" } });
  // Renamed into place whole; whoever comes second finds it there and leaves it.
  await rename(fresh, out).catch(() => rm(fresh, { recursive: true, force: true }));
  return out;
}
