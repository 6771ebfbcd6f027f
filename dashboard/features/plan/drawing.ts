// One outline while it is drawn: corners are put, moved, inserted and taken out, and every step can be undone. Pure.
import type { PlanBody } from "#contract/plan.ts";
import type { Outline, PlanPoint } from "#core/plan/polygon.ts";

export interface Drawing {
  readonly corners: Outline;
  /** False while corners are still being put one after the other. */
  readonly closed: boolean;
  readonly past: readonly { readonly corners: Outline; readonly closed: boolean }[];
}

export type Stroke =
  | { readonly do: "put"; readonly point: PlanPoint }
  | { readonly do: "close" }
  | { readonly do: "move"; readonly index: number; readonly point: PlanPoint }
  /** Part of one movement: what it was before stands in the past already. */
  | { readonly do: "drag"; readonly index: number; readonly point: PlanPoint }
  /** A corner in the middle of the edge that begins at `index`. */
  | { readonly do: "insert"; readonly index: number }
  | { readonly do: "remove"; readonly index: number }
  | { readonly do: "replace"; readonly corners: Outline }
  | { readonly do: "undo" };

const PAST = 100;

export const drawingOf = (corners: Outline): Drawing => ({ corners, closed: corners.length >= 3, past: [] });

const same = (a: PlanPoint | undefined, b: PlanPoint) => a !== undefined && a.xM === b.xM && a.yM === b.yM;
const put = (corners: Outline, index: number, point: PlanPoint) =>
  corners.map((corner, at) => (at === index ? point : corner));

export function drawn(drawing: Drawing, stroke: Stroke): Drawing {
  const { corners, closed, past } = drawing;
  const next = (to: Outline, isClosed = closed): Drawing => ({
    corners: to,
    closed: isClosed && to.length >= 3,
    past: [...past, { corners, closed }].slice(-PAST),
  });
  switch (stroke.do) {
    case "put":
      if (closed) return drawing;
      // The first corner again closes the outline; the last again is a finger that trembled.
      if (same(corners[0], stroke.point)) return corners.length >= 3 ? next(corners, true) : drawing;
      return same(corners.at(-1), stroke.point) ? drawing : next([...corners, stroke.point]);
    case "close":
      return closed || corners.length < 3 ? drawing : next(corners, true);
    case "move":
      return same(corners[stroke.index], stroke.point) ? drawing : next(put(corners, stroke.index, stroke.point));
    case "drag":
      return same(corners[stroke.index], stroke.point)
        ? drawing
        : { ...drawing, corners: put(corners, stroke.index, stroke.point) };
    case "insert": {
      const a = corners[stroke.index];
      const b = corners[(stroke.index + 1) % corners.length];
      if (a === undefined || b === undefined) return drawing;
      const middle = { xM: (a.xM + b.xM) / 2, yM: (a.yM + b.yM) / 2 };
      return next([...corners.slice(0, stroke.index + 1), middle, ...corners.slice(stroke.index + 1)]);
    }
    case "remove":
      return stroke.index in corners ? next(corners.filter((_, at) => at !== stroke.index)) : drawing;
    case "replace":
      return next(stroke.corners, true);
    case "undo": {
      const before = past.at(-1);
      return before === undefined ? drawing : { ...before, past: past.slice(0, -1) };
    }
  }
}

/** A rectangle beside what is drawn already, so that bays stand in a row as they do on the floor. */
export function rectangleBeside(others: readonly Outline[], lengthM: number, widthM: number): Outline {
  const points = others.flat();
  const xM = points.length === 0 ? 1 : Math.max(...points.map((point) => point.xM));
  const yM = points.length === 0 ? 1 : Math.min(...points.map((point) => point.yM));
  return [
    { xM, yM },
    { xM: xM + lengthM, yM },
    { xM: xM + lengthM, yM: yM + widthM },
    { xM, yM: yM + widthM },
  ];
}

export interface View {
  readonly xM?: number;
  readonly yM?: number;
  readonly widthM: number;
  readonly heightM: number;
}

/** What is worth looking at: the picture whole, or the outlines with a little room around them. */
export function viewOf(plan: PlanBody | null, outlines: readonly Outline[]): View {
  const points = outlines.flat();
  if (points.length === 0 || (plan !== null && plan.picture !== null)) return paperOf(plan, outlines);
  const xs = points.map(({ xM }) => xM);
  const ys = points.map(({ yM }) => yM);
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const [wide, tall] = [Math.max(...xs) - left, Math.max(...ys) - top];
  const room = 0.04 * Math.max(wide, tall);
  return { xM: left - room, yM: top - room, widthM: wide + 2 * room, heightM: tall + 2 * room };
}

/** The sheet of paper that shows everything: what was asked for, and whatever lies beyond it. */
export function paperOf(
  plan: { readonly widthM: number; readonly heightM: number } | null,
  outlines: readonly Outline[],
): { readonly widthM: number; readonly heightM: number } {
  const points = outlines.flat();
  const far = (of: (point: PlanPoint) => number) => Math.max(0, ...points.map(of)) + 1;
  return {
    widthM: Math.max(
      plan?.widthM ?? 30,
      far(({ xM }) => xM),
    ),
    heightM: Math.max(
      plan?.heightM ?? 20,
      far(({ yM }) => yM),
    ),
  };
}
