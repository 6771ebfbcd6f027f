// Where a tap on the plan is meant to be: a corner that is there, a wall that is there, or the grid.
import { distanceM, nearestOn, type Outline, type PlanPoint } from "#core/plan/polygon.ts";
import { mFromFt } from "#core/units.ts";

/** Sizes of a grid that a floor is drawn on, m; the finest that draws at most a hundred lines across is taken. */
const GRIDS_M = [0.25, 0.5, 1, 2, 5, 10] as const;
/** The same in feet: whole feet stay whole feet. */
const GRIDS_FT = [0.5, 1, 2, 5, 10, 20] as const;

export function gridM(widthM: number, units: "si" | "us"): number {
  const sizes = units === "us" ? GRIDS_FT.map(mFromFt) : GRIDS_M;
  return sizes.find((size) => widthM / size <= 100) ?? (sizes.at(-1) as number);
}

/**
 * Corners first, then edges, so that neighbours share a wall without a gap; else the grid. `reachM`: how near a tap
 * must come, m of the plan. An edge is met at the grid line that crosses it if there is one within reach.
 */
export function snapped(tap: PlanPoint, others: readonly Outline[], gridSizeM: number, reachM: number): PlanPoint {
  const corners = others.flat().map((point) => ({ point, awayM: distanceM(point, tap) }));
  const corner = corners.filter(({ awayM }) => awayM <= reachM).sort((a, b) => a.awayM - b.awayM)[0];
  if (corner !== undefined) return corner.point;
  const onGrid = onGridOf(tap, gridSizeM);
  const edges = others.flatMap((outline) =>
    outline.map((a, index) => ({ a, b: outline[(index + 1) % outline.length] as PlanPoint })),
  );
  const edge = edges
    .map(({ a, b }) => ({ a, b, ...nearestOn(a, b, tap) }))
    .filter(({ awayM }) => awayM <= reachM)
    .sort((one, other) => one.awayM - other.awayM)[0];
  if (edge === undefined) return onGrid;
  const near = nearestOn(edge.a, edge.b, onGrid);
  return distanceM(near.point, tap) <= Math.max(reachM, gridSizeM) ? near.point : edge.point;
}

export function onGridOf({ xM, yM }: PlanPoint, gridSizeM: number): PlanPoint {
  const round = (m: number) => Math.round(Math.round(m / gridSizeM) * gridSizeM * 1e6) / 1e6;
  return { xM: round(xM), yM: round(yM) };
}

/** Metres of one point of a picture, from two points of it and the distance that a person measured between them. */
export function metresPerPixel(
  a: { readonly xPx: number; readonly yPx: number },
  b: { readonly xPx: number; readonly yPx: number },
  apartM: number,
): number {
  const apartPx = Math.hypot(b.xPx - a.xPx, b.yPx - a.yPx);
  if (!(apartPx > 0) || !(apartM > 0)) throw new RangeError("scale: two different points and a distance above zero");
  return apartM / apartPx;
}
