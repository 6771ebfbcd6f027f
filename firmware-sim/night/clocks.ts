// Hours of a milestone at a slab temperature, by the printed rows of a sheet: the simulator's own reckoning, not the judge's.
import type { SheetBody } from "#contract/sheet.ts";

export type Clock = "recoatFromH" | "recoatUntilH" | "dewSafeH";
export type HoursAt = (slabC: number) => number;

const GAS_J_PER_MOL_K = 8.314462618;
const ONE_ROW_J_PER_MOL = 70_000;
const NEVER: HoursAt = () => Number.POSITIVE_INFINITY;

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
  let upper = 1;
  while (upper < points.length - 1 && (points[upper] as Point)[0] < slabC) upper++;
  const [a, b] = [points[upper - 1] as Point, points[upper] ?? (points[0] as Point)];
  return b[0] === a[0] ? a[1] : a[1] * (b[1] / a[1]) ** ((slabC - a[0]) / (b[0] - a[0]));
}

/** The maximum: coldest row held below it; above the hottest it shrinks by the last slope, at least halving per 10 K. */
function maximum(points: readonly Point[], first: Point, last: Point): HoursAt {
  const before = points.at(-2);
  const slope = before === undefined ? 0 : Math.log(last[1] / before[1]) / (last[0] - before[0]);
  const steepest = Math.min(slope, -Math.LN2 / 10);
  return (slabC) => {
    if (slabC <= first[0]) return first[1];
    if (slabC <= last[0]) return between(points, slabC);
    return last[1] * Math.exp(steepest * (slabC - last[0]));
  };
}

/**
 * Hours of a milestone against slab temperature: log hours straight in temperature between printed rows; Infinity = earns
 * nothing there (a minimum below its rows) or never closes (a maximum that is not printed).
 */
export function hoursOf(sheet: SheetBody, clock: Clock): HoursAt {
  const points = pointsOf(sheet, clock);
  const [first, last] = [points[0], points.at(-1)];
  if (clock === "dewSafeH") {
    const recoat = hoursOf(sheet, "recoatFromH");
    if (first === undefined || last === undefined) return (slabC) => 1.3 * recoat(slabC);
    return (slabC) => (slabC < first[0] || slabC > last[0] ? 1.3 * recoat(slabC) : between(points, slabC));
  }
  if (first === undefined || last === undefined) return NEVER;
  if (clock === "recoatUntilH") return maximum(points, first, last);
  const leastC = sheet.cure.length > 1 ? null : sheet.limits.slabC[0];
  return (slabC) => {
    if (slabC >= last[0]) return last[1];
    if (slabC >= first[0]) return between(points, slabC);
    if (leastC === null || slabC < leastC) return Number.POSITIVE_INFINITY;
    const colder = 1 / (slabC + 273.15) - 1 / (first[0] + 273.15);
    return first[1] * Math.exp((ONE_ROW_J_PER_MOL / GAS_J_PER_MOL_K) * colder);
  };
}
