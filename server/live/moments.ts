// The order of hearing and judging: what is heard after a judging has a later time, so that a replay of it hears the same.
import type { Clock } from "./ports.ts";

export interface Moments {
  now(): number;
  /** The time of something that is heard now. */
  heard(): number;
  /** The time of a judging now. */
  judged(): number;
  /** How far the clock was set back at most, ms; 0 for never. */
  setBackMs(): number;
}

/** Up to this much a clock that steps back is held still; beyond it is followed, and said on the health page. */
const HELD_MS = 5000;

export function createMoments(clock: Clock): Moments {
  let lastHeardMs = Number.NEGATIVE_INFINITY;
  let lastJudgedMs = Number.NEGATIVE_INFINITY;
  let setBackMs = 0;
  const now = (): number => {
    const nowMs = Math.round(clock.nowMs());
    const behindMs = Math.max(lastHeardMs, lastJudgedMs) - nowMs;
    if (behindMs > HELD_MS) {
      setBackMs = Math.max(setBackMs, behindMs);
      lastHeardMs = Number.NEGATIVE_INFINITY;
      lastJudgedMs = Number.NEGATIVE_INFINITY;
    }
    return nowMs;
  };
  return {
    now: () => Math.max(now(), lastHeardMs, lastJudgedMs),
    heard() {
      lastHeardMs = Math.max(now(), lastHeardMs, lastJudgedMs + 1);
      return lastHeardMs;
    },
    judged() {
      lastJudgedMs = Math.max(now(), lastHeardMs, lastJudgedMs);
      return lastJudgedMs;
    },
    setBackMs: () => setBackMs,
  };
}
