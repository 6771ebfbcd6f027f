// The points of the zone's chart: what was read, then what is foreseen, in the person's degrees. Pure.
import type { SeriesBody } from "#contract/board.ts";
import type { OutlookBody } from "#contract/outlook.ts";
import { fDifferenceFromK, fFromC } from "#core/units.ts";
import type { UnitSystem } from "../../units/show.ts";

type Band = readonly [low: number, high: number];

export interface ChartPoint {
  readonly atMs: number;
  readonly slab: number | null;
  readonly dew: number | null;
  /** From the dew point to the dew point plus the margin limit: the slab may not be in it. */
  readonly forbidden: Band | null;
  readonly air: number | null;
  readonly humidity: number | null;
  readonly slabAhead: number | null;
  readonly slabFan: Band | null;
  readonly dewAhead: number | null;
  readonly airAhead: number | null;
  readonly airFan: Band | null;
}

const NOTHING = {
  slab: null,
  dew: null,
  air: null,
  humidity: null,
  slabAhead: null,
  slabFan: null,
  dewAhead: null,
  airAhead: null,
  airFan: null,
};
/** More points than these a phone does not draw in time. */
export const MOST_POINTS = 500;
const AHEAD_POINTS = 150;

/** Every n-th step, so that no more than `most` remain. */
function thinned(count: number, most: number): number[] {
  const every = Math.max(1, Math.ceil(count / most));
  return Array.from({ length: Math.ceil(count / every) }, (_, index) => index * every);
}

export function chartPoints(
  series: SeriesBody | null,
  outlook: OutlookBody | null,
  limitK: number,
  units: UnitSystem,
): ChartPoint[] {
  const degrees = (c: number | null | undefined) =>
    c === null || c === undefined ? null : Math.round((units === "us" ? fFromC(c) : c) * 100) / 100;
  const limit = units === "us" ? fDifferenceFromK(limitK) : limitK;
  const forbidden = (dew: number | null): Band | null => (dew === null ? null : [dew, dew + limit]);
  const band = (low: number | undefined, high: number | undefined): Band | null => {
    const pair = [degrees(low), degrees(high)];
    return pair[0] === null || pair[1] === null || pair[0] === undefined || pair[1] === undefined
      ? null
      : [pair[0], pair[1]];
  };
  const points: ChartPoint[] = [];
  if (series !== null) {
    const { conditions: past, stepS } = series;
    for (const index of thinned(past.slabColdC.length, MOST_POINTS - AHEAD_POINTS)) {
      const dew = degrees(past.dewPointC[index]);
      points.push({
        ...NOTHING,
        atMs: Date.parse(series.from) + index * stepS * 1000,
        slab: degrees(past.slabColdC[index]),
        dew,
        forbidden: forbidden(dew),
        air: degrees(past.airC[index]),
        humidity: past.rhPct[index] ?? null,
      });
    }
  }
  if (outlook !== null) {
    const { slabColdC: slab, dewPointC: dewPoint, airC: air } = outlook;
    for (const index of thinned(slab.q50.length, AHEAD_POINTS)) {
      const dew = degrees(dewPoint.q50[index]);
      points.push({
        ...NOTHING,
        atMs: Date.parse(outlook.from) + index * outlook.stepS * 1000,
        slabAhead: degrees(slab.q50[index]),
        slabFan: band(slab.q10[index], slab.q90[index]),
        dewAhead: dew,
        forbidden: forbidden(dew),
        airAhead: degrees(air.q50[index]),
        airFan: band(air.q10[index], air.q90[index]),
      });
    }
  }
  return points;
}
