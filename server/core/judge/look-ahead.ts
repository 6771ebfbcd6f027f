// The calls to come: each member of the outlook is walked forward through the order of judgement.
import type { CallWord } from "#core/judge/call.ts";
import type { SheetLimitsNow } from "#core/judge/facts.ts";
import type { FilmAhead } from "#core/judge/member-walk.ts";
import type { Prospect } from "#core/judge/prospect.ts";
import { nextSheetOf } from "#core/judge/prospect.ts";
import { ABRASION_HOLDS_H } from "#core/judge/rules/abrasion-stale.ts";
import { BLUSH_FROM_MIN } from "#core/judge/rules/blush.ts";
import { INSPECT_FROM_MIN } from "#core/judge/rules/inspect-due.ts";
import { NIGHT_CHANCE } from "#core/judge/rules/night-dew.ts";
import { RISING_FROM_K_PER_H } from "#core/judge/rules/slab-rising.ts";
import { SUSTAINED_MIN } from "#core/judge/rules/not-sustained.ts";
import { abradedMsOf } from "#core/judge/surface-work.ts";
import type { Verdict } from "#core/judge/verdict.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { rhPctFromDewPoint } from "#core/air/dew-point.ts";
import { TEMP_RANGE_C } from "#core/air/vapour.ts";
import { keptWithin } from "#core/guard.ts";
import { waterAtDewPointGPerKg } from "#core/zone/conditions.ts";
import { SLOPE_SPAN_MS } from "#core/zone/slope.ts";
import type { ZoneState } from "#core/zone/state.ts";
import { DAMP_FROM_G_PER_M2, waterAfterGPerM2 } from "#core/zone/surface-water.ts";

const HOUR_MS = 3_600_000;

/** The calls of one member, one a step. */
export type MemberCalls = readonly CallWord[];

interface Standing {
  /** Stops of now that stand until somebody acts, by the place they have in the order. */
  readonly recordStops: boolean;
  readonly blush: boolean;
  readonly inspect: boolean;
  readonly waitsForPerson: boolean;
  readonly rising: boolean;
  readonly foundDamp: boolean;
  readonly foundSoft: boolean;
  readonly fillerHardMs: number;
  readonly resinFreeMs: number;
  readonly limits: SheetLimitsNow | null;
  readonly creditEndMs: number | null;
  readonly sustainedMin: number;
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
    fillerHardMs: record.fillerHardAtMs ?? Number.NEGATIVE_INFINITY,
    resinFreeMs: stops.has("resin-temp") && resin !== undefined ? resin.atMs + 2 * HOUR_MS : Number.NEGATIVE_INFINITY,
    limits,
    creditEndMs: film === null || abradedMs === null ? null : abradedMs + ABRASION_HOLDS_H * HOUR_MS,
    sustainedMin: sustainedMin ?? 0,
    uncertaintyK: stops.has("hand-check") || conditions.source === "live" ? (conditions.marginUncertaintyK ?? 1) : 0,
  };
}

function outside(value: number, range: readonly [number | null, number | null]): boolean {
  return (range[0] !== null && value < range[0]) || (range[1] !== null && value > range[1]);
}

function conditionsHold(member: OutlookMember, step: number, limits: SheetLimitsNow, altitudeM: number): boolean {
  const coldC = member.slabColdC[step] as number;
  const hotC = member.slabHotC[step] as number;
  const airC = keptWithin(member.airC[step] as number, TEMP_RANGE_C);
  const dewC = keptWithin(Math.min(member.dewPointC[step] as number, airC), TEMP_RANGE_C);
  const [leastWater, mostWater] = limits.waterGPerKg;
  if (limits.slabC[0] !== null && coldC < limits.slabC[0]) return false;
  if (limits.slabC[1] !== null && hotC > limits.slabC[1]) return false;
  if (outside(airC, limits.airC)) return false;
  if ((limits.rhPct[0] !== null || limits.rhPct[1] !== null) && outside(rhPctFromDewPoint(airC, dewC), limits.rhPct))
    return false;
  const watered = leastWater !== null || mostWater !== null;
  if (watered && outside(waterAtDewPointGPerKg(dewC, altitudeM), limits.waterGPerKg)) return false;
  return coldC - (member.dewPointC[step] as number) >= limits.dewMarginK;
}

/** Where a member stands at one step; one object is filled anew at each, since this is the hot loop of judging. */
interface Point {
  step: number;
  atMs: number;
  marginK: number;
  sensitive: boolean;
  holds: boolean;
  dewMin: number;
  belowMin: number;
  waterG: number;
  goodMin: number;
}

/** What is the same at every step of one member. */
interface Walk {
  readonly member: OutlookMember;
  readonly film: FilmAhead | null;
  readonly standing: Standing;
  readonly limits: SheetLimitsNow;
  readonly nightHolds: readonly boolean[];
  readonly pourMs: number;
  readonly endsMs: number;
  readonly porous: boolean;
  readonly slopeSteps: number;
  /** Minutes of dew and below the limit that the film has behind it now. */
  readonly dewedMin: number;
  readonly belowMin: number;
}

/** The order of judgement at one step ahead. */
function wordAt(point: Point, walk: Walk): CallWord {
  const { step, atMs, marginK } = point;
  const { film, standing, limits } = walk;
  if (standing.recordStops || atMs < standing.fillerHardMs) return "wait";
  if (film !== null && (film.opensMs === null || atMs < film.opensMs || standing.foundSoft)) return "wait";
  const dewed = point.dewMin >= BLUSH_FROM_MIN && (point.sensitive || (step > 0 && point.dewMin > walk.dewedMin));
  if (standing.blush || dewed) return "abrade";
  if (standing.inspect || (point.belowMin >= INSPECT_FROM_MIN && point.belowMin > walk.belowMin)) return "wait";
  const reopened = standing.creditEndMs !== null && atMs <= standing.creditEndMs;
  if (film !== null && film.closesMs !== null && atMs >= film.closesMs && !reopened) return "abrade";
  if (standing.waitsForPerson || atMs < standing.resinFreeMs) return "wait";
  if (marginK <= 0 || standing.foundDamp || point.waterG > DAMP_FROM_G_PER_M2) return "wait";
  if (!point.holds || point.goodMin < SUSTAINED_MIN) return "wait";
  if (marginK - standing.uncertaintyK < limits.dewMarginK) return "wait";
  if (walk.porous && (step < walk.slopeSteps ? standing.rising : rises(walk, step))) return "wait";
  if (atMs + walk.pourMs > walk.endsMs) return "wait";
  return walk.nightHolds[step] === true ? "pour" : "wait";
}

function rises({ member, slopeSteps }: Walk, step: number): boolean {
  const risenK = (member.slabColdC[step] as number) - (member.slabColdC[step - slopeSteps] as number);
  return risenK / (SLOPE_SPAN_MS / HOUR_MS) > RISING_FROM_K_PER_H;
}

/** Walks one member. `nightHolds[step]` says whether the ensemble as seen from that step promises the night. */
function callsOf(
  state: ZoneState,
  outlook: Outlook,
  member: OutlookMember,
  film: FilmAhead | null,
  standing: Standing,
  nightHolds: readonly boolean[],
  pourMs: number,
): MemberCalls {
  const { limits } = standing;
  if (limits === null) return Array.from({ length: outlook.steps }, () => "wait" as const);
  const calls: CallWord[] = [];
  const filmLimitK = state.film?.sheet.limits.dewMarginK ?? 0;
  const stepMin = outlook.stepMs / 60_000;
  const closesMs = film?.closesMs ?? null;
  const walk: Walk = {
    member,
    film,
    standing,
    limits,
    nightHolds,
    pourMs,
    endsMs: closesMs === null ? Number.POSITIVE_INFINITY : Math.max(closesMs, standing.creditEndMs ?? 0),
    porous: state.record.porous,
    slopeSteps: Math.round(SLOPE_SPAN_MS / outlook.stepMs),
    dewedMin: state.exposure?.dewMin ?? 0,
    belowMin: state.exposure?.belowMin ?? 0,
  };
  const point: Point = {
    step: 0,
    atMs: outlook.fromMs,
    marginK: 0,
    sensitive: false,
    holds: false,
    dewMin: walk.dewedMin,
    belowMin: walk.belowMin,
    waterG: state.water.gPerM2,
    goodMin: standing.sustainedMin,
  };
  for (let step = 0; step < outlook.steps; step++) {
    const coldC = member.slabColdC[step] as number;
    const dewC = member.dewPointC[step] as number;
    point.step = step;
    point.atMs = outlook.fromMs + step * outlook.stepMs;
    point.marginK = coldC - dewC;
    point.sensitive = film !== null && (film.dewSafeMs === null || point.atMs < film.dewSafeMs);
    point.holds = conditionsHold(member, step, limits, state.log.altitudeM);
    if (step > 0) {
      if (point.sensitive && point.marginK <= 0) point.dewMin += stepMin;
      if (point.sensitive && point.marginK < filmLimitK) point.belowMin += stepMin;
      point.waterG = waterAfterGPerM2(point.waterG, coldC, dewC, stepMin / 60);
      point.goodMin = point.holds ? point.goodMin + stepMin : 0;
    }
    calls.push(wordAt(point, walk));
  }
  return calls;
}

/** For each start, whether the chance that margin and minimum temperature hold is high enough. */
function nightHoldsOf(outlook: Outlook, prospect: Prospect): boolean[] {
  return Array.from({ length: outlook.steps }, (_, step) => {
    let chance = 0;
    for (const [index, pour] of prospect.pours.entries()) {
      if (pour.holds[step] === 1) chance += (outlook.members[index] as OutlookMember).weight;
    }
    return chance >= NIGHT_CHANCE - 1e-9;
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
  // After the last coat no next one is waited for: what stands now stands until somebody works on it.
  if (state.record.nextCoat === null)
    return outlook.members.map(() => Array.from({ length: outlook.steps }, () => verdict.call));
  const standing = standingOf(state, verdict, limits, sustainedMin);
  const nightHolds = nextSheetOf(state) === null ? [] : nightHoldsOf(outlook, prospect);
  return outlook.members.map((member, index) => {
    const calls = callsOf(
      state,
      outlook,
      member,
      prospect.films[index] ?? null,
      standing,
      nightHolds,
      prospect.pourH * HOUR_MS,
    );
    return [verdict.call, ...calls.slice(1)];
  });
}
