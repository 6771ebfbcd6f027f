// From the moments of a study to its figures: false pours, missed ones, chances, intervals, come-backs.
import type { StudyMoment } from "./moment.ts";
import { brier, brierSkill, coverage, intervalScore, mean, quantileOf, reliabilityTable, skill } from "./scores.ts";

const MINUTE_MS = 60_000;
const NEAR_MIN = 90;

export type Caller = "ours" | "present" | "yesterday";
export const CALLERS: readonly Caller[] = ["ours", "present", "yesterday"];
export const pours = (moment: StudyMoment, caller: Caller) =>
  caller === "ours" ? moment.call === "pour" : moment[caller];

export interface PourFigures {
  readonly pours: number;
  readonly hard: number;
  readonly soft: number;
  readonly comfortableMissed: number;
  readonly fitCalled: number;
}

/** Counts as well as shares, so that a share of few is seen for what it is. */
export function pourFigures(moments: readonly StudyMoment[], caller: Caller): PourFigures {
  const called = moments.filter((moment) => pours(moment, caller));
  const comfortable = moments.filter(({ truth }) => truth.comfortable);
  const fit = moments.filter(({ truth }) => truth.fit);
  return {
    pours: called.length,
    hard: called.filter(({ truth }) => truth.hard.length > 0).length,
    soft: called.filter(({ truth }) => truth.soft).length,
    comfortableMissed: comfortable.filter((moment) => !pours(moment, caller)).length,
    fitCalled: fit.filter((moment) => pours(moment, caller)).length,
  };
}

export interface Blocker {
  readonly rule: string;
  readonly limiting: number;
  /** Moments at which it stops, alone or with others. */
  readonly stops: number;
}

/** Rules that stood in the way at moments that were not called pour, most frequent first. */
export function blockers(moments: readonly StudyMoment[]): readonly Blocker[] {
  const found = new Map<string, { limiting: number; stops: number }>();
  const of = (rule: string) => {
    const known = found.get(rule) ?? { limiting: 0, stops: 0 };
    found.set(rule, known);
    return known;
  };
  for (const moment of moments.filter(({ call }) => call !== "pour")) {
    of(moment.limiting ?? moment.call).limiting++;
    for (const rule of moment.stops) of(rule).stops++;
  }
  return [...found]
    .map(([rule, counts]) => ({ rule, ...counts }))
    .sort((a, b) => b.limiting - a.limiting || b.stops - a.stops || a.rule.localeCompare(b.rule));
}

export function nightFigures(moments: readonly StudyMoment[]) {
  const cases = moments.flatMap((moment) =>
    moment.chanceHolds === null || moment.lowestMarginK === null
      ? []
      : [{ ...moment, chance: moment.chanceHolds, interval: moment.lowestMarginK }],
  );
  const o = cases.map(({ truth }) => (truth.holds ? 1 : 0));
  const ours = cases.map(({ chance }) => chance);
  const present = cases.map(({ presentHolds }) => (presentHolds ? 1 : 0));
  const yesterday = cases.map(({ yesterdayHolds }) => (yesterdayHolds ? 1 : 0));
  const both = present.map((chance, i) => (chance + (yesterday[i] as number)) / 2);
  const low = cases.map(({ interval }) => interval[0]);
  const high = cases.map(({ interval }) => interval[2]);
  const lowest = cases.map(({ truth }) => truth.lowestMarginK);
  return {
    cases: cases.length,
    holds: mean(o),
    brier: brier(ours, o),
    brierPresent: brier(present, o),
    brierYesterday: brier(yesterday, o),
    brierBoth: brier(both, o),
    improvement: skill(brier(ours, o), brier(both, o)),
    skillClimate: brierSkill(ours, o),
    reliability: reliabilityTable(ours, o),
    coverage: coverage(low, high, lowest),
    below: mean(lowest.map((value, i) => (value < (low[i] as number) ? 1 : 0))),
    above: mean(lowest.map((value, i) => (value > (high[i] as number) ? 1 : 0))),
    widthK: mean(high.map((value, i) => value - (low[i] as number))),
    scoreK: mean(lowest.map((value, i) => intervalScore(low[i] as number, high[i] as number, 0.2, value))),
  };
}

export function comeBackFigures(moments: readonly StudyMoment[]) {
  const cases = moments.flatMap((moment) =>
    moment.truth.fit || moment.call === "pour" || moment.truth.comesFitMs === null
      ? []
      : [{ moment, fitMs: moment.truth.comesFitMs }],
  );
  const told = cases.flatMap(({ moment, fitMs }) => (moment.next?.call === "pour" ? [{ ...moment.next, fitMs }] : []));
  const apartMin = told.map(({ likelyMs, fitMs }) => Math.abs(likelyMs - fitMs) / MINUTE_MS);
  const late = told.map(({ likelyMs, fitMs }) => (likelyMs - fitMs) / MINUTE_MS);
  return {
    cases: cases.length,
    told: told.length,
    medianMin: quantileOf(apartMin, 0.5),
    near: mean(apartMin.map((each) => (each <= NEAR_MIN ? 1 : 0))),
    medianLateMin: quantileOf(late, 0.5),
    earliestHolds: mean(told.map(({ earliestMs, fitMs }) => (earliestMs <= fitMs ? 1 : 0))),
    untold: blockers(cases.filter(({ moment }) => moment.next?.call !== "pour").map(({ moment }) => moment)),
  };
}
