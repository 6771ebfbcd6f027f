// Outlines of zones on the plan of a site: area, inside, and whether they can be a floor at all.

/** A point of the plan, m from its upper left corner: x to the right, y downwards. */
export interface PlanPoint {
  readonly xM: number;
  readonly yM: number;
}
export type Outline = readonly PlanPoint[];

/** Closer than this two points are one, m: a tenth of a millimetre lies below any tape. */
export const SAME_M = 1e-4;

const at = (outline: Outline, index: number): PlanPoint => outline[index % outline.length] as PlanPoint;

/** Twice the signed area of the triangle a, b, c; which side of a-b the point c lies on. */
export function turn(a: PlanPoint, b: PlanPoint, c: PlanPoint): number {
  return (b.xM - a.xM) * (c.yM - a.yM) - (b.yM - a.yM) * (c.xM - a.xM);
}

export function distanceM(a: PlanPoint, b: PlanPoint): number {
  return Math.hypot(b.xM - a.xM, b.yM - a.yM);
}

/** Area of an outline, m2, by the shoelace formula (Meister 1769); of one that crosses itself it means nothing. */
export function areaM2(outline: Outline): number {
  let twice = 0;
  for (const [index, { xM, yM }] of outline.entries()) {
    const next = at(outline, index + 1);
    twice += xM * next.yM - next.xM * yM;
  }
  return Math.abs(twice) / 2;
}

/** How far a point lies from the line between a and b, and the nearest point of that. */
export function nearestOn(
  a: PlanPoint,
  b: PlanPoint,
  point: PlanPoint,
): { readonly point: PlanPoint; readonly awayM: number } {
  const lengthM = distanceM(a, b);
  const along =
    lengthM < SAME_M
      ? 0
      : ((point.xM - a.xM) * (b.xM - a.xM) + (point.yM - a.yM) * (b.yM - a.yM)) / (lengthM * lengthM);
  const share = Math.min(1, Math.max(0, along));
  const nearest = { xM: a.xM + share * (b.xM - a.xM), yM: a.yM + share * (b.yM - a.yM) };
  return { point: nearest, awayM: distanceM(nearest, point) };
}

/** True inside and on the edge. */
export function isInside(outline: Outline, point: PlanPoint): boolean {
  let inside = false;
  for (const [index, a] of outline.entries()) {
    const b = at(outline, index + 1);
    if (nearestOn(a, b, point).awayM < SAME_M) return true;
    const spans = a.yM > point.yM !== b.yM > point.yM;
    if (spans && point.xM < a.xM + ((point.yM - a.yM) / (b.yM - a.yM)) * (b.xM - a.xM)) inside = !inside;
  }
  return inside;
}

function cross(a: PlanPoint, b: PlanPoint, c: PlanPoint, d: PlanPoint): boolean {
  const touches = [nearestOn(a, b, c), nearestOn(a, b, d), nearestOn(c, d, a), nearestOn(c, d, b)];
  if (touches.some(({ awayM }) => awayM < SAME_M)) return true;
  return turn(a, b, c) > 0 !== turn(a, b, d) > 0 && turn(c, d, a) > 0 !== turn(c, d, b) > 0;
}

export type OutlineFault = "few-corners" | "same-corner" | "crosses-itself" | "no-area";

/** What keeps an outline from being a floor; null when nothing does. O(n2), n at most a few hundred. */
export function outlineFault(outline: Outline): OutlineFault | null {
  if (outline.length < 3) return "few-corners";
  for (const [index, a] of outline.entries())
    if (!(distanceM(a, at(outline, index + 1)) >= SAME_M)) return "same-corner";
  const n = outline.length;
  for (let one = 0; one < n; one++)
    for (let other = one + 2; other < n; other++) {
      if (one === 0 && other === n - 1) continue;
      if (cross(at(outline, one), at(outline, one + 1), at(outline, other), at(outline, other + 1)))
        return "crosses-itself";
    }
  return areaM2(outline) > 0.01 ? null : "no-area";
}

/** A point well inside, for a name: the middle of the widest stretch on one of fifteen lines across. */
export function middleOf(outline: Outline): { readonly point: PlanPoint; readonly widthM: number } {
  const ys = outline.map(({ yM }) => yM);
  const top = Math.min(...ys);
  const tall = Math.max(...ys) - top;
  let best = { point: at(outline, 0), widthM: 0 };
  let bestScore = -1;
  for (let line = 1; line <= 15; line++) {
    const yM = top + (tall * line) / 16;
    const xs = outline
      .flatMap((a, index) => {
        const b = at(outline, index + 1);
        return a.yM > yM !== b.yM > yM ? [a.xM + ((yM - a.yM) / (b.yM - a.yM)) * (b.xM - a.xM)] : [];
      })
      .sort((a, b) => a - b);
    for (let index = 0; index + 1 < xs.length; index += 2) {
      const [from, to] = [xs[index] as number, xs[index + 1] as number];
      // Of two stretches that are about as wide the one nearer to the middle height reads better.
      const score = (to - from) * (1 - 0.4 * Math.abs(line / 8 - 1));
      if (score > bestScore) {
        bestScore = score;
        best = { point: { xM: (from + to) / 2, yM }, widthM: to - from };
      }
    }
  }
  return best;
}
