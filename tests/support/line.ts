// A timeline for tests of film, exposure and surface, from points with round numbers.
import type { Timeline } from "#core/zone/timeline.ts";

export interface Point {
  readonly atMs: number;
  /** Slab at every probe, or coldest and hottest apart. */
  readonly slabC?: number;
  readonly coldC?: number;
  readonly hotC?: number;
  readonly dewC?: number;
}

/** The last point of a timeline stands at the moment of judging; here it repeats the last reading. */
export function lineOf(points: readonly Point[]): Timeline {
  const all = [...points, points.at(-1) as Point];
  const column = (pick: (point: Point) => number | undefined) =>
    Float64Array.from(all, (point) => pick(point) ?? Number.NaN);
  const coldC = column((point) => point.coldC ?? point.slabC);
  const dewC = column((point) => point.dewC);
  return {
    atMs: column((point) => point.atMs),
    slabColdC: coldC,
    slabHotC: column((point) => point.hotC ?? point.slabC),
    coldProbe: new Int16Array(all.length),
    hotProbe: new Int16Array(all.length),
    airMinC: column(() => undefined),
    airMaxC: column(() => undefined),
    rhMinPct: column(() => undefined),
    rhMaxPct: column(() => undefined),
    dewPointC: dewC,
    dewOnFloorC: dewC,
    dewPointMinC: dewC,
    marginK: coldC.map((value, index) => value - (dewC[index] as number)),
    readings: points.length,
  };
}

/** Points every ten minutes, both ends included, each as `at` says. */
export function every10Min(fromMs: number, toMs: number, at: (atMs: number) => Omit<Point, "atMs">): Point[] {
  const points: Point[] = [];
  for (let atMs = fromMs; atMs <= toMs; atMs += 600_000) points.push({ atMs, ...at(atMs) });
  return points;
}
