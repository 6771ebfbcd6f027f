// A zone looked at again: what was judged within the last minute, held against the readings of now.
import type { Call, ConditionsNow } from "#core/judge/call.ts";
import type { Facts } from "#core/judge/facts.ts";
import { conditionFacts } from "#core/judge/facts-of.ts";
import { type GoodTime, goodMinOf, goodTimeOf } from "#core/judge/sustained.ts";
import { standsWith, verdictOf } from "#core/judge/verdict.ts";
import { type Conditions, dewPointTrack, liveConditions, slabTrack } from "#core/zone/conditions.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import { type FillerState, fillerLeftH } from "#core/zone/filler.ts";
import type { Track } from "#core/zone/heard.ts";
import { handDoubt } from "#core/zone/margin-doubt.ts";
import { newestOf, type Recent, recentOf } from "#core/zone/recent.ts";
import { type SaltCheck, saltChecksOf } from "#core/zone/salt-check.ts";
import type { FeedFetch, SiteLog } from "#core/zone/site.ts";
import { HAND_VALID_MS, type ZoneState } from "#core/zone/state.ts";
import { type Timeline, timelineOf } from "#core/zone/timeline.ts";

/** A judging speaks for so long: the minute between two rounds, and a part of one for its turn in the round. */
export const LOOK_WITHIN_MS = 75_000;
const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

/** Good time up to the newest point that was looked at. */
interface Good extends GoodTime {
  readonly newestMs: number;
}

/** What is kept of a judging so that its zone can be looked at again. */
export interface Again {
  readonly log: SiteLog;
  readonly entries: number;
  readonly fetches: number;
  readonly lastFetch: FeedFetch | null;
  readonly judgedMs: number;
  /** As judged. */
  readonly call: Call;
  readonly facts: Facts;
  /** As it was last looked at. */
  readonly now: { readonly atMs: number; readonly facts: Facts; readonly conditions: ConditionsNow };
  readonly recent: Recent;
  readonly good: Good | null;
  readonly saltChecks: readonly SaltCheck[];
  readonly filler: FillerState | null;
  readonly staleAfterMs: number;
  /** From when on a hand reading that was reckoned with is too old. */
  readonly handUntilMs: number;
}

function newestMsOf({ atMs, readings }: Timeline): number {
  return readings > 0 ? (atMs[readings - 1] as number) : Number.NEGATIVE_INFINITY;
}

/** null where no readings of now speak for the zone. */
export function againOf(state: ZoneState, facts: Facts, call: Call): Again | null {
  const { log, line, hand, conditions, staleAfterMs } = state;
  const { nowMs } = state.moment;
  if (conditions.source !== "live") return null;
  const { limits } = facts;
  const good = limits && goodTimeOf(line, limits, log.altitudeM, nowMs);
  return {
    log,
    entries: log.journal.length,
    fetches: log.feeds.length,
    lastFetch: log.feeds.at(-1) ?? null,
    judgedMs: nowMs,
    call,
    facts,
    now: { atMs: nowMs, facts, conditions: call.conditions },
    recent: recentOf(state),
    good: good && { fromMs: good.fromMs, lastMs: good.lastMs, begun: good.begun, newestMs: newestMsOf(line) },
    saltChecks: saltChecksOf(state.record),
    filler: state.filler,
    staleAfterMs,
    handUntilMs:
      hand === null ? Number.POSITIVE_INFINITY : hand.atMs + HAND_VALID_MS[facts.pouring ? "pouring" : "else"],
  };
}

/** Good time with new points from `fromMs` on; null where that takes older points than are known. */
function goodWith(good: Good, line: Timeline, facts: Facts, log: SiteLog, nowMs: number, fromMs: number): Good | null {
  if (facts.limits === null) return good;
  const newestMs = Math.max(good.newestMs, newestMsOf(line));
  const late = goodTimeOf(line, facts.limits, log.altitudeM, nowMs);
  const { fromMs: lateFromMs, lastMs, begun } = late;
  if (begun) return { fromMs: lateFromMs, lastMs, begun, newestMs };
  if (fromMs > good.newestMs) {
    const goesOn = good.fromMs !== null && (lateFromMs ?? nowMs) - good.lastMs <= HOLD_MS;
    if (!goesOn) return { fromMs: lateFromMs, lastMs, begun: true, newestMs };
    return { ...good, lastMs: lateFromMs === null ? good.lastMs : lastMs, newestMs };
  }
  // A probe's reading stands between those of others.
  if (lateFromMs === null || good.fromMs === null || good.fromMs >= fromMs) return null;
  return { ...good, lastMs, newestMs };
}

/** Age of what was said last, min: no older than it was judged to be. */
function ageMinOf<T>(
  judgedMin: number | null,
  passedMs: number,
  nowMs: number,
  places: readonly number[],
  voices: readonly T[],
  trackOf: (one: T) => Track,
): number | null {
  if (judgedMin === null) return null;
  let newestMs = Number.NEGATIVE_INFINITY;
  for (const place of places) {
    const voice = voices[place];
    if (voice === undefined) continue;
    const { atMs } = trackOf(voice);
    newestMs = Math.max(newestMs, atMs[atMs.length - 1] ?? Number.NEGATIVE_INFINITY);
  }
  return Math.min(judgedMin + passedMs / MINUTE_MS, (nowMs - newestMs) / MINUTE_MS);
}

const later = (value: number | null, by: number): number | null => (value === null ? null : value + by);

function factsNow(
  again: Again,
  recent: Recent,
  conditions: Conditions,
  nowMs: number,
  sustainedMin: number | null,
): Facts {
  const { facts, filler } = again;
  const { voices, slab, chips } = recent;
  const passedMs = nowMs - again.judgedMs;
  const said = conditionFacts(conditions);
  return {
    ...facts,
    nowMs,
    slabAgeMin: ageMinOf(facts.slabAgeMin, passedMs, nowMs, slab, voices.slab, slabTrack),
    airAgeMin: ageMinOf(facts.airAgeMin, passedMs, nowMs, chips, voices.chips, dewPointTrack),
    fillerHardInH: filler === null ? null : fillerLeftH(filler, conditions.slabColdC, nowMs),
    abradedH: later(facts.abradedH, passedMs / HOUR_MS),
    // One by one: a record that is spread into the middle of another costs more than all rules.
    frostPointC: said.frostPointC,
    slabColdC: said.slabColdC,
    slabHotC: said.slabHotC,
    coldProbe: said.coldProbe,
    hotProbe: said.hotProbe,
    airMinC: said.airMinC,
    airMaxC: said.airMaxC,
    rhMinPct: said.rhMinPct,
    rhMaxPct: said.rhMaxPct,
    waterGPerKg: said.waterGPerKg,
    waterMaxGPerKg: said.waterMaxGPerKg,
    dewPointC: said.dewPointC,
    marginK: said.marginK,
    marginUncertaintyK: said.marginUncertaintyK,
    slopeKPerH: said.slopeKPerH,
    slopeProbe: said.slopeProbe,
    resinAgeMin: later(facts.resinAgeMin, passedMs / MINUTE_MS),
    sustainedMin,
    closesInH: later(facts.closesInH, -passedMs / HOUR_MS),
  };
}

/** A moment that the call names has come: what follows it is for a judging to say. */
function momentCame({ validUntilMs, window, pour }: Call, judgedMs: number, nowMs: number): boolean {
  const { latestStartAtMs = null, lastMixAtMs = null } = pour ?? {};
  const moments = [validUntilMs, window.opensAtMs, window.closesAtMs, latestStartAtMs, lastMixAtMs];
  return moments.some((atMs) => atMs !== null && atMs >= judgedMs && atMs < nowMs);
}

export function conditionsNowOf(conditions: Conditions): ConditionsNow {
  return {
    slabColdC: conditions.slabColdC,
    slabHotC: conditions.slabHotC,
    airC: conditions.airMinC,
    rhPct: conditions.rhMaxPct,
    dewPointC: conditions.dewPointC,
    marginK: conditions.marginK,
    marginUncertaintyK: conditions.marginUncertaintyK,
    slabSlopeKPerH: conditions.slopeKPerH,
    ageS: conditions.ageS,
  };
}

/**
 * Looks again at a zone that was judged within the last minute: conditions of now by the same code as in a judging, and
 * every rule asked again with them. What only trust, the film or the outlook can tell stays as it was judged. null where the
 * zone must be judged anew: another outcome of any rule in either direction, anything but readings changed, or readings that
 * `newestOf` leaves to a judging. Pure: what it takes into `recent.votes` and `recent.slopes` is what anybody would reckon.
 */
export function lookAgain(again: Again, log: SiteLog, nowMs: number): Again | null {
  const { facts, call, judgedMs, staleAfterMs } = again;
  const changed =
    log !== again.log ||
    log.journal.length !== again.entries ||
    log.feeds.length !== again.fetches ||
    (log.feeds.at(-1) ?? null) !== again.lastFetch;
  if (changed || nowMs < again.now.atMs || nowMs - judgedMs > LOOK_WITHIN_MS) return null;
  if (nowMs > again.handUntilMs || momentCame(call, judgedMs, nowMs)) return null;
  const newest = newestOf(again.recent, nowMs, judgedMs, staleAfterMs);
  if (newest === null) return null;
  const { recent, fromMs } = newest;
  const { voices, votes, slopes } = recent;
  const line = timelineOf(voices, fromMs, nowMs, votes);
  const conditions = liveConditions(
    line,
    voices,
    voices.quarantinedSlab,
    log.altitudeM,
    nowMs,
    handDoubt(facts.doubts, voices, line, nowMs),
    again.saltChecks,
    slopes,
  );
  if (conditions.source !== "live") return null;
  const good = again.good === null ? null : goodWith(again.good, line, facts, log, nowMs, fromMs);
  if (again.good !== null && good === null) return null;
  const newFacts = factsNow(again, recent, conditions, nowMs, good === null ? null : goodMinOf(good));
  if (!standsWith(call, newFacts)) return null;
  return {
    log,
    entries: again.entries,
    fetches: again.fetches,
    lastFetch: again.lastFetch,
    judgedMs,
    call,
    facts,
    now: { atMs: nowMs, facts: newFacts, conditions: conditionsNowOf(conditions) },
    recent,
    good,
    saltChecks: again.saltChecks,
    filler: again.filler,
    staleAfterMs,
    handUntilMs: again.handUntilMs,
  };
}

/** The call that stands, with the numbers of the last look. */
export function callNow({ call, judgedMs, now }: Again): Call {
  const { pour } = call;
  return {
    ...call,
    atMs: now.atMs,
    rules: verdictOf(now.facts).rules,
    // Without a latest start the plan speaks of a start now.
    pour:
      pour === null || pour.latestStartAtMs !== null
        ? pour
        : { ...pour, finishByMs: pour.finishByMs + now.atMs - judgedMs },
    conditions: now.conditions,
  };
}
