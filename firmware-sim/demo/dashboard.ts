// Builds the dashboard when it is missing or older than what it is made of.
import { existsSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";

/** Newest change below a folder, epoch ms; built and fetched things are passed over. */
function newestMs(folder: string): number {
  let newest = 0;
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    if (["dist", "node_modules"].includes(entry.name) || entry.name.startsWith(".")) continue;
    const path = join(folder, entry.name);
    newest = Math.max(newest, entry.isDirectory() ? newestMs(path) : statSync(path).mtimeMs);
  }
  return newest;
}

export function dashboardIsFresh(root: string): boolean {
  const page = join(root, "dashboard", "dist", "index.html");
  if (!existsSync(page)) return false;
  const sources = ["dashboard", "server/core", "server/contract"].map((folder) => newestMs(join(root, folder)));
  return statSync(page).mtimeMs >= Math.max(...sources);
}

/** A few seconds of work; nothing when the build is fresh. */
export async function buildDashboard(root: string, say: (text: string) => void): Promise<void> {
  if (dashboardIsFresh(root)) return;
  say("building the dashboard ...");
  const { build } = await import("vite");
  await build({
    root: join(root, "dashboard"),
    configFile: join(root, "dashboard", "vite.config.ts"),
    logLevel: "warn",
  });
}
