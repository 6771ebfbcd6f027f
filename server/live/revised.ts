// Calls that were shown and would have been others, had all been heard by then: marked beside, never in their place.
import type { RevisedCallBody } from "#contract/board.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";
import { type Run, type Shown, shownStretches, STEP_MS, type Word } from "./past.ts";

export interface RevisedParts {
  readonly recorded: readonly Shown[];
  readonly runs: readonly Run[];
  readonly fromMs: number;
  readonly nowMs: number;
}

/** Moments of the grid at which a call was shown. */
export function shownMoments({ recorded, runs, fromMs, nowMs }: RevisedParts): number[] {
  return shownStretches(recorded, runs, fromMs, nowMs).flatMap((stretch) => {
    const first = Math.ceil(stretch.fromMs / STEP_MS) * STEP_MS;
    const count = Math.max(0, Math.floor((stretch.toMs - first) / STEP_MS) + 1);
    return Array.from({ length: count }, (_, index) => first + index * STEP_MS).filter((atMs) => atMs < nowMs);
  });
}

function shownAt(recorded: readonly Shown[], atMs: number): Shown | null {
  return recorded.filter(({ at }) => msFromIso(at) <= atMs).at(-1) ?? null;
}

/** `revised`: what today's log says of moments at which a call was shown. Stretches in which both stay are one. */
export function revisedOf(parts: RevisedParts, revised: ReadonlyMap<number, Word | null>): RevisedCallBody[] {
  const out: (Omit<RevisedCallBody, "from" | "to"> & { fromMs: number; toMs: number })[] = [];
  // Nearly always nothing was heard late.
  for (const atMs of revised.size === 0 ? [] : shownMoments(parts)) {
    const word = revised.get(atMs) ?? null;
    if (word === null) continue;
    const shown = shownAt(parts.recorded, atMs);
    if (shown === null || word.call === shown.call) continue;
    const last = out.at(-1);
    const piece = { call: shown.call, limiting: shown.limiting, wouldBe: word.call, wouldBeLimiting: word.limiting };
    const joins =
      last !== undefined &&
      last.toMs === atMs &&
      (Object.keys(piece) as (keyof typeof piece)[]).every((key) => last[key] === piece[key]);
    if (joins) last.toMs = atMs + STEP_MS;
    else out.push({ ...piece, fromMs: atMs, toMs: atMs + STEP_MS });
  }
  return out.map(({ fromMs, toMs, ...piece }) => ({
    from: isoFromMs(fromMs),
    to: isoFromMs(Math.min(toMs, parts.nowMs)),
    ...piece,
  }));
}
