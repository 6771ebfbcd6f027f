// Where the program stands on the disk, the same from its sources and as it is built.
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** The folder of package.json above this file. */
export function home(from = fileURLToPath(import.meta.url)): string {
  const folder = dirname(from);
  if (existsSync(join(folder, "package.json"))) return folder;
  if (folder === from) throw new Error("the program has no package.json above it");
  return home(folder);
}
