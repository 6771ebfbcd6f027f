// Builds the dashboard as it is shipped, once for all browser tests of a run that find it fresh.
import { mkdir, readdir, rename, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { build } from "vite";

const root = new URL("../../", import.meta.url).pathname;
const sources = ["dashboard", "server/core", "server/contract"];
const out = join(root, "node_modules/.cache/nightslab/dashboard");

async function newest(folder: string): Promise<number> {
  let newestMs = 0;
  for (const item of await readdir(folder, { withFileTypes: true, recursive: true })) {
    if (!item.isFile() || item.parentPath.includes("/dist")) continue;
    newestMs = Math.max(newestMs, (await stat(join(item.parentPath, item.name))).mtimeMs);
  }
  return newestMs;
}

/** The folder with the built dashboard: built again when a source is newer than the last build. */
export async function builtDashboard(): Promise<string> {
  const builtMs = await stat(join(out, "index.html")).then(
    (found) => found.mtimeMs,
    () => 0,
  );
  const sourcesMs = Math.max(...(await Promise.all(sources.map((folder) => newest(join(root, folder))))));
  if (builtMs > sourcesMs) return out;
  const fresh = `${out}.${process.pid}`;
  await mkdir(fresh, { recursive: true });
  await build({
    root: join(root, "dashboard"),
    configFile: join(root, "dashboard/vite.config.ts"),
    logLevel: "warn",
    build: { outDir: fresh, emptyOutDir: true },
  });
  // Renamed into place, so that a test file running beside this one never serves half a build.
  await rm(out, { recursive: true, force: true });
  await rename(fresh, out).catch(() => rm(fresh, { recursive: true, force: true }));
  return out;
}
