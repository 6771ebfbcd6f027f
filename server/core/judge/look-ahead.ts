// The calls to come: each member of the outlook is walked forward through the order of judgement.
import type { CallWord, RuleId } from "#core/judge/call.ts";
import type { SheetLimitsNow } from "#core/judge/facts.ts";
import type { FilmAhead } from "#core/judge/member-walk.ts";
import type { Prospect } from "#core/judge/prospect.ts";
import { nextSheetOf } from "#core/judge/prospect.ts";
import { ABRASION_HOLDS_H } from "#core/judge/rules/abrasion-stale.ts";
import { BLUSH_FROM_MIN } from "#core/judge/rules/blush.ts";
import { INSPECT_FROM_MIN } from "#core/judge/rules/inspect-due.ts";
import { NIGHT_CHANCE } from "#core/judge/rules/night-dew.ts";
import { SUSTAINED_MIN } from "#core/judge/rules/not-sustained.ts";
import { abradedMsOf } from "#core/judge/surface-work.ts";
import type { Verdict } from "#core/judge/verdict.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { rhPctFromDewPoint } from "#core/air/dew-point.ts";
import { TEMP_RANGE_C } from "#core/air/vapour.ts";
import { keptWithin } from "#core/guard.ts";
import { waterAtDewPointGPerKg } from "#core/zone/conditions.ts";
import type { ZoneState } from "#core/zone/state.ts";
import { DAMP_FROM_G_PER_M2, waterAfterGPerM2 } from "#core/zone/surface-water.ts";

const HOUR_MS = 3_600_000;

/** The calls of one member, one a step. */
export type MemberCalls = readonly CallWord[];

/** Stops that only a person, or a reading, can lift: no outlook sees past them. */
const PERSON: readonly RuleId[] = ["sheet-invalid", "record-missing", "hold", "inspect-due", "dust", "slab-moisture"];

interface Standing {
  readonly stops: ReadonlySet<RuleId>;
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
    stops,
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
  const { stops, limits } = standing;
  const calls: CallWord[] = [];
  const filmLimitK = state.film?.sheet.limits.dewMarginK ?? 0;
  const stepMin = outlook.stepMs / 60_000;
  const slopeSteps = Math.round(90 / stepMin);
  let dewMin = state.exposure?.dewMin ?? 0;
  let belowMin = state.exposure?.belowMin ?? 0;
  let waterG = state.water.gPerM2;
  let goodMin = standing.sustainedMin;
  for (let step = 0; step < outlook.steps; step++) {
    const atMs = outlook.fromMs + step * outlook.stepMs;
    const coldC = member.slabColdC[step] as number;
    const marginK = coldC - (member.dewPointC[step] as number);
    const sensitive = film !== null && (film.dewSafeMs === null || atMs < film.dewSafeMs);
    if (step > 0) {
      if (sensitive && marginK <= 0) dewMin += stepMin;
      if (sensitive && marginK < filmLimitK) belowMin += stepMin;
      waterG = waterAfterGPerM2(waterG, coldC, member.dewPointC[step] as number, stepMin / 60);
    }
    const hard = film === null || (film.opensMs !== null && atMs >= film.opensMs && !standing.foundSoft);
    const closed = film !== null && film.closesMs !== null && atMs >= film.closesMs;
    const reopened = standing.creditEndMs !== null && atMs <= standing.creditEndMs;
    const holds = limits !== null && conditionsHold(member, step, limits, state.log.altitudeM);
    if (step > 0) goodMin = holds ? goodMin + stepMin : 0;
    calls.push(wordAt());

    function wordAt(): CallWord {
      if (limits === null) return "wait";
      if (
        stops.has("sheet-invalid") ||
        stops.has("record-missing") ||
        stops.has("hold") ||
        atMs < standing.fillerHardMs
      )
        return "wait";
      if (!hard) return "wait";
      if (
        stops.has("blush") ||
        (sensitive && dewMin >= BLUSH_FROM_MIN) ||
        (step > 0 && dewMin >= BLUSH_FROM_MIN && dewMin > (state.exposure?.dewMin ?? 0))
      )
        return "abrade";
      if (stops.has("inspect-due") || (belowMin >= INSPECT_FROM_MIN && belowMin > (state.exposure?.belowMin ?? 0)))
        return "wait";
      if (closed && !reopened) return "abrade";
      if (PERSON.some((rule) => stops.has(rule)) || atMs < standing.resinFreeMs) return "wait";
      if (marginK <= 0 || standing.foundDamp || waterG > DAMP_FROM_G_PER_M2) return "wait";
      if (!holds || goodMin < SUSTAINED_MIN || marginK - standing.uncertaintyK < limits.dewMarginK) return "wait";
      if (state.record.porous && step >= slopeSteps) {
        const risenK = coldC - (member.slabColdC[step - slopeSteps] as number);
        if (risenK / 1.5 > 1) return "wait";
      } else if (state.record.porous && stops.has("slab-rising")) return "wait";
      const endsMs =
        film === null || film.closesMs === null
          ? Number.POSITIVE_INFINITY
          : Math.max(film.closesMs, standing.creditEndMs ?? 0);
      if (atMs + pourMs > endsMs) return "wait";
      return nightHolds[step] === true ? "pour" : "wait";
    }
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
