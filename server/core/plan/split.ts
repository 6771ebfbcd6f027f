// An outline cut along a joint: the parts on both sides, also where the line crosses a bent floor more than once.
import { areaM2, distanceM, type Outline, type PlanPoint, SAME_M, turn } from "#core/plan/polygon.ts";

interface Stop {
  readonly point: PlanPoint;
  /** Place along the joint; null for a corner of the outline. */
  readonly along: number | null;
}

/** Corners with the points put between them at which the boundary changes sides. A corner on the line counts as beyond it. */
function stopsOf(outline: Outline, a: PlanPoint, b: PlanPoint): Stop[] {
  return outline.flatMap((here, index) => {
    const next = outline[(index + 1) % outline.length] as PlanPoint;
    const [side, nextSide] = [turn(a, b, here), turn(a, b, next)];
    const corner: Stop = { point: here, along: null };
    if (side >= 0 === nextSide >= 0) return [corner];
    const share = side / (side - nextSide);
    const point = { xM: here.xM + share * (next.xM - here.xM), yM: here.yM + share * (next.yM - here.yM) };
    const along = (point.xM - a.xM) * (b.xM - a.xM) + (point.yM - a.yM) * (b.yM - a.yM);
    return [corner, { point, along }];
  });
}

/** Neighbours that are one point become one; corners that lie straight between their neighbours stay. */
function tidy(outline: Outline): PlanPoint[] {
  return outline.filter((point, index) => {
    const before = outline[(index + outline.length - 1) % outline.length] as PlanPoint;
    return distanceM(before, point) >= SAME_M;
  });
}

/**
 * The parts of a simple outline cut by the straight line through `a` and `b`, largest first; the whole when the line
 * misses it. Areas of the parts add up to that of the whole.
 */
export function splitByLine(outline: Outline, a: PlanPoint, b: PlanPoint): readonly Outline[] {
  if (!(distanceM(a, b) >= SAME_M)) return [outline];
  const stops = stopsOf(outline, a, b);
  const crossings = stops.flatMap(({ along }, index) => (along === null ? [] : [{ index, along }]));
  crossings.sort((one, other) => one.along - other.along);
  // Along the line floor and no floor take turns: of each two crossings the stretch between is a new edge.
  const partner = new Map<number, number>();
  for (let pair = 0; pair + 1 < crossings.length; pair += 2) {
    const [one, other] = [crossings[pair]?.index as number, crossings[pair + 1]?.index as number];
    partner.set(one, other);
    partner.set(other, one);
  }
  const parts: PlanPoint[][] = [];
  const begun = new Set<number>();
  for (const { index: start } of crossings) {
    if (begun.has(start)) continue;
    const part: PlanPoint[] = [];
    for (let from = start; !begun.has(from); ) {
      begun.add(from);
      part.push((stops[from] as Stop).point);
      let index = (from + 1) % stops.length;
      for (; (stops[index] as Stop).along === null; index = (index + 1) % stops.length)
        part.push((stops[index] as Stop).point);
      part.push((stops[index] as Stop).point);
      from = partner.get(index) as number;
    }
    parts.push(tidy(part));
  }
  const real = parts.filter((part) => part.length >= 3 && areaM2(part) > 0.01);
  return real.length < 2 ? [outline] : real.sort((one, other) => areaM2(other) - areaM2(one));
}
