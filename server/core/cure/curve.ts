// Hours of one milestone against surface temperature, from the printed rows of a sheet.
import type { Milestone, Sheet } from "#core/cure/sheet.ts";

/** Activation energy assumed below the only row of a one-row sheet, J/mol. Common practice, no source; labelled estimate. */
export const ONE_ROW_ENERGY_J_PER_MOL = 70_000;
/** Dew-safe hours where the sheet prints none: this many times the recoat minimum. Common practice, no source. */
export const DEW_SAFE_FACTOR = 1.3;
const GAS_J_PER_MOL_K = 8.314462618;
const ZERO_C_K = 273.15;

/** Hours of one milestone against surface temperature. On the hot path, so plain numbers go in and out. */
export interface CureCurve {
  /** Hours at a surface temperature; Infinity = earns nothing there. */
  hours(slabC: number): number;
  /** True where the hours are our estimate, not printed on the sheet. */
  estimated(slabC: number): boolean;
  /** Between these its hours change, °C: all that is colder has the same ones, and all that is hotter. */
  readonly bends: readonly [fromC: number, toC: number];
}

interface Points {
  readonly slabC: readonly number[];
  readonly lnHours: readonly number[];
}

interface Printed {
  readonly slabC: number;
  readonly hours: number | null;
}

function pointsOf(rows: readonly Printed[]): Points {
  const printed = rows.filter(({ hours }) => hours !== null && hours > 0);
  const sorted = [...printed].sort((a, b) => a.slabC - b.slabC);
  return { slabC: sorted.map(({ slabC }) => slabC), lnHours: sorted.map(({ hours }) => Math.log(hours as number)) };
}

function printedPoints(sheet: Sheet, milestone: Milestone): Points {
  return pointsOf(sheet.cure.map((row) => ({ slabC: row.slabC, hours: row[milestone] })));
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

const NOTHING: CureCurve = { hours: () => Number.POSITIVE_INFINITY, estimated: () => false, bends: [0, 0] };

/**
 * Hours of a minimum (recoat from, foot, traffic) at a surface temperature.
 * Hotter than the hottest printed row keeps that row's hours; colder than the coldest earns nothing. A sheet with one
 * row is carried below it by Arrhenius down to the sheet's lowest slab temperature, labelled estimate.
 */
function minimumCurve(sheet: Sheet, milestone: Milestone): CureCurve {
  const floorC = sheet.cure.length === 1 ? sheet.limits.slabC[0] : null;
  return earningCurve(printedPoints(sheet, milestone), floorC);
}

/** Hours until a crack filler is hard, by the same rules as any other minimum. */
export function hardCurve(sheet: Sheet): CureCurve {
  const rows = sheet.hard ?? [];
  const points = pointsOf(rows.map(({ slabC, hardH }) => ({ slabC, hours: hardH })));
  return earningCurve(points, rows.length === 1 ? sheet.limits.slabC[0] : null);
}

/** `floorC`: how far down a single row is carried; null = not at all. */
function earningCurve(points: Points, floorC: number | null): CureCurve {
  const count = points.slabC.length;
  if (count === 0) return NOTHING;
  const coldestC = points.slabC[0] as number;
  const hottestC = points.slabC[count - 1] as number;
  const hottestH = Math.exp(points.lnHours[count - 1] as number);
  const carried = (slabC: number) => floorC !== null && slabC >= floorC && slabC < coldestC;
  return {
    hours: (slabC) => {
      if (slabC >= hottestC) return hottestH;
      if (slabC >= coldestC) return Math.exp(lnBetween(points, slabC));
      if (!carried(slabC)) return Number.POSITIVE_INFINITY;
      const slowdown =
        (ONE_ROW_ENERGY_J_PER_MOL / GAS_J_PER_MOL_K) * (1 / (slabC + ZERO_C_K) - 1 / (coldestC + ZERO_C_K));
      return Math.exp((points.lnHours[0] as number) + slowdown);
    },
    estimated: carried,
    bends: [Math.min(coldestC, floorC ?? coldestC), hottestC],
  };
}

/** Dew-safe hours: printed rows between them, elsewhere a multiple of the recoat minimum, labelled estimate. */
function dewSafeCurve(sheet: Sheet): CureCurve {
  const points = printedPoints(sheet, "dewSafeH");
  const count = points.slabC.length;
  const recoat = minimumCurve(sheet, "recoatFromH");
  const coldestC = points.slabC[0] ?? Number.POSITIVE_INFINITY;
  const hottestC = points.slabC[count - 1] ?? Number.NEGATIVE_INFINITY;
  const printed = (slabC: number) => slabC >= coldestC && slabC <= hottestC;
  return {
    hours: (slabC) => {
      if (!printed(slabC)) return recoat.hours(slabC) * DEW_SAFE_FACTOR;
      return Math.exp(count === 1 ? (points.lnHours[0] as number) : lnBetween(points, slabC));
    },
    estimated: (slabC) => !printed(slabC),
    bends: [Math.min(coldestC, recoat.bends[0]), Math.max(hottestC, recoat.bends[1])],
  };
}

/**
 * Hours of the recoat maximum. Colder than the coldest row: that row's hours. Hotter than the hottest: shrinks by the
 * steeper of the last slope and halving per 10 K. No printed row: never closes (Infinity).
 */
function maximumCurve(sheet: Sheet): CureCurve {
  const points = printedPoints(sheet, "recoatUntilH");
  const count = points.slabC.length;
  if (count === 0) return NOTHING;
  const coldestC = points.slabC[0] as number;
  const hottestC = points.slabC[count - 1] as number;
  const coldestH = Math.exp(points.lnHours[0] as number);
  const lnHottest = points.lnHours[count - 1] as number;
  const spanK = count > 1 ? hottestC - (points.slabC[count - 2] as number) : 0;
  const lastSlope = spanK > 0 ? (lnHottest - (points.lnHours[count - 2] as number)) / spanK : 0;
  const slope = Math.min(lastSlope, -Math.LN2 / 10);
  return {
    hours: (slabC) => {
      if (slabC <= coldestC) return coldestH;
      if (slabC > hottestC) return Math.exp(lnHottest + slope * (slabC - hottestC));
      return Math.exp(lnBetween(points, slabC));
    },
    estimated: (slabC) => slabC > hottestC,
    bends: [coldestC, Number.POSITIVE_INFINITY],
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
