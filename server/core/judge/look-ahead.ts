// The calls to come: each member of the outlook is walked forward through the order of judgement.
import type { CallWord } from "#core/judge/call.ts";
import type { SheetLimitsNow } from "#core/judge/facts.ts";
import { fillerAhead } from "#core/judge/filler-ahead.ts";
import type { FilmAhead, PourAhead } from "#core/judge/member-walk.ts";
import type { Prospect } from "#core/judge/prospect.ts";
import { ABRASION_HOLDS_H } from "#core/judge/rules/abrasion-stale.ts";
import { BLUSH_FROM_MIN } from "#core/judge/rules/blush.ts";
import { INSPECT_FROM_MIN } from "#core/judge/rules/inspect-due.ts";
import { NIGHT_CHANCE } from "#core/judge/rules/night-dew.ts";
import { RISING_FROM_K_PER_H } from "#core/judge/rules/slab-rising.ts";
import { SUSTAINED_MIN } from "#core/judge/rules/not-sustained.ts";
import { conditionsAlwaysHold, conditionsHold, type Hold, holdOf } from "#core/judge/limits-along.ts";
import type { Reach } from "#core/judge/reach.ts";
import { luckOf, readingErrorOf } from "#core/judge/reading-error.ts";
import { abradedMsOf } from "#core/judge/surface-work.ts";
import type { Verdict } from "#core/judge/verdict.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { weightSums } from "#core/outlook/weight-sums.ts";
import { SLOPE_SPAN_MS } from "#core/zone/slope.ts";
import type { ZoneState } from "#core/zone/state.ts";
import { DAMP_FROM_G_PER_M2, waterAfterGPerM2 } from "#core/zone/surface-water.ts";

const HOUR_MS = 3_600_000;

/** Words by their code: a member's calls are kept as numbers, since there are tens of thousands of them. */
export const CALL_CODES: readonly CallWord[] = ["pour", "wait", "abrade", "finished"];
const POUR = 0;
const WAIT = 1;
const ABRADE = 2;

/** The calls of one member, one code a step. */
export type MemberCalls = Uint8Array;

interface Standing {
  /** Stops of now that stand until somebody acts, by the place they have in the order. */
  readonly recordStops: boolean;
  readonly blush: boolean;
  readonly inspect: boolean;
  readonly waitsForPerson: boolean;
  readonly rising: boolean;
  readonly foundDamp: boolean;
  readonly foundSoft: boolean;
  readonly resinFreeMs: number;
  readonly limits: SheetLimitsNow | null;
  readonly creditEndMs: number | null;
  readonly sustainedMin: number;
  /**
   * The call of now is pour: it stands while the margin passes by its uncertainty. A wait ends where the true margin
   * passes: a hand reading then shows it.
   */
  readonly pours: boolean;
  /** What the margin must stand above its limit for the call to stay pour. */
  readonly uncertaintyK: number;
}

function standingOf(
  state: ZoneState,
  verdict: Verdict,
  limits: SheetLimitsNow | null,
  sustainedMin: number | null,
): Standing {
  const { record, film, conditions } = state;
  const abradedMs = abradedMsOf(record, film);
  const resin = record.measured.filter((entry) => entry.resinC !== undefined).at(-1);
  const stops = new Set(verdict.rules.filter((rule) => rule.outcome === "stop").map((rule) => rule.rule));
  const soft = verdict.rules.find((rule) => rule.rule === "film-soft");
  return {
    recordStops: stops.has("sheet-invalid") || stops.has("record-missing") || stops.has("hold"),
    blush: stops.has("blush"),
    inspect: stops.has("inspect-due"),
    waitsForPerson: stops.has("dust") || stops.has("slab-moisture"),
    rising: stops.has("slab-rising"),
    foundDamp: state.water.foundDamp,
    foundSoft: soft?.outcome === "stop" && soft.detail === "found",
    resinFreeMs: stops.has("resin-temp") && resin !== undefined ? resin.atMs + 2 * HOUR_MS : Number.NEGATIVE_INFINITY,
    limits,
    creditEndMs: film === null || abradedMs === null ? null : abradedMs + ABRASION_HOLDS_H * HOUR_MS,
    sustainedMin: sustainedMin ?? 0,
    pours: verdict.call === "pour",
    uncertaintyK: stops.has("hand-check") || conditions.source === "live" ? (conditions.marginUncertaintyK ?? 1) : 0,
  };
}

/** What all members are walked with. */
interface Walk {
  readonly outlook: Outlook;
  readonly standing: Standing;
  readonly hold: Hold;
  /** For each start, whether the night of a pour then will be promised. */
  readonly promises: Uint8Array;
  readonly pourMs: number;
  readonly porous: boolean;
  readonly slopeSteps: number;
  readonly stepMin: number;
  /** Steps after which good time that was not broken is long enough, whatever went before. */
  readonly goodSteps: number;
  readonly filmLimitK: number;
  /** Minutes of dew and below the limit that the film has behind it now, and water that lies there. */
  readonly dewedMin: number;
  readonly belowMin: number;
  readonly waterG: number;
  /** Nothing stands that a member without any trouble of its own would have to wait for, but time. */
  readonly mayBeQuiet: boolean;
  /** The first step at which good time is long enough, where it is not broken. */
  readonly sustainedFrom: number;
}

/** Steps until good time that is not broken is long enough. */
function sustainedFromOf(sustainedMin: number, stepMin: number): number {
  let step = 0;
  for (let goodMin = sustainedMin; goodMin < SUSTAINED_MIN; goodMin += stepMin) step++;
  return step;
}

function walkOf(
  state: ZoneState,
  outlook: Outlook,
  standing: Standing,
  limits: SheetLimitsNow,
  promises: Uint8Array,
  pourMs: number,
): Walk {
  const stepMin = outlook.stepMs / 60_000;
  const { blush, inspect, waitsForPerson, foundDamp, sustainedMin } = standing;
  const dewedMin = state.exposure?.dewMin ?? 0;
  const waterG = state.water.gPerM2;
  return {
    outlook,
    standing,
    hold: holdOf(limits, state.log.altitudeM),
    promises,
    pourMs,
    porous: state.record.porous,
    slopeSteps: Math.round(SLOPE_SPAN_MS / outlook.stepMs),
    stepMin,
    goodSteps: Math.ceil(SUSTAINED_MIN / stepMin) + 1,
    filmLimitK: state.film?.sheet.limits.dewMarginK ?? 0,
    dewedMin,
    belowMin: state.exposure?.belowMin ?? 0,
    waterG,
    mayBeQuiet: !(blush || inspect || waitsForPerson || foundDamp) && dewedMin < BLUSH_FROM_MIN && waterG === 0,
    sustainedFrom: sustainedFromOf(sustainedMin, stepMin),
  };
}

function rises({ slabColdC }: OutlookMember, step: number, slopeSteps: number): boolean {
  const risenK = (slabColdC[step] as number) - (slabColdC[step - slopeSteps] as number);
  return risenK / (SLOPE_SPAN_MS / HOUR_MS) > RISING_FROM_K_PER_H;
}

/**
 * Minutes for which every limit has held at each step, reckoned only where somebody asks. Of what lies further back than
 * good time must last nothing is needed: if it broke since, it counts from there, and if it did not, it is long enough.
 */
class GoodTimeAhead {
  private reckoned = -1;
  private goodMin: number;

  constructor(
    private readonly member: OutlookMember,
    private readonly walk: Walk,
    /** What the true margin stands above the one that is read, K. */
    private readonly errorK: number,
  ) {
    this.goodMin = walk.standing.sustainedMin;
  }

  holds(step: number): boolean {
    const { slabColdC, dewPointC } = this.member;
    const { hold } = this.walk;
    const marginK = (slabColdC[step] as number) - (dewPointC[step] as number);
    return marginK + this.errorK >= hold.dewMarginK && conditionsHold(this.member, step, hold);
  }

  /** Whether they hold at a step, and have held for long enough. Steps must not go back. */
  sustained(step: number): boolean {
    const { stepMin, goodSteps } = this.walk;
    if (step === 0) return this.goodMin >= SUSTAINED_MIN && this.holds(0);
    // What stands now counts at step 0, whatever holds there.
    let next = Math.max(this.reckoned + 1, 1);
    if (step - goodSteps > next) {
      next = step - goodSteps;
      this.goodMin = 0;
    }
    for (; next <= step; next++) this.goodMin = this.holds(next) ? this.goodMin + stepMin : 0;
    this.reckoned = step;
    return this.goodMin >= SUSTAINED_MIN;
  }
}

/** Moments of one member, epoch ms; infinite where they do not come or have passed. */
interface Times {
  readonly softMs: number;
  readonly dewSafeMs: number;
  readonly closesMs: number;
  readonly creditEndMs: number;
  /** By then a pour must be down. */
  readonly endsMs: number;
}

function timesOf({ creditEndMs }: Standing, film: FilmAhead | null, fillerHardMs: number): Times {
  const opensMs = film === null ? Number.NEGATIVE_INFINITY : (film.opensMs ?? Number.POSITIVE_INFINITY);
  const closesMs = film?.closesMs ?? Number.POSITIVE_INFINITY;
  return {
    softMs: Math.max(fillerHardMs, opensMs),
    dewSafeMs: film === null ? Number.NEGATIVE_INFINITY : (film.dewSafeMs ?? Number.POSITIVE_INFINITY),
    closesMs,
    creditEndMs: creditEndMs ?? Number.NEGATIVE_INFINITY,
    endsMs: closesMs === Number.POSITIVE_INFINITY ? Number.POSITIVE_INFINITY : Math.max(closesMs, creditEndMs ?? 0),
  };
}

/** Whether a member keeps every limit at every step, as far as it goes. */
function isQuiet(walk: Walk, reach: Reach, index: number, errorK: number): boolean {
  const { standing, hold, filmLimitK, mayBeQuiet } = walk;
  const lowK = reach.lowMarginK[index] as number;
  return (
    mayBeQuiet &&
    lowK > 0 &&
    lowK >= filmLimitK &&
    lowK + errorK >= hold.dewMarginK &&
    !(standing.pours && lowK - standing.uncertaintyK < hold.dewMarginK) &&
    conditionsAlwaysHold(reach, index, hold)
  );
}

/** Walks a quiet member: what `callsOf` gives, where only time, slope and promise are left of the order of judgement. */
function quietCallsOf(walk: Walk, member: OutlookMember, times: Times, ownHolds: Uint8Array, calls: MemberCalls): void {
  const { outlook, standing, promises, pourMs, porous, slopeSteps, sustainedFrom } = walk;
  const { steps, fromMs, stepMs } = outlook;
  const { softMs, dewSafeMs, closesMs, creditEndMs, endsMs } = times;
  for (let step = 0; step < steps; step++) {
    const atMs = fromMs + step * stepMs;
    if (atMs < softMs) continue;
    if (atMs >= closesMs && atMs > creditEndMs) {
      if (step > 0 && atMs >= dewSafeMs) {
        calls.fill(ABRADE, step);
        return;
      }
      calls[step] = ABRADE;
      continue;
    }
    if (step < sustainedFrom || atMs < standing.resinFreeMs || atMs + pourMs > endsMs) continue;
    const promise = promises[step];
    if (promise !== ALWAYS && !(promise === IF_OWN_HOLDS && ownHolds[step] === 1)) continue;
    if (porous && (step < slopeSteps ? standing.rising : rises(member, step, slopeSteps))) continue;
    calls[step] = POUR;
  }
}

/** Walks one member through the order of judgement; `calls` say wait so far. */
function callsOf(
  walk: Walk,
  member: OutlookMember,
  times: Times,
  ownHolds: Uint8Array,
  errorK: number,
  calls: MemberCalls,
): void {
  const { outlook, standing, hold, promises, pourMs, porous, slopeSteps, stepMin, filmLimitK } = walk;
  const { steps, fromMs, stepMs } = outlook;
  const { softMs, dewSafeMs, closesMs, creditEndMs, endsMs } = times;
  const { slabColdC, dewPointC } = member;
  const good = new GoodTimeAhead(member, walk, errorK);
  let { dewedMin: dewMin, belowMin, waterG } = walk;
  for (let step = 0; step < steps; step++) {
    const atMs = fromMs + step * stepMs;
    const coldC = slabColdC[step] as number;
    const dewC = dewPointC[step] as number;
    const marginK = coldC - dewC;
    const sensitive = atMs < dewSafeMs;
    if (step > 0) {
      if (sensitive && marginK <= 0) dewMin += stepMin;
      if (sensitive && marginK < filmLimitK) belowMin += stepMin;
      // Dry and above the dew point it stays dry.
      if (waterG > 0 || marginK < 0) waterG = waterAfterGPerM2(waterG, coldC, dewC, stepMin / 60);
    }
    if (atMs < softMs) continue;
    const dewed = dewMin >= BLUSH_FROM_MIN && (sensitive || (step > 0 && dewMin > walk.dewedMin));
    const inspects = standing.inspect || (belowMin >= INSPECT_FROM_MIN && belowMin > walk.belowMin);
    const closed = atMs >= closesMs && atMs > creditEndMs;
    if (standing.blush || dewed || inspects || closed) {
      const call = standing.blush || dewed || !inspects ? ABRADE : WAIT;
      // Once dew does it no more harm nothing of this changes, up to the end.
      if (step > 0 && !sensitive) {
        calls.fill(call, step);
        return;
      }
      calls[step] = call;
      continue;
    }
    if (standing.waitsForPerson || atMs < standing.resinFreeMs) continue;
    if (marginK <= 0 || standing.foundDamp || waterG > DAMP_FROM_G_PER_M2) continue;
    if (standing.pours && marginK - standing.uncertaintyK < hold.dewMarginK) continue;
    if (porous && (step < slopeSteps ? standing.rising : rises(member, step, slopeSteps))) continue;
    if (atMs + pourMs > endsMs) continue;
    const promise = promises[step];
    if (promise !== ALWAYS && !(promise === IF_OWN_HOLDS && ownHolds[step] === 1)) continue;
    // Asked last, since it is dear; all of these wait.
    if (good.sustained(step)) calls[step] = POUR;
  }
}

/** What is promised of a night grows as it comes nearer: chance that is asked for so many hours ahead, where the member's own night holds. */
const NEED = { far: 0.5, withinH: 6 } as const;

/** For each start, the chance over all members that margin and minimum temperature hold. */
function nightChances({ members, steps }: Outlook, { pours }: Prospect): Float64Array {
  const chances = new Float64Array(steps);
  const sums = weightSums(members);
  if (sums !== null) {
    // Many hold, or do not, at every start alike.
    const alike = new Map<Uint8Array, number>();
    for (const { holds } of pours) alike.set(holds, (alike.get(holds) ?? 0) + 1);
    const counts = new Int32Array(steps);
    for (const [holds, times] of alike)
      for (let step = 0; step < steps; step++)
        counts[step] = (counts[step] as number) + times * (holds[step] as number);
    for (let step = 0; step < steps; step++) chances[step] = sums[counts[step] as number] as number;
    return chances;
  }
  for (const [index, pour] of pours.entries()) {
    const { weight } = members[index] as OutlookMember;
    for (let step = 0; step < steps; step++)
      chances[step] = (chances[step] as number) + weight * (pour.holds[step] as number);
  }
  return chances;
}

const NEVER = 0;
const IF_OWN_HOLDS = 1;
const ALWAYS = 2;

/** For each start, whether the night of a pour then will be promised: never, where a member's own night holds, always. */
function promisesOf(outlook: Outlook, prospect: Prospect): Uint8Array {
  return Uint8Array.from(nightChances(outlook, prospect), (chance, step) => {
    if (chance >= NIGHT_CHANCE - 1e-9) return ALWAYS;
    const fade = Math.exp((-step * outlook.stepMs) / (NEED.withinH * HOUR_MS));
    return chance >= NEED.far + (NIGHT_CHANCE - NEED.far) * fade - 1e-9 ? IF_OWN_HOLDS : NEVER;
  });
}

/** The calls of every member; the first step is the call that stands now. Null when the data do not allow a look ahead. */
export function lookAhead(
  state: ZoneState,
  outlook: Outlook,
  prospect: Prospect,
  verdict: Verdict,
  limits: SheetLimitsNow | null,
  sustainedMin: number | null,
): readonly MemberCalls[] {
  const { members, steps } = outlook;
  const all = new Uint8Array(members.length * steps);
  const callsAt = (index: number): MemberCalls => all.subarray(index * steps, (index + 1) * steps);
  // After the last coat no next one is waited for: what stands now stands until somebody works on it.
  const nowCode = CALL_CODES.indexOf(verdict.call);
  all.fill(state.record.nextCoat === null ? nowCode : WAIT);
  const standing = standingOf(state, verdict, limits, sustainedMin);
  const stands = standing.recordStops || (state.film !== null && standing.foundSoft);
  if (state.record.nextCoat !== null && limits !== null && !stands) {
    const error = readingErrorOf(state);
    const filler = fillerAhead(state.filler, outlook);
    const promises = promisesOf(outlook, prospect);
    const walk = walkOf(state, outlook, standing, limits, promises, prospect.pourH * HOUR_MS);
    for (let index = 0; index < members.length; index++) {
      const member = members[index] as OutlookMember;
      const times = timesOf(standing, prospect.films[index] ?? null, filler.hardMs(member));
      const { holds } = prospect.pours[index] as PourAhead;
      const errorK = standing.pours ? 0 : error.dampK - error.doubtK + error.marginK * luckOf(index, 0);
      if (isQuiet(walk, prospect.reach, index, errorK)) quietCallsOf(walk, member, times, holds, callsAt(index));
      else callsOf(walk, member, times, holds, errorK, callsAt(index));
    }
  }
  return members.map((_, index) => {
    const calls = callsAt(index);
    calls[0] = nowCode;
    return calls;
  });
}
