// What must be gone when the bench ends, even when it is broken off: temporary folders, and programs that it started.
import { rmSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

const leftovers = new Set<() => void>();
process.once("exit", () => {
  for (const clear of leftovers) clear();
});

/** Calls `clear` when the process ends; it must do its work before it returns. Gives a function that forgets it. */
export function atExit(clear: () => void): () => void {
  leftovers.add(clear);
  return () => void leftovers.delete(clear);
}

export interface TemporaryFolder {
  readonly path: string;
  remove(): Promise<void>;
}

export async function temporaryFolder(): Promise<TemporaryFolder> {
  const path = await mkdtemp(join(tmpdir(), "nightslab-bench-"));
  const forget = atExit(() => rmSync(path, { recursive: true, force: true }));
  return {
    path,
    async remove() {
      forget();
      await rm(path, { recursive: true, force: true });
    },
  };
}
