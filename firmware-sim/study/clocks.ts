// Hours of a milestone at a slab temperature, by the printed rows of a sheet: the study's own reckoning, not the judge's.
import type { SheetBody } from "#contract/sheet.ts";

export type Clock = "recoatFromH" | "recoatUntilH" | "dewSafeH";

const GAS_J_PER_MOL_K = 8.314462618;
const ONE_ROW_J_PER_MOL = 70_000;

type Point = readonly [slabC: number, hoursH: number];

function pointsOf(sheet: SheetBody, clock: Clock): readonly Point[] {
  return sheet.cure
    .flatMap((row): Point[] => {
      const hours = row[clock];
      return hours === null ? [] : [[row.slabC, hours]];
    })
    .sort(([a], [b]) => a - b);
}

function between(points: readonly Point[], slabC: number): number {
  const upper = Math.max(
    1,
    points.findIndex(([atC]) => atC >= slabC),
  );
  const [a, b] = [points[upper - 1] as Point, points[upper] ?? (points.at(-1) as Point)];
  if (b[0] === a[0]) return a[1];
  return a[1] * (b[1] / a[1]) ** ((slabC - a[0]) / (b[0] - a[0]));
}

/**
 * Hours of a milestone at `slabC`: log hours straight in temperature between printed rows; Infinity = earns nothing there
 * (a minimum below its rows) or never closes (a maximum that is not printed).
 */
export function hoursH(sheet: SheetBody, clock: Clock, slabC: number): number {
  const points = pointsOf(sheet, clock);
  const [first, last] = [points[0], points.at(-1)];
  if (clock === "dewSafeH" && (first === undefined || last === undefined || slabC < first[0] || slabC > last[0]))
    return 1.3 * hoursH(sheet, "recoatFromH", slabC);
  if (first === undefined || last === undefined) return Number.POSITIVE_INFINITY;
  if (clock === "recoatUntilH") {
    if (slabC <= first[0]) return first[1];
    if (slabC <= last[0]) return between(points, slabC);
    const before = points.at(-2);
    const slope = before === undefined ? 0 : Math.log(last[1] / before[1]) / (last[0] - before[0]);
    return last[1] * Math.exp(Math.min(slope, -Math.LN2 / 10) * (slabC - last[0]));
  }
  if (slabC >= last[0]) return last[1];
  if (slabC >= first[0]) return between(points, slabC);
  const leastC = sheet.limits.slabC[0];
  if (sheet.cure.length > 1 || leastC === null || slabC < leastC) return Number.POSITIVE_INFINITY;
  return first[1] * Math.exp((ONE_ROW_J_PER_MOL / GAS_J_PER_MOL_K) * (1 / (slabC + 273.15) - 1 / (first[0] + 273.15)));
}
