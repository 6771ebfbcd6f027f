// Playwright limits what it waits for, but not a script in the page or a change of its size: those could stand for ever.
import { setTimeout as rest } from "node:timers/promises";

/** As busy as a machine that tests may be: no step of a page has been seen to take a quarter of it. */
const LIMIT_MS = 45_000;

/** What the step gives, or an error that names it when the browser never answers. */
export async function inTime<T>(what: string, step: Promise<T>, limitMs: number = LIMIT_MS): Promise<T> {
  const over = new AbortController();
  const late = rest(limitMs, null, { signal: over.signal }).then(() => {
    throw new Error(`the browser did not answer within ${limitMs} ms: ${what}`);
  });
  // Called off below when the step is the first to end.
  late.catch(() => {});
  try {
    return await Promise.race([step, late]);
  } finally {
    over.abort();
  }
}
