// Calls with hindsight, in the background: what today's log says of hours in which nothing was shown.
import type { Board } from "./board.ts";
import type { Moments } from "./moments.ts";
import { gapsOf, momentsOf, runsUntil } from "./past.ts";
import type { Judge, LiveStore } from "./ports.ts";
import { shownMoments } from "./revised.ts";
import type { Sites } from "./sites.ts";
import { PAST_MS } from "./window.ts";

export interface Hindsight {
  /** Looks again at a zone when nothing has been heard late for a while. */
  want(site: string, zone: string): void;
  waiting(): number;
  close(): void;
}

export interface HindsightParts {
  readonly sites: Sites;
  readonly board: Board;
  readonly judge: Judge;
  readonly store: LiveStore;
  readonly moments: Moments;
  /** True while zones wait to be judged now: the present goes first. */
  readonly busy: () => boolean;
  readonly done: (site: string, zone: string) => void;
}

/** A flood of late readings is let through first: each would void what was judged. Wall time, ms. */
const QUIET_MS = 2000;
/** Between two judgings the loop belongs to others. */
const PAUSE_MS = 5;
/** Where the present never rests, as in a time-lapse, the past still moves on by one step in this time. */
const SLOWEST_MS = 500;

export function createHindsight({ sites, board, judge, store, moments, busy, done }: HindsightParts): Hindsight {
  const wanted = new Map<string, { readonly site: string; readonly zone: string; sinceMs: number }>();
  let timer: NodeJS.Timeout | null = null;
  let closed = false;
  let steppedMs = 0;

  /** The next moment of a zone that is not judged yet; null if none is left. */
  const openMoment = (siteId: string, zone: string, nowMs: number): number | null => {
    const { recorded, hindsight } = board.memory(siteId, zone);
    const runs = runsUntil(store.runs, nowMs - PAST_MS, nowMs);
    const open = momentsOf(gapsOf(recorded, runs, nowMs - PAST_MS, nowMs)).filter((atMs) => !hindsight.has(atMs));
    return open.at(-1) ?? null;
  };

  /** The next moment at which a call was shown, of which something was heard late; null if none is left. */
  const lateMoment = (siteId: string, zone: string, nowMs: number): number | null => {
    const { recorded, revised, lateFromMs } = board.memory(siteId, zone);
    if (lateFromMs === null) return null;
    const fromMs = Math.max(lateFromMs, nowMs - PAST_MS);
    const runs = runsUntil(store.runs, nowMs - PAST_MS, nowMs);
    const open = shownMoments({ recorded, runs, fromMs: nowMs - PAST_MS, nowMs }).filter(
      (atMs) => atMs >= fromMs && !revised.has(atMs),
    );
    return open.at(-1) ?? null;
  };

  /** Judges one moment. False when the zone has none left, or is gone. */
  const step = (siteId: string, zone: string): boolean => {
    const site = sites.get(siteId);
    const nowMs = moments.now();
    if (site === null || site.zone(zone, nowMs) === null) return false;
    const memory = board.memory(siteId, zone);
    const gapMs = openMoment(siteId, zone, nowMs);
    const atMs = gapMs ?? lateMoment(siteId, zone, nowMs);
    if (atMs === null) {
      // Later moments were shown with all of that known.
      memory.lateFromMs = null;
      return false;
    }
    const hindsight = gapMs === null ? memory.revised : memory.hindsight;
    try {
      const { call } = judge.judgeZone(site.log, zone, atMs, nowMs);
      hindsight.set(atMs, { call: call.call, limiting: call.limiting });
    } catch {
      // No such zone then, or no way to judge it: that stretch stays empty.
      hindsight.set(atMs, null);
    }
    return true;
  };

  const work = (): void => {
    timer = null;
    const nowMs = performance.now();
    const waits = busy() && nowMs - steppedMs < SLOWEST_MS;
    const ready = waits ? undefined : [...wanted.entries()].find(([, { sinceMs }]) => nowMs - sinceMs >= QUIET_MS);
    if (ready !== undefined) {
      const [key, { site, zone, sinceMs }] = ready;
      steppedMs = nowMs;
      if (!step(site, zone)) {
        // Wanted again meanwhile: the later wish stays.
        if (wanted.get(key)?.sinceMs === sinceMs) wanted.delete(key);
        done(site, zone);
      }
    }
    plan(ready === undefined ? 200 : PAUSE_MS);
  };
  const plan = (afterMs: number): void => {
    if (closed || wanted.size === 0) return;
    timer ??= setTimeout(work, afterMs).unref();
  };

  return {
    want(site, zone) {
      wanted.set(`${site}/${zone}`, { site, zone, sinceMs: performance.now() });
      plan(QUIET_MS);
    },
    waiting: () => wanted.size,
    close() {
      closed = true;
      if (timer !== null) clearTimeout(timer);
    },
  };
}
