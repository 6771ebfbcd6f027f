// Time for the simulator: the wall clock, a clock that runs at a pace, or one that jumps to whatever is waited for.

export interface Clock {
  nowMs(): number;
  /** Seconds of this clock in one second of the wall clock. */
  readonly pace: number;
  /** Resolves at `atMs` by this clock, or at once when `signal` has fired. */
  waitUntil(atMs: number, signal: AbortSignal): Promise<void>;
}

/** Longest single timer; longer waits go round again. */
const LONGEST_MS = 60_000;

/** A clock that showed `fromMs` when it was made and runs `pace` times as fast as the wall clock. */
export function pacedClock(fromMs: number, pace: number): Clock {
  const startedMs = Date.now();
  const nowMs = () => fromMs + (Date.now() - startedMs) * pace;
  return {
    nowMs,
    pace,
    async waitUntil(atMs, signal) {
      while (!signal.aborted) {
        const leftMs = (atMs - nowMs()) / pace;
        if (leftMs <= 0) return;
        await sleep(Math.min(leftMs, LONGEST_MS), signal);
      }
    },
  };
}

export function wallClock(): Clock {
  return pacedClock(Date.now(), 1);
}

/**
 * A clock that stands at `fromMs` until it is released and then runs `pace` times as fast as the wall clock;
 * without `fromMs` it is the wall clock from the beginning.
 */
export function heldClock(fromMs: number | null, pace: number): Clock & { release(): void } {
  let running: Clock | null = fromMs === null ? wallClock() : null;
  return {
    nowMs: () => running?.nowMs() ?? fromMs ?? 0,
    pace,
    release() {
      running ??= pacedClock(fromMs ?? Date.now(), pace);
    },
    async waitUntil(atMs, signal) {
      while (running === null && !signal.aborted) await sleep(20, signal);
      await running?.waitUntil(atMs, signal);
    },
  };
}

/** A clock for tests: it stands still until somebody waits, then it is that late. */
export function jumpingClock(fromMs: number): Clock {
  let atMs = fromMs;
  return {
    nowMs: () => atMs,
    pace: 1,
    async waitUntil(untilMs) {
      atMs = Math.max(atMs, untilMs);
      await Promise.resolve();
    },
  };
}

/** Real milliseconds; ends early and quietly when `signal` fires. */
export function sleep(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) return resolve();
    const done = () => {
      clearTimeout(timer);
      signal.removeEventListener("abort", done);
      resolve();
    };
    const timer = setTimeout(done, ms);
    signal.addEventListener("abort", done);
  });
}
