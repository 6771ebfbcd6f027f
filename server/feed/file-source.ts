// Reads a weather feed from a file that something else writes, inside one folder and never outside of it.
import { open, realpath } from "node:fs/promises";
import { isAbsolute, relative, resolve, sep } from "node:path";
import { failed, type SourceAnswer, type SourceLimits } from "./http-source.ts";

const FIELD = "/source/file";

function isInside(folder: string, path: string): boolean {
  const way = relative(folder, path);
  return way !== "" && way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}

/** `folder` null = the setting names none. Links are followed and must end inside as well. Never throws. */
export async function readFile(folder: string | null, file: string, { maxBytes }: SourceLimits): Promise<SourceAnswer> {
  const no = (reason: string) => failed(reason, null, FIELD);
  if (folder === null) return no("cannot be read: the setting feedDir names no folder");
  if (file.includes("\0") || !isInside(resolve(folder), resolve(folder, file)))
    return no("is outside of the folder feedDir");
  try {
    const path = await realpath(resolve(folder, file));
    if (!isInside(await realpath(folder), path)) return no("leads out of the folder feedDir");
    const handle = await open(path, "r");
    try {
      const found = await handle.stat();
      if (!found.isFile()) return no("is not a file");
      if (found.size > maxBytes) return no(`is larger than ${maxBytes / 1024 / 1024} MiB`);
      return { kind: "text", text: await handle.readFile("utf8"), etag: null, lastModified: null };
    } finally {
      await handle.close();
    }
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? "unknown";
    return no(code === "ENOENT" ? "is not there" : `cannot be read (${code})`);
  }
}
