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
import { luckOf, readingErrorOf } from "#core/judge/reading-error.ts";
import { abradedMsOf } from "#core/judge/surface-work.ts";
import type { Verdict } from "#core/judge/verdict.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { TEMP_RANGE_C } from "#core/air/vapour.ts";
import { saturatedPa } from "#core/air/vapour-table.ts";
import { pressureAtAltitudePa, waterGPerKg } from "#core/air/water.ts";
import { keptWithin } from "#core/guard.ts";
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

function outside(value: number, range: readonly [number | null, number | null]): boolean {
  return (range[0] !== null && value < range[0]) || (range[1] !== null && value > range[1]);
}

function conditionsHold(member: OutlookMember, step: number, limits: SheetLimitsNow, pressurePa: number): boolean {
  const coldC = member.slabColdC[step] as number;
  const hotC = member.slabHotC[step] as number;
  const airC = keptWithin(member.airC[step] as number, TEMP_RANGE_C);
  const dewC = keptWithin(Math.min(member.dewPointC[step] as number, airC), TEMP_RANGE_C);
  const [leastWater, mostWater] = limits.waterGPerKg;
  if (limits.slabC[0] !== null && coldC < limits.slabC[0]) return false;
  if (limits.slabC[1] !== null && hotC > limits.slabC[1]) return false;
  if (outside(airC, limits.airC)) return false;
  const damped = limits.rhPct[0] !== null || limits.rhPct[1] !== null;
  if (damped && outside((100 * saturatedPa(dewC)) / saturatedPa(airC), limits.rhPct)) return false;
  const watered = leastWater !== null || mostWater !== null;
  if (watered && outside(waterGPerKg(dewC, 100, pressurePa), limits.waterGPerKg)) return false;
  return true;
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
  /** For each start, whether the night of a pour then will be promised, and whether it holds in this member. */
  readonly promises: Uint8Array;
  readonly ownHolds: Uint8Array;
  readonly fillerHardMs: number;
  readonly pourMs: number;
  readonly endsMs: number;
  readonly porous: boolean;
  readonly slopeSteps: number;
  /** What the true margin stands above the one that is read, K. */
  readonly errorK: number;
  /** Minutes of dew and below the limit that the film has behind it now. */
  readonly dewedMin: number;
  readonly belowMin: number;
}

/** The order of judgement at one step ahead. */
function codeAt(point: Point, walk: Walk): number {
  const { step, atMs, marginK } = point;
  const { film, standing, limits } = walk;
  if (standing.recordStops || atMs < walk.fillerHardMs) return WAIT;
  if (film !== null && (film.opensMs === null || atMs < film.opensMs || standing.foundSoft)) return WAIT;
  const dewed = point.dewMin >= BLUSH_FROM_MIN && (point.sensitive || (step > 0 && point.dewMin > walk.dewedMin));
  if (standing.blush || dewed) return ABRADE;
  if (standing.inspect || (point.belowMin >= INSPECT_FROM_MIN && point.belowMin > walk.belowMin)) return WAIT;
  const reopened = standing.creditEndMs !== null && atMs <= standing.creditEndMs;
  if (film !== null && film.closesMs !== null && atMs >= film.closesMs && !reopened) return ABRADE;
  if (standing.waitsForPerson || atMs < standing.resinFreeMs) return WAIT;
  if (marginK <= 0 || standing.foundDamp || point.waterG > DAMP_FROM_G_PER_M2) return WAIT;
  if (!point.holds || point.goodMin < SUSTAINED_MIN) return WAIT;
  if (standing.pours && marginK - standing.uncertaintyK < limits.dewMarginK) return WAIT;
  if (walk.porous && (step < walk.slopeSteps ? standing.rising : rises(walk, step))) return WAIT;
  if (atMs + walk.pourMs > walk.endsMs) return WAIT;
  const promise = walk.promises[step];
  return promise === ALWAYS || (promise === IF_OWN_HOLDS && walk.ownHolds[step] === 1) ? POUR : WAIT;
}

function rises({ member, slopeSteps }: Walk, step: number): boolean {
  const risenK = (member.slabColdC[step] as number) - (member.slabColdC[step - slopeSteps] as number);
  return risenK / (SLOPE_SPAN_MS / HOUR_MS) > RISING_FROM_K_PER_H;
}

/** Walks one member. */
function callsOf(
  state: ZoneState,
  outlook: Outlook,
  member: OutlookMember,
  film: FilmAhead | null,
  standing: Standing,
  promises: Uint8Array,
  ownHolds: Uint8Array,
  fillerHardMs: number,
  pourMs: number,
  errorK: number,
): MemberCalls {
  const { limits } = standing;
  const calls = new Uint8Array(outlook.steps).fill(WAIT);
  if (limits === null) return calls;
  const pressurePa = pressureAtAltitudePa(state.log.altitudeM);
  const filmLimitK = state.film?.sheet.limits.dewMarginK ?? 0;
  const stepMin = outlook.stepMs / 60_000;
  const closesMs = film?.closesMs ?? null;
  const walk: Walk = {
    member,
    film,
    standing,
    limits,
    promises,
    ownHolds,
    fillerHardMs,
    pourMs,
    endsMs: closesMs === null ? Number.POSITIVE_INFINITY : Math.max(closesMs, standing.creditEndMs ?? 0),
    porous: state.record.porous,
    slopeSteps: Math.round(SLOPE_SPAN_MS / outlook.stepMs),
    errorK,
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
    point.holds = point.marginK + walk.errorK >= limits.dewMarginK && conditionsHold(member, step, limits, pressurePa);
    if (step > 0) {
      if (point.sensitive && point.marginK <= 0) point.dewMin += stepMin;
      if (point.sensitive && point.marginK < filmLimitK) point.belowMin += stepMin;
      // Dry and above the dew point it stays dry.
      if (point.waterG > 0 || point.marginK < 0)
        point.waterG = waterAfterGPerM2(point.waterG, coldC, dewC, stepMin / 60);
      point.goodMin = point.holds ? point.goodMin + stepMin : 0;
    }
    calls[step] = codeAt(point, walk);
  }
  return calls;
}

/** What is promised of a night grows as it comes nearer: chance that is asked for so many hours ahead, where the member's own night holds. */
const NEED = { far: 0.5, withinH: 6 } as const;

/** For each start, the chance over all members that margin and minimum temperature hold. */
function nightChances(outlook: Outlook, prospect: Prospect): Float64Array {
  const chances = new Float64Array(outlook.steps);
  for (const [index, pour] of prospect.pours.entries()) {
    const { weight } = outlook.members[index] as OutlookMember;
    for (let step = 0; step < chances.length; step++)
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
  // After the last coat no next one is waited for: what stands now stands until somebody works on it.
  const nowCode = CALL_CODES.indexOf(verdict.call);
  if (state.record.nextCoat === null) return outlook.members.map(() => new Uint8Array(outlook.steps).fill(nowCode));
  const standing = standingOf(state, verdict, limits, sustainedMin);
  const error = readingErrorOf(state);
  const promises = promisesOf(outlook, prospect);
  const filler = fillerAhead(state.filler, outlook);
  return outlook.members.map((member, index) => {
    const calls = callsOf(
      state,
      outlook,
      member,
      prospect.films[index] ?? null,
      standing,
      promises,
      (prospect.pours[index] as PourAhead).holds,
      filler.hardMs(member),
      prospect.pourH * HOUR_MS,
      standing.pours ? 0 : error.dampK - error.doubtK + error.marginK * luckOf(index, 0),
    );
    calls[0] = nowCode;
    return calls;
  });
}
