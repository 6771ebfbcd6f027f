// An exported job as it is read back: a zip file or the folder that it was unpacked into.
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { unzipSync } from "fflate";

/** Contents by their path inside the job. */
export type JobContents = ReadonlyMap<string, Uint8Array>;

function readFolder(root: string): JobContents {
  const found = new Map<string, Uint8Array>();
  const walk = (folder: string) => {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) walk(path);
      else if (entry.isFile()) found.set(relative(root, path).split(sep).join("/"), readFileSync(path));
    }
  };
  walk(root);
  return found;
}

/** Throws if it cannot be read: not there, not a zip file, cut off. */
export function readJob(path: string): JobContents {
  if (statSync(path).isDirectory()) return readFolder(path);
  const wanted = (name: string) => /^(README\.txt|job\.json|chain\/|photos\/)/.test(name);
  return new Map(Object.entries(unzipSync(readFileSync(path), { filter: ({ name }) => wanted(name) })));
}
