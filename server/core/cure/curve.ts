// Hours of one milestone against surface temperature, from the printed rows of a sheet.
import type { Milestone, Sheet } from "#core/cure/sheet.ts";

/** Activation energy assumed below the only row of a one-row sheet, J/mol. Common practice, no source; labelled estimate. */
export const ONE_ROW_ENERGY_J_PER_MOL = 70_000;
/** Dew-safe hours where the sheet prints none: this many times the recoat minimum. Common practice, no source. */
export const DEW_SAFE_FACTOR = 1.3;
const GAS_J_PER_MOL_K = 8.314462618;
const ZERO_C_K = 273.15;

/** Hours at one temperature; `hours` Infinity = earns nothing there. */
export interface CureHours {
  readonly hours: number;
  /** Our estimate, not printed on the sheet. */
  readonly estimated: boolean;
}

interface Points {
  readonly slabC: readonly number[];
  readonly lnHours: readonly number[];
}

function printedPoints(sheet: Sheet, milestone: Milestone): Points {
  const rows = sheet.cure.filter((row) => row[milestone] !== null && (row[milestone] as number) > 0);
  const sorted = [...rows].sort((a, b) => a.slabC - b.slabC);
  return { slabC: sorted.map((row) => row.slabC), lnHours: sorted.map((row) => Math.log(row[milestone] as number)) };
}

/** Log of the hours between printed rows: linear in temperature. `slabC` must lie within the points. */
function lnBetween(points: Points, slabC: number): number {
  const { slabC: at, lnHours } = points;
  let upper = 1;
  while (upper < at.length - 1 && slabC > (at[upper] as number)) upper++;
  const low = at[upper - 1] as number;
  const span = (at[upper] as number) - low;
  const share = span > 0 ? (slabC - low) / span : 0;
  const from = lnHours[upper - 1] as number;
  return from + share * ((lnHours[upper] as number) - from);
}

export type CureCurve = (slabC: number) => CureHours;

const NOTHING: CureHours = { hours: Number.POSITIVE_INFINITY, estimated: false };

/**
 * Hours of a minimum (recoat from, foot, traffic) at a surface temperature.
 * Hotter than the hottest printed row keeps that row's hours; colder than the coldest earns nothing. A sheet with one
 * row is carried below it by Arrhenius down to the sheet's lowest slab temperature, labelled estimate.
 */
function minimumCurve(sheet: Sheet, milestone: Milestone): CureCurve {
  const points = printedPoints(sheet, milestone);
  const count = points.slabC.length;
  if (count === 0) return () => NOTHING;
  const coldestC = points.slabC[0] as number;
  const hottestC = points.slabC[count - 1] as number;
  const hottest: CureHours = { hours: Math.exp(points.lnHours[count - 1] as number), estimated: false };
  const floorC = sheet.cure.length === 1 ? sheet.limits.slabC[0] : null;
  return (slabC) => {
    if (slabC >= hottestC) return hottest;
    if (slabC >= coldestC) return { hours: Math.exp(lnBetween(points, slabC)), estimated: false };
    if (floorC === null || !(slabC >= floorC)) return NOTHING;
    const slowdown = (ONE_ROW_ENERGY_J_PER_MOL / GAS_J_PER_MOL_K) * (1 / (slabC + ZERO_C_K) - 1 / (coldestC + ZERO_C_K));
    return { hours: Math.exp((points.lnHours[0] as number) + slowdown), estimated: true };
  };
}

/** Dew-safe hours: printed rows between them, elsewhere a multiple of the recoat minimum, labelled estimate. */
function dewSafeCurve(sheet: Sheet): CureCurve {
  const points = printedPoints(sheet, "dewSafeH");
  const count = points.slabC.length;
  const recoat = minimumCurve(sheet, "recoatFromH");
  const estimate: CureCurve = (slabC) => ({ hours: recoat(slabC).hours * DEW_SAFE_FACTOR, estimated: true });
  if (count === 0) return estimate;
  const coldestC = points.slabC[0] as number;
  const hottestC = points.slabC[count - 1] as number;
  if (count === 1) return (slabC) => (slabC === coldestC ? { hours: Math.exp(points.lnHours[0] as number), estimated: false } : estimate(slabC));
  return (slabC) =>
    slabC >= coldestC && slabC <= hottestC ? { hours: Math.exp(lnBetween(points, slabC)), estimated: false } : estimate(slabC);
}

/**
 * Hours of the recoat maximum. Colder than the coldest row: that row's hours. Hotter than the hottest: shrinks by the
 * steeper of the last slope and halving per 10 K. No printed row: never closes (Infinity).
 */
function maximumCurve(sheet: Sheet): CureCurve {
  const points = printedPoints(sheet, "recoatUntilH");
  const count = points.slabC.length;
  if (count === 0) return () => NOTHING;
  const coldestC = points.slabC[0] as number;
  const hottestC = points.slabC[count - 1] as number;
  const coldest: CureHours = { hours: Math.exp(points.lnHours[0] as number), estimated: false };
  const lnHottest = points.lnHours[count - 1] as number;
  const spanK = count > 1 ? hottestC - (points.slabC[count - 2] as number) : 0;
  const lastSlope = spanK > 0 ? (lnHottest - (points.lnHours[count - 2] as number)) / spanK : 0;
  const slope = Math.min(lastSlope, -Math.LN2 / 10);
  return (slabC) => {
    if (slabC <= coldestC) return coldest;
    if (slabC > hottestC) return { hours: Math.exp(lnHottest + slope * (slabC - hottestC)), estimated: true };
    return count === 1 ? coldest : { hours: Math.exp(lnBetween(points, slabC)), estimated: false };
  };
}

/** The curve of one milestone of a sheet. */
export function cureCurve(sheet: Sheet, milestone: Milestone): CureCurve {
  switch (milestone) {
    case "recoatUntilH":
      return maximumCurve(sheet);
    case "dewSafeH":
      return dewSafeCurve(sheet);
    case "recoatFromH":
    case "footH":
    case "trafficH":
      return minimumCurve(sheet, milestone);
  }
}
