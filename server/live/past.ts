// The past of a zone as the board shows it: calls that were shown, and with hindsight where nothing was.
import type { PastCallBody } from "#contract/board.ts";
import type { CallBody } from "#contract/call.ts";
import { isoFromMs, isoOrNull, msFromIso } from "#contract/primitives.ts";

export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** What a call says in a strip. */
export interface Word {
  readonly call: CallBody["call"];
  readonly limiting: CallBody["limiting"];
}

interface Piece extends Stretch, Word {
  readonly hindsight: boolean;
}

/** A call that was shown, as far as a strip goes. */
export type Shown = Word & Pick<CallBody, "at">;

/** Hindsight is judged at these steps. */
export const STEP_MS = 15 * 60_000;
/** A pause shorter than this is a restart, not a gap. */
const GAP_MS = 2 * 60_000;
/** What stood for less was on its way to something else: nobody could act on it. */
const GLIMPSE_MS = 30_000;

export interface Run {
  readonly startedMs: number;
  readonly aliveMs: number;
}

/** Runs of the server that reach into the time from `fromMs`; the present one is alive now. */
export function runsUntil(runs: { since(fromMs: number): Run[] }, fromMs: number, nowMs: number): Run[] {
  const known = runs.since(fromMs);
  return known.map((run, index) => (index === known.length - 1 ? { ...run, aliveMs: nowMs } : run));
}

/** Where the server ran and the zone had a call, within `fromMs` to `nowMs`. */
export function shownStretches(
  recorded: readonly Shown[],
  runs: readonly Run[],
  fromMs: number,
  nowMs: number,
): Stretch[] {
  const [first] = recorded;
  if (first === undefined) return [];
  const firstMs = msFromIso(first.at);
  const stretches: Stretch[] = [];
  for (const { startedMs, aliveMs } of runs) {
    const stretch = { fromMs: Math.max(startedMs, firstMs, fromMs), toMs: Math.min(aliveMs, nowMs) };
    if (stretch.toMs < stretch.fromMs) continue;
    const last = stretches.at(-1);
    if (last !== undefined && stretch.fromMs - last.toMs < GAP_MS)
      stretches.splice(-1, 1, { fromMs: last.fromMs, toMs: stretch.toMs });
    else stretches.push(stretch);
  }
  return stretches;
}

/** Where nothing was shown. */
export function gapsOf(recorded: readonly Shown[], runs: readonly Run[], fromMs: number, nowMs: number): Stretch[] {
  const gaps: Stretch[] = [];
  let atMs = fromMs;
  for (const { fromMs: startMs, toMs } of shownStretches(recorded, runs, fromMs, nowMs)) {
    if (startMs - atMs >= GAP_MS) gaps.push({ fromMs: atMs, toMs: startMs });
    atMs = toMs;
  }
  if (nowMs - atMs >= GAP_MS) gaps.push({ fromMs: atMs, toMs: nowMs });
  return gaps;
}

/** Moments of the grid that speak for a stretch: each for the step that begins with it. */
export function momentsOf(gaps: readonly Stretch[]): number[] {
  return gaps.flatMap(({ fromMs, toMs }) => {
    const first = Math.floor(fromMs / STEP_MS) * STEP_MS;
    return Array.from({ length: Math.ceil((toMs - first) / STEP_MS) }, (_, index) => first + index * STEP_MS);
  });
}

function shownPieces(recorded: readonly Shown[], stretches: readonly Stretch[]): Piece[] {
  return stretches.flatMap(({ fromMs, toMs }) =>
    recorded.flatMap((shown, index) => {
      const next = recorded[index + 1];
      const piece = {
        fromMs: Math.max(fromMs, msFromIso(shown.at)),
        toMs: Math.min(toMs, next === undefined ? toMs : msFromIso(next.at)),
      };
      return piece.toMs > piece.fromMs
        ? [{ ...piece, call: shown.call, limiting: shown.limiting, hindsight: false }]
        : [];
    }),
  );
}

function hindsightPieces(gaps: readonly Stretch[], known: ReadonlyMap<number, Word | null>): Piece[] {
  return gaps.flatMap((gap) =>
    momentsOf([gap]).flatMap((atMs) => {
      const word = known.get(atMs) ?? null;
      const piece = { fromMs: Math.max(gap.fromMs, atMs), toMs: Math.min(gap.toMs, atMs + STEP_MS) };
      return word === null || piece.toMs <= piece.fromMs ? [] : [{ ...piece, ...word, hindsight: true }];
    }),
  );
}

/** Leaves out glimpses; what came after them begins where they began. */
function withoutGlimpses(pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = [];
  let fromMs: number | null = null;
  for (const [index, piece] of pieces.entries()) {
    const next = pieces[index + 1];
    const goesOn = next !== undefined && !next.hindsight && next.fromMs === piece.toMs;
    if (!piece.hindsight && goesOn && piece.toMs - piece.fromMs < GLIMPSE_MS) {
      fromMs ??= piece.fromMs;
      continue;
    }
    out.push(fromMs === null ? piece : { ...piece, fromMs });
    fromMs = null;
  }
  return out;
}

function merged(pieces: readonly Piece[]): Piece[] {
  const out: Piece[] = [];
  for (const piece of withoutGlimpses([...pieces].sort((a, b) => a.fromMs - b.fromMs))) {
    const last = out.at(-1);
    const joins =
      last !== undefined &&
      last.toMs >= piece.fromMs &&
      last.call === piece.call &&
      last.limiting === piece.limiting &&
      last.hindsight === piece.hindsight;
    if (joins) out.splice(-1, 1, { ...last, toMs: Math.max(last.toMs, piece.toMs) });
    else out.push(piece);
  }
  return out;
}

export interface PastParts {
  readonly recorded: readonly Shown[];
  readonly runs: readonly Run[];
  readonly hindsight: ReadonlyMap<number, Word | null>;
  readonly fromMs: number;
  readonly nowMs: number;
}

/** The strip from `fromMs` to now; the last piece is open when its call still stands. */
export function pastOf({ recorded, runs, hindsight, fromMs, nowMs }: PastParts): PastCallBody[] {
  const stretches = shownStretches(recorded, runs, fromMs, nowMs);
  const gaps = gapsOf(recorded, runs, fromMs, nowMs);
  return merged([...shownPieces(recorded, stretches), ...hindsightPieces(gaps, hindsight)]).map(
    ({ fromMs: startMs, toMs, call, limiting, hindsight: late }) => ({
      from: isoFromMs(startMs),
      to: isoOrNull(!late && toMs >= nowMs ? null : toMs),
      call,
      limiting,
      hindsight: late,
    }),
  );
}
