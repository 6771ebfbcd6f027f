// Judges one zone at one moment from the log: the order of judgement.
import { batchCapOf } from "#core/judge/batch-cap.ts";
import type { Call, FilmNow, PourPlan, WindowNow } from "#core/judge/call.ts";
import { nextOf, stripOf, validUntilOf } from "#core/judge/coming.ts";
import { limitsOf } from "#core/judge/facts-of.ts";
import type { Facts } from "#core/judge/facts.ts";
import { failingOf } from "#core/judge/failing.ts";
import type { Judged } from "#core/judge/judged.ts";
import { againOf, conditionsNowOf } from "#core/judge/look-again.ts";
import type { MemberCalls } from "#core/judge/look-ahead.ts";
import { filmViewOf } from "#core/judge/milestones.ts";
import type { Prospect } from "#core/judge/prospect.ts";
import { outlookNow, seenWith } from "#core/judge/seen.ts";
import type { Verdict } from "#core/judge/verdict.ts";
import { watchOf } from "#core/judge/watch.ts";
import { fansOf, VIEW_STRIDE } from "#core/outlook/fans.ts";
import type { NightView, Outlook } from "#core/outlook/outlook.ts";
import { weightedQuantile } from "#core/outlook/quantile.ts";
import type { Moment } from "#core/zone/heard.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { type ZoneState, zoneState } from "#core/zone/state.ts";

/** Changes with every change of a rule, a limit of ours or the order: a past call names the version it was made by. */
export const RULE_VERSION = "2026.5";
const HOUR_MS = 3_600_000;
/** The last bucket is mixed this long before the last square metre must be down. Common practice, no source. */
const LAST_MIX_BEFORE_MS = 20 * 60_000;

function windowOf(state: ZoneState, outlook: Outlook | null, prospect: Prospect): WindowNow {
  const { film } = state;
  if (film === null) return { state: "none", opensAtMs: null, closesAtMs: null, earned: null };
  const { nowMs } = state.moment;
  const opensAtMs = film.recoat.reachedMs ?? likely(outlook, prospect, "opensMs");
  const closesAtMs = prospect.effectiveClosesMs;
  const earned = film.recoat.share;
  const own = prospect.closesMs;
  const neverOpened = own !== null && (opensAtMs === null || opensAtMs > own);
  const closed = closesAtMs !== null && closesAtMs <= nowMs;
  if (closed) return { state: neverOpened ? "lost" : "closed", opensAtMs, closesAtMs, earned };
  if (neverOpened && own === closesAtMs) return { state: "lost", opensAtMs, closesAtMs, earned };
  return { state: earned >= 1 ? "open" : "not-yet", opensAtMs, closesAtMs, earned };
}

/** Middle of the foreseen times of one milestone; null if most members do not reach it. */
function likely(
  outlook: Outlook | null,
  prospect: Prospect,
  milestone: keyof Prospect["films"][number],
): number | null {
  if (outlook === null || prospect.films.length === 0) return null;
  const times = prospect.films.map((film) => film[milestone] ?? Number.POSITIVE_INFINITY);
  const middle = weightedQuantile(
    times,
    outlook.members.map((member) => member.weight),
    0.5,
  );
  return Number.isFinite(middle) ? Math.round(middle) : null;
}

function filmNowOf(state: ZoneState, outlook: Outlook | null, prospect: Prospect): FilmNow | null {
  const { film } = state;
  if (film === null) return null;
  return {
    coat: film.record.coat,
    sheet: film.sheet.id,
    pouredFromMs: film.record.fromMs,
    pouredToMs: film.record.toMs,
    dewSafeEarned: film.dewSafe.share,
    dewSensitive: state.sensitive,
    dewSafeAtMs: film.dewSafe.reachedMs ?? likely(outlook, prospect, "dewSafeMs"),
    walkOnAtMs: film.foot.reachedMs ?? likely(outlook, prospect, "footMs"),
    driveOnAtMs: film.traffic.reachedMs ?? likely(outlook, prospect, "trafficMs"),
    estimated: film.recoat.estimated || film.dewSafe.estimated || film.foot.estimated,
  };
}

function pourOf(state: ZoneState, verdict: Verdict, prospect: Prospect, validUntilMs: number | null): PourPlan | null {
  if (verdict.call !== "pour") return null;
  const { nowMs } = state.moment;
  const lasts = prospect.pourH * HOUR_MS;
  const closesMs = prospect.effectiveClosesMs;
  const startLimits = state.record.pouring === null ? [validUntilMs, closesMs === null ? null : closesMs - lasts] : [];
  const known = startLimits.filter((atMs) => atMs !== null);
  const latestStartAtMs = known.length > 0 ? Math.max(nowMs, Math.min(...known)) : null;
  // Started at the latest moment, the last square metre is down by then; without one, by what a start now takes.
  const finishByMs = (latestStartAtMs ?? nowMs) + lasts;
  return {
    latestStartAtMs,
    lastMixAtMs: latestStartAtMs === null ? null : Math.max(nowMs, finishByMs - LAST_MIX_BEFORE_MS),
    finishByMs,
    batchCapL: batchCapOf(state),
    fitsM2: prospect.fitsM2,
  };
}

function viewOf(
  state: ZoneState,
  outlook: Outlook,
  prospect: Prospect,
  calls: readonly MemberCalls[] | null,
): NightView {
  const { feedFetchedMs } = outlook;
  const { marginK, slabColdC, airC, dewPointC } = fansOf(outlook);
  return {
    fromMs: outlook.fromMs,
    stepMs: outlook.stepMs * VIEW_STRIDE,
    basis: outlook.basis,
    marginK,
    slabColdC,
    airC,
    dewPointC,
    calls: calls === null ? [] : stripOf(outlook, calls),
    film: filmViewOf(state, outlook, prospect),
    failing: failingOf(outlook, limitsOf(state), prospect, state.log.altitudeM),
    feedAgeS: feedFetchedMs === null ? null : (outlook.fromMs - feedFetchedMs) / 1000,
  };
}

interface Made {
  readonly judged: Judged;
  readonly state: ZoneState;
  readonly facts: Facts;
}

function made(log: SiteLog, zone: string, moment: Moment): Made {
  const { nowMs } = moment;
  const state = zoneState(log, zone, moment);
  const outlook = outlookNow(state);
  const { prospect, facts, verdict, blind, members } = seenWith(state, outlook);
  const { conditions, record } = state;
  const validUntilMs = members === null || outlook === null ? null : validUntilOf(outlook, members);
  const night = prospect.night;
  const call: Call = {
    site: log.site,
    zone,
    atMs: nowMs,
    ...verdict,
    validUntilMs,
    pour: pourOf(state, verdict, prospect, validUntilMs),
    next: members === null || outlook === null ? null : nextOf(outlook, members),
    night:
      night === null
        ? null
        : {
            hours: night.hours,
            chanceHolds: night.chanceHolds,
            lowestMarginK: night.lowestMarginK,
            lowestAtMs: night.lowestAtMs,
          },
    window: windowOf(state, outlook, prospect),
    film: filmNowOf(state, outlook, prospect),
    nextCoat: record.nextCoat,
    pouring: record.pouring !== null,
    conditions: conditionsNowOf(conditions),
    ruleVersion: RULE_VERSION,
  };
  const judged = {
    call,
    view: outlook === null || blind ? null : viewOf(state, outlook, prospect, members),
    marginLimitK: facts.limits?.dewMarginK ?? null,
    watch: watchOf(state, blind ? null : outlook, prospect),
  };
  return { judged, state, facts };
}

/**
 * The verdict for `zone` at `nowMs`, from what had been heard by `heardByMs` (the same moment unless looking back
 * with hindsight). Pure: the same log gives the same call. Throws RangeError if the zone is not in the log.
 */
export function judgeZone(log: SiteLog, zone: string, nowMs: number, heardByMs: number = nowMs): Judged {
  return made(log, zone, { nowMs, heardByMs }).judged;
}

/** The same of now, with what is needed to look at the zone again. The log must hold nothing that is not yet heard. */
export function judgeToLook(log: SiteLog, zone: string, nowMs: number): Judged {
  const { judged, state, facts } = made(log, zone, { nowMs, heardByMs: nowMs });
  return { ...judged, again: againOf(state, facts, judged.call), line: state.line };
}
