// One ask of the study: what was called, what plain rules would have called, and what was truly so.
import type { Call } from "#core/judge/call.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { SHED_ZONE } from "../scenario/shed.ts";
import { type Baselines, baselinesOf, measuredMargins } from "./baselines.ts";
import { type Truth, truthOf } from "./fit.ts";
import { playNight, STEP_MS } from "./play.ts";
import type { StudyNight } from "./sample.ts";

const HOUR_MS = 3_600_000;
const COME_BACK_H = 36;
const DEWED_MIN = 15;
const SOFT_MIN = 15;
const EARNED_LEAST = 0.95;
/** A finish past the closing by less than this share of the window is a matter of sensors. */
const PAST_SHARE = 0.03;

export interface TruthAt {
  readonly fit: boolean;
  readonly comfortable: boolean;
  readonly holds: boolean;
  readonly lowestMarginK: number;
  readonly nightH: number | null;
  readonly earned: number | null;
  /** Why a pour now would be false beyond dispute; empty if it would not. */
  readonly hard: readonly string[];
  readonly soft: boolean;
  readonly comesFitMs: number | null;
}

/** What the judge said, and what the plain rules make of the same present. */
export interface Called extends Baselines {
  readonly call: string;
  readonly limiting: string | null;
  /** Every rule that stops. */
  readonly stops: readonly string[];
  readonly chanceHolds: number | null;
  readonly lowestMarginK: readonly [number, number, number] | null;
  readonly next: {
    readonly call: string;
    readonly earliestMs: number;
    readonly likelyMs: number;
    readonly chance: number;
  } | null;
  /** Why judging failed; null when it did not. */
  readonly problem: string | null;
  readonly tookMs: number;
}

export interface StudyMoment extends Called {
  readonly night: number;
  readonly seed: number;
  readonly title: string;
  readonly askMs: number;
  readonly floor: string;
  readonly heat: string;
  readonly heatLogged: boolean;
  readonly outdoor: string;
  readonly stage: string;
  readonly fault: string | null;
  readonly faultAtWork: boolean;
  readonly truth: TruthAt;
}

function hardReasons(truth: Truth, step: number, atMs: number): readonly string[] {
  const { film } = truth;
  const { dewedMin } = truth.night(step);
  const reasons: string[] = [];
  if (dewedMin >= DEWED_MIN) reasons.push(`condensing ${dewedMin} min`);
  if (film === null) return reasons;
  const earned = film.earned[step] as number;
  if (earned < EARNED_LEAST) reasons.push(`film earned ${earned.toFixed(2)}`);
  if (film.closesMs === null) return reasons;
  const lengthMs = film.closesMs - (film.opensMs ?? film.pour.toMs);
  const lateMs = atMs + truth.pourSteps * STEP_MS - film.closesMs;
  if (lateMs > PAST_SHARE * Math.max(0, lengthMs))
    reasons.push(`finish ${(lateMs / HOUR_MS).toFixed(1)} h past closing`);
  return reasons;
}

/** What is truly so at a moment. */
export function truthAt(truth: Truth, atMs: number): TruthAt {
  const step = truth.stepOf(atMs);
  const night = truth.night(step);
  return {
    fit: truth.fit(step),
    comfortable: truth.comfortable(step),
    holds: night.holds,
    lowestMarginK: night.lowestMarginK,
    nightH: night.endStep === null ? null : ((night.endStep - step) * STEP_MS) / HOUR_MS,
    earned: truth.film === null ? null : (truth.film.earned[step] as number),
    hard: hardReasons(truth, step, atMs),
    soft: night.softMin > SOFT_MIN,
    comesFitMs: truth.comesFitMs(step, COME_BACK_H),
  };
}

function momentOf(night: StudyNight, atMs: number, truth: TruthAt): Omit<StudyMoment, keyof Called> {
  const faults = night.scenario.nodes.flatMap((node) => node.faults);
  return {
    night: night.index,
    seed: night.scenario.seed,
    title: night.scenario.title,
    askMs: atMs,
    floor: night.floor,
    heat: night.heat,
    heatLogged: night.heatLogged,
    outdoor: night.outdoor,
    stage: night.stage,
    fault: night.fault,
    faultAtWork: faults.some((fault) => atMs >= fault.fromMs && atMs < fault.toMs),
    truth,
  };
}

function calledOf(call: Call, tookMs: number, plain: Baselines): Called {
  return {
    call: call.call,
    limiting: call.limiting,
    stops: call.rules.filter(({ outcome }) => outcome === "stop").map(({ rule }) => rule),
    chanceHolds: call.night?.chanceHolds ?? null,
    lowestMarginK: call.night?.lowestMarginK ?? null,
    next: call.next,
    problem: null,
    ...plain,
    tookMs,
  };
}

/** As the server does: a zone that could not be judged waits. */
function thrown(error: unknown, tookMs: number): Called {
  return {
    call: "wait",
    limiting: "judging-failed",
    stops: ["judging-failed"],
    chanceHolds: null,
    lowestMarginK: null,
    next: null,
    problem: error instanceof Error ? error.message : String(error),
    present: false,
    yesterday: false,
    presentHolds: false,
    yesterdayHolds: false,
    tookMs,
  };
}

/** Plays a night and judges it at every ask. `clock` gives milliseconds, for the cost of a call. */
export function studyNight(night: StudyNight, clock: () => number): readonly StudyMoment[] {
  const { course, log } = playNight(night);
  const truth = truthOf(night.scenario, course, night.feeds.length > 0);
  const measured = measuredMargins(log);
  const pourH = (truth.pourSteps * STEP_MS) / HOUR_MS;
  return night.asksMs.map((atMs) => {
    const before = clock();
    let called: Called;
    try {
      const { call } = judgeZone(log, SHED_ZONE, atMs);
      const tookMs = clock() - before;
      called = calledOf(call, tookMs, baselinesOf(call, truth.sheet, pourH, measured));
    } catch (error) {
      called = thrown(error, clock() - before);
    }
    return { ...momentOf(night, atMs, truthAt(truth, atMs)), ...called };
  });
}
