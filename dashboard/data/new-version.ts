// A newer version of the page that waits for somebody to want it.
import { signalOf } from "./signal.ts";

/** Puts it in place and loads it; null while there is none. */
export const newVersion = signalOf<(() => void) | null>(null);
