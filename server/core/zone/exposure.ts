// What a dew-sensitive film went through: minutes in dew, minutes below the margin limit, and gaps in the evidence.
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Timeline } from "#core/zone/timeline.ts";

export interface Exposure {
  /** Minutes at or below the dew point, and the last such moment. */
  readonly dewMin: number;
  readonly lastDewMs: number | null;
  /** Minutes below the margin limit after `sinceMs`, and the last such moment. */
  readonly belowMin: number;
  readonly lastBelowMs: number | null;
  /** The longest gap of which a part lies after `sinceMs`, minutes, and its end. */
  readonly gapMin: number;
  readonly gapEndMs: number | null;
}

/** The part of a stretch in which a value that goes from `a` to `b` is at or under `limit`: start and end as shares. */
function under(a: number, b: number, limit: number): { readonly from: number; readonly to: number } | null {
  const start = a <= limit;
  const end = b <= limit;
  if (start && end) return { from: 0, to: 1 };
  if (!start && !end) return null;
  const crossing = (limit - a) / (b - a);
  return start ? { from: 0, to: crossing } : { from: crossing, to: 1 };
}

/**
 * Walks the margin from `fromMs` to `untilMs` (the film's sensitive time). `limitK` is the sheet's margin limit.
 * `sinceMs` is the last finding that the surface is clean: it clears what happened before it, except dew.
 */
export function exposureOf(line: Timeline, fromMs: number, untilMs: number, limitK: number, sinceMs: number): Exposure {
  const { atMs, marginK, readings } = line;
  let dewMs = 0;
  let lastDewMs: number | null = null;
  let belowMs = 0;
  let lastBelowMs: number | null = null;
  let gapMs = 0;
  let gapEndMs: number | null = null;
  let previousMs = fromMs;
  let previousK = Number.NaN;
  const note = (gapFromMs: number, gapToMs: number) => {
    const from = Math.max(gapFromMs, fromMs);
    const to = Math.min(gapToMs, untilMs);
    if (to <= sinceMs || to - from <= gapMs || to - from <= HOLD_MS) return;
    gapMs = to - from;
    gapEndMs = to;
  };
  for (let index = 0; index < readings; index++) {
    const nowK = marginK[index] as number;
    if (Number.isNaN(nowK)) continue;
    const takenMs = atMs[index] as number;
    if (takenMs <= fromMs) {
      previousMs = takenMs;
      previousK = nowK;
      continue;
    }
    if (takenMs - previousMs > HOLD_MS || Number.isNaN(previousK)) note(previousMs, takenMs);
    else if (previousMs < untilMs) {
      const spanMs = takenMs - previousMs;
      const clip = (share: number) => Math.min(Math.max(previousMs + share * spanMs, fromMs), untilMs);
      const dew = under(previousK, nowK, 0);
      if (dew !== null && clip(dew.to) > clip(dew.from)) {
        dewMs += clip(dew.to) - clip(dew.from);
        lastDewMs = clip(dew.to);
      }
      const below = under(previousK, nowK, limitK - 1e-9);
      if (below !== null) {
        const from = Math.max(clip(below.from), sinceMs);
        const to = clip(below.to);
        if (to > from) {
          belowMs += to - from;
          lastBelowMs = to;
        }
      }
    }
    previousMs = takenMs;
    previousK = nowK;
  }
  note(Math.max(previousMs, fromMs), untilMs);
  return {
    dewMin: dewMs / 60_000,
    lastDewMs,
    belowMin: belowMs / 60_000,
    lastBelowMs,
    gapMin: gapMs / 60_000,
    gapEndMs,
  };
}
