// One server per data folder: held by the system for as long as the process lives, so that no kill can leave it behind.
import { join } from "node:path";
import Libsql from "libsql";

export interface FolderLock {
  release(): void;
}

export function lockFolder(folder: string): FolderLock {
  const db = new Libsql(join(folder, "server.lock"));
  try {
    db.pragma("journal_mode = MEMORY");
    db.exec("BEGIN EXCLUSIVE");
  } catch (error) {
    db.close();
    if ((error as { code?: string }).code === "SQLITE_BUSY")
      throw new Error(`another server is running on the data folder ${folder}`);
    throw error;
  }
  return {
    release() {
      if (!db.open) return;
      db.exec("ROLLBACK");
      db.close();
    },
  };
}
