// Keeps small things on this device. Storage can be missing or full: then the board works, it only forgets.

export interface Keep {
  read(key: string): unknown;
  /** False where there was no room for it. */
  write(key: string, value: unknown): boolean;
  /** Forgets every key that begins so. */
  drop(prefix: string): void;
}

const PREFIX = "nightslab.";

export const deviceKeep: Keep = {
  read(key) {
    try {
      const text = globalThis.localStorage.getItem(PREFIX + key);
      return text === null ? null : (JSON.parse(text) as unknown);
    } catch {
      return null;
    }
  },
  write(key, value) {
    try {
      globalThis.localStorage.setItem(PREFIX + key, JSON.stringify(value));
      return true;
    } catch {
      // A full or forbidden storage must not stop the board.
      return false;
    }
  },
  drop(prefix) {
    try {
      for (const key of Object.keys(globalThis.localStorage))
        if (key.startsWith(PREFIX + prefix)) globalThis.localStorage.removeItem(key);
    } catch {
      // Nothing could be kept either.
    }
  },
};
