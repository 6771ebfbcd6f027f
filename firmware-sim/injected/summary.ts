// From the outcomes of injected nights to figures: calls turned, moments lost, faults told, alarms without a fault.
import { quantileOf } from "../study/scores.ts";
import type { CaseOutcome, NightOutcome, TwinMoment } from "./outcome.ts";

const HOUR_MS = 3_600_000;
/** A difference of margin or slab under this is within what cheap probes say anyway. */
const NOTHING_K = 0.3;

export const turned = ({ clean, faulty }: TwinMoment) => clean !== "pour" && faulty === "pour";
/** The fault had been told at that moment. */
export const wasTold = ({ told, fromMs }: CaseOutcome, { askMs }: TwinMoment) =>
  told !== null && fromMs + told.afterH * HOUR_MS <= askMs;
/** Called pour in the night without the fault, rightly and with room to spare. */
const offered = ({ clean, comfortable }: TwinMoment) => clean === "pour" && comfortable;

const hadGap = ({ another, unwatched }: TwinMoment) => another && unwatched;
const seen = ({ another, unwatched }: TwinMoment) => another && !unwatched;

export interface CallFigures {
  readonly moments: number;
  readonly turned: number;
  /** Of those, the ones whose fault had been told by then: the judge knew better. The others had nothing to tell them by. */
  readonly turnedTold: number;
  /** Of those, the ones that failed in truth: beyond dispute, or by a limit crossed. */
  readonly turnedHard: number;
  readonly turnedSoft: number;
  readonly comfortable: number;
  readonly lost: number;
  /** Of both, those at which nothing else could judge the zone: the fault had taken its only chip or all its slab probes. */
  readonly comfortableBlind: number;
  readonly lostBlind: number;
  /** And the ones at which something could again, after the zone had gone unwatched: its past has a gap. */
  readonly comfortableUnwatched: number;
  readonly lostUnwatched: number;
  /** The others: all the time something could. */
  readonly comfortableSeen: number;
  readonly lostSeen: number;
  /** Pours of the faulty nights that were false in truth, and how many of them the clean night called as well. */
  readonly pours: number;
  readonly hard: number;
  readonly hardBoth: number;
  readonly soft: number;
  readonly softBoth: number;
  /** Rules that limited where a comfortable moment was lost though something could judge all the time, most frequent first. */
  readonly lostTo: readonly (readonly [rule: string, count: number])[];
}

export function callFigures(cases: readonly CaseOutcome[]): CallFigures {
  const moments = cases.flatMap((each) => each.moments);
  const count = (is: (moment: TwinMoment) => boolean) => moments.filter(is).length;
  const pours = moments.filter(({ faulty }) => faulty === "pour");
  const hard = pours.filter((each) => each.hard.length > 0);
  const soft = pours.filter((each) => each.soft);
  const both = (list: readonly TwinMoment[]) => list.filter(({ clean }) => clean === "pour").length;
  const lost = moments.filter((each) => offered(each) && each.faulty !== "pour");
  const to = new Map<string, number>();
  for (const { faultyLimiting, faulty } of lost.filter(seen))
    to.set(faultyLimiting ?? faulty, (to.get(faultyLimiting ?? faulty) ?? 0) + 1);
  return {
    moments: moments.length,
    turned: count(turned),
    turnedTold: cases.flatMap((each) => each.moments.filter((moment) => turned(moment) && wasTold(each, moment)))
      .length,
    turnedHard: moments.filter((each) => turned(each) && each.hard.length > 0).length,
    turnedSoft: moments.filter((each) => turned(each) && each.hard.length === 0 && each.soft).length,
    comfortable: count(offered),
    lost: lost.length,
    comfortableBlind: count((each) => offered(each) && !each.another),
    lostBlind: lost.filter(({ another }) => !another).length,
    comfortableUnwatched: count((each) => offered(each) && hadGap(each)),
    lostUnwatched: lost.filter(hadGap).length,
    comfortableSeen: count((each) => offered(each) && seen(each)),
    lostSeen: lost.filter(seen).length,
    pours: pours.length,
    hard: hard.length,
    hardBoth: both(hard),
    soft: soft.length,
    softBoth: both(soft),
    lostTo: [...to].sort((a, b) => b[1] - a[1] || a[0].localeCompare(b[0])),
  };
}

/** What a fault did to margin and coldest slab while at work, as far as it was looked at. */
export function directionOf({ moments }: CaseOutcome): "nothing" | "stricter" | "hopeful" {
  const changes = moments
    .filter(({ atWork }) => atWork)
    .flatMap(({ marginK, slabColdK }) => [marginK, slabColdK].filter((each) => each !== null));
  if (changes.some((each) => each > NOTHING_K)) return "hopeful";
  return changes.some((each) => each < -NOTHING_K) ? "stricter" : "nothing";
}

export interface ToldFigures {
  readonly cases: number;
  readonly told: number;
  readonly byDoubt: number;
  readonly medianH: number;
  /** Of those not told: what they did. */
  readonly nothing: number;
  readonly stricter: number;
  readonly hopeful: number;
  /** Most that an untold fault added to the margin at a moment looked at, K; 0 if none did. */
  readonly mostHopefulK: number;
}

export function toldFigures(cases: readonly CaseOutcome[]): ToldFigures {
  const told = cases.flatMap((each) => each.told ?? []);
  const untold = cases.filter((each) => each.told === null);
  const went = untold.map(directionOf);
  const count = (way: ReturnType<typeof directionOf>) => went.filter((each) => each === way).length;
  const margins = untold.flatMap(({ moments }) =>
    moments.filter(({ atWork }) => atWork).map(({ marginK }) => marginK ?? 0),
  );
  return {
    cases: cases.length,
    told: told.length,
    byDoubt: told.filter(({ by }) => by === "doubt").length,
    medianH: quantileOf(
      told.map(({ afterH }) => afterH),
      0.5,
    ),
    nothing: count("nothing"),
    stricter: count("stricter"),
    hopeful: count("hopeful"),
    mostHopefulK: Math.max(0, ...margins),
  };
}

export const alone = (nights: readonly NightOutcome[]) =>
  nights.flatMap(({ cases }) => cases.filter(({ kinds }) => kinds.length === 1));
export const inPairs = (nights: readonly NightOutcome[]) =>
  nights.flatMap(({ cases }) => cases.filter(({ kinds }) => kinds.length === 2));

export interface AlarmFigures {
  readonly probeNights: number;
  readonly byKind: readonly (readonly [kind: string, count: number])[];
}

/** Doubts on nights without a fault, by kind; a probe counts once a night and kind. */
export function alarmFigures(nights: readonly NightOutcome[]): AlarmFigures {
  const byKind = new Map<string, number>();
  for (const { kind } of nights.flatMap(({ alarms }) => alarms)) byKind.set(kind, (byKind.get(kind) ?? 0) + 1);
  return {
    probeNights: nights.reduce((sum, { probes }) => sum + probes, 0),
    byKind: [...byKind].sort((a, b) => b[1] - a[1] || a[0].localeCompare(b[0])),
  };
}
