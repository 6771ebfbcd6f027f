// Where things lie on a strip: stretches of calls and margin lines, in pixels. Pure.
import type { CallWord } from "#core/judge/call.ts";
import type { BoardZoneBody } from "#contract/board.ts";
import { isBlind } from "../../text/sentence.ts";

export const PAST_H = 12;
export const AHEAD_H = 36;
const HOUR_MS = 3_600_000;

export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
  readonly widthPx: number;
}

export function spanAround(nowMs: number, widthPx: number): Span {
  return { fromMs: nowMs - PAST_H * HOUR_MS, toMs: nowMs + AHEAD_H * HOUR_MS, widthPx };
}

/** Pixel of a moment, held inside the strip. */
export function xOf(atMs: number, span: Span): number {
  const share = (atMs - span.fromMs) / (span.toMs - span.fromMs);
  return Math.round(Math.min(1, Math.max(0, share)) * span.widthPx * 10) / 10;
}

export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
  /** null: nothing is known of this time. */
  readonly call: CallWord | null;
  readonly kind: "past" | "hindsight" | "ahead";
  /** 1 for what has been. */
  readonly chance: number;
}

/** The strip's stretches from left to right. `saidMs`: up to when the server has spoken; what was foreseen begins there. */
export function stretchesOf(
  item: Pick<BoardZoneBody, "call" | "past" | "outlook">,
  saidMs: number,
  span: Span,
): Stretch[] {
  const found: Stretch[] = [];
  const add = (stretch: Stretch) => {
    const fromMs = Math.max(stretch.fromMs, span.fromMs);
    const toMs = Math.min(stretch.toMs, span.toMs);
    if (toMs > fromMs) found.push({ ...stretch, fromMs, toMs });
  };
  for (const past of item.past) {
    const toMs = past.to === null ? saidMs : Math.min(Date.parse(past.to), saidMs);
    add({
      fromMs: Date.parse(past.from),
      toMs,
      call: isBlind(past) ? null : past.call,
      kind: past.hindsight ? "hindsight" : "past",
      chance: 1,
    });
  }
  if (isBlind(item.call) || item.outlook === null) {
    add({ fromMs: saidMs, toMs: span.toMs, call: null, kind: "ahead", chance: 0 });
    return found;
  }
  for (const ahead of item.outlook.calls) {
    add({
      fromMs: Math.max(saidMs, Date.parse(ahead.from)),
      toMs: Date.parse(ahead.to),
      call: ahead.call,
      kind: "ahead",
      chance: ahead.chance,
    });
  }
  return found;
}

/** How far a stretch is hatched away: 0 not at all, 5 almost gone; a step for each tenth of chance lost. */
export function fadeOf(chance: number): 0 | 1 | 2 | 3 | 4 | 5 {
  const tenths = Math.floor(Math.min(1, Math.max(0, chance)) * 10 + 1e-6);
  if (tenths >= 9) return 0;
  if (tenths <= 4) return 5;
  return (9 - tenths) as 1 | 2 | 3 | 4;
}

/** Whether a stretch carries on the one before it: the same call, only less sure of it. */
export function carriesOn(stretch: Stretch, before: Stretch | undefined): boolean {
  return (
    before !== undefined &&
    before.kind === stretch.kind &&
    before.call === stretch.call &&
    before.toMs === stretch.fromMs
  );
}

/** Stretches that carry one another on, joined: what gets one outline. */
export function runsOf(stretches: readonly Stretch[]): Stretch[] {
  const runs: Stretch[] = [];
  for (const stretch of stretches) {
    const last = runs.at(-1);
    if (last !== undefined && carriesOn(stretch, last)) runs[runs.length - 1] = { ...last, toMs: stretch.toMs };
    else runs.push(stretch);
  }
  return runs;
}

/** Scale of the margin line, made in limits: the limit lies at the same height on every strip. */
export interface Tide {
  readonly heightPx: number;
  readonly limitK: number;
}

/** Lowest margin that is drawn, in limits: a little below the dew point. */
const BOTTOM = -1 / 3;
/** Up to here the scale is even; above, it draws together, so that a warm floor still has a shape and never leaves the strip. */
const EVEN_UP_TO = 2;
const EVEN_SHARE = 0.6;
const SLOPE = EVEN_SHARE / (EVEN_UP_TO - BOTTOM);

export function tideY(marginK: number, tide: Tide): number {
  const limits = Math.max(BOTTOM, marginK / tide.limitK);
  const above = Math.max(0, limits - EVEN_UP_TO);
  const rest = 1 - EVEN_SHARE;
  const share = (Math.min(limits, EVEN_UP_TO) - BOTTOM) * SLOPE + rest * (1 - Math.exp((-above * SLOPE) / rest));
  return Math.round((1 - share) * tide.heightPx * 10) / 10;
}

/** An SVG path through the values; a null lifts the pen: gaps stay gaps. */
export function linePath(
  fromMs: number,
  stepMs: number,
  values: readonly (number | null)[],
  span: Span,
  tide: Tide,
): string {
  let path = "";
  let down = false;
  values.forEach((value, index) => {
    const atMs = fromMs + index * stepMs;
    if (value === null || !Number.isFinite(value) || atMs < span.fromMs || atMs > span.toMs) {
      down = false;
      return;
    }
    path += `${down ? "L" : "M"}${xOf(atMs, span)} ${tideY(value, tide)}`;
    down = true;
  });
  return path;
}

/** The closed shape between the lower and the upper quantile. */
export function fanPath(
  fromMs: number,
  stepMs: number,
  low: readonly number[],
  high: readonly number[],
  span: Span,
  tide: Tide,
): string {
  const inside = low
    .map((_, index) => index)
    .filter(
      (index) =>
        fromMs + index * stepMs >= span.fromMs && fromMs + index * stepMs <= span.toMs && high[index] !== undefined,
    );
  if (inside.length < 2) return "";
  const point = (index: number, value: number) => `${xOf(fromMs + index * stepMs, span)} ${tideY(value, tide)}`;
  const upper = inside.map((index) => point(index, high[index] ?? 0));
  const lower = [...inside].reverse().map((index) => point(index, low[index] ?? 0));
  return `M${upper.join("L")}L${lower.join("L")}Z`;
}
