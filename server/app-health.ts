// How the parts of the server say that they work.
import type { PartHealth } from "#contract/health.ts";

/** An error of the judge is shown for this long. */
const TROUBLE_MS = 10 * 60_000;

export interface Troubles {
  add(what: string, error: unknown): void;
  health(): PartHealth;
}

/** Errors of the last minutes, by where they happened. */
export function createTroubles(): Troubles {
  const troubles = new Map<string, { readonly sinceMs: number; readonly message: string }>();
  return {
    add: (what, error) =>
      void troubles.set(what, {
        sinceMs: performance.now(),
        message: error instanceof Error ? error.message : String(error),
      }),
    health() {
      const sinceMs = performance.now() - TROUBLE_MS;
      for (const [what, trouble] of troubles) if (trouble.sinceMs < sinceMs) troubles.delete(what);
      const said = [...troubles].slice(0, 5).map(([what, { message }]) => `${what}: ${message}`);
      return said.length === 0 ? { state: "up", detail: null } : { state: "degraded", detail: said.join("; ") };
    },
  };
}

export function storeHealth(failure: string | null): PartHealth {
  if (failure === null) return { state: "up", detail: null };
  return { state: "down", detail: `${failure}; readings are not acknowledged until it works again` };
}

/** Feeds that cannot be read or are not believed: the server works on without them, with less foresight. */
export function feedsHealth(feeds: readonly { readonly site: string; readonly why: string | null }[]): PartHealth {
  const said = feeds.flatMap(({ site, why }) => (why === null ? [] : [`${site}: ${why}`]));
  if (said.length === 0) return { state: "up", detail: feeds.length === 0 ? "no feed is set up" : null };
  return { state: "degraded", detail: said.slice(0, 5).join("; ") };
}

/** `lastAliveMs`: when an earlier run was last alive; a clock that stands before that is wrong now, or was then. */
export function clockHealth(nowMs: number, lastAliveMs: number, setBackMs: number, pace: number): PartHealth {
  const missingS = Math.round((lastAliveMs - nowMs) / 1000);
  if (missingS > 60)
    return { state: "degraded", detail: `stands ${missingS} s before the time at which this server last ran` };
  const backS = Math.round(setBackMs / 1000);
  if (backS > 0) return { state: "degraded", detail: `was set back by ${backS} s while the server ran` };
  return { state: "up", detail: pace === 1 ? null : `runs ${pace} times as fast as the wall clock` };
}
