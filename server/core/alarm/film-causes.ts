// Causes at the film on a floor: dew foreseen, dew now, too cold to cure, and nobody knowing in what it cures.
import { type AlarmFacts, NO_FACTS } from "#core/alarm/alarm.ts";
import type { AlarmLevel } from "#core/alarm/kinds.ts";
import type { ZoneMoment } from "#core/alarm/moment.ts";
import { CAUSES } from "#core/alarm/rules.ts";
import { placeOf, type Sign } from "#core/alarm/sign.ts";
import type { RuleId } from "#core/judge/call.ts";
import type { Foreseen } from "#core/judge/watch.ts";

const HOUR_MS = 3_600_000;

/** What a family of causes has to say of a moment. */
export interface Found {
  readonly signs: Sign[];
  readonly fine: string[];
}

/** The zone could not be judged: nothing that its call says counts. */
export function isUnjudged({ call }: ZoneMoment): boolean {
  return call.rules.some(({ rule, detail }) => rule === "data-fault" && detail === "judge-error");
}

/** A film that is watched: it lies there, and is not so old that nobody watches it any more. */
export function filmIsYoung({ call }: ZoneMoment): boolean {
  return call.film !== null && call.atMs - call.film.pouredToMs < CAUSES.filmLongestH * HOUR_MS;
}

/** Dew or cold would still hurt the film of this zone. */
export function filmAtStake(zone: ZoneMoment): boolean {
  return filmIsYoung(zone) && (zone.call.film?.dewSensitive === true || zone.watch?.film?.curing === true);
}

function levelAhead({ chance, earliestMs }: Foreseen, nowMs: number, was: AlarmLevel | undefined): AlarmLevel {
  const near = earliestMs !== null && earliestMs - nowMs <= CAUSES.wakeAheadH * HOUR_MS;
  // Once it rang it does not fall back while the chance wavers.
  return near && (chance >= CAUSES.wakeChance || was === "wake") ? "wake" : "tell";
}

/** The place of a film: the coat that is laid over it is another one, of which people have to be told anew. */
export function filmPlace(
  group: "dew" | "cold",
  { zone, call }: ZoneMoment,
): { group: "dew" | "cold"; member: string } {
  return { group, member: call.film === null ? zone : `${zone}#${call.film.coat}` };
}

interface Threat {
  readonly group: "dew" | "cold";
  readonly member: string;
  readonly zone: string;
  readonly nowMs: number;
  readonly measured: number | null;
  readonly limit: number;
  readonly backK: number;
  readonly unit: "K" | "Cel";
  readonly ahead: Foreseen | null;
  readonly shown: Sign | undefined;
}

function signOf(
  threat: Threat,
  kind: Sign["kind"],
  level: AlarmLevel,
  order: number,
  facts: Partial<AlarmFacts>,
): Sign {
  const { group, member, zone, limit, unit } = threat;
  return { group, member, kind, level, zones: [zone], order, facts: { ...NO_FACTS, limit, unit, ...facts } };
}

/** Foreseen likely enough to be told; one that stands goes on down to the chance at which it is well again. */
function aheadSign(threat: Threat, kind: "margin-ahead" | "cold-ahead"): Sign | null {
  const { ahead, shown, nowMs } = threat;
  if (ahead === null || ahead.chance < (shown === undefined ? CAUSES.tellChance : CAUSES.fineChance)) return null;
  const level = kind === "cold-ahead" ? "tell" : levelAhead(ahead, nowMs, shown?.level);
  const inH = ahead.earliestMs === null ? 0 : (ahead.earliestMs - nowMs) / HOUR_MS;
  const facts = { expectedAtMs: ahead.likelyMs, chance: ahead.chance, measured: ahead.lowest };
  return signOf(threat, kind, level, inH, facts);
}

function found(threat: Threat, now: Sign | null, aheadKind: "margin-ahead" | "cold-ahead"): Found {
  const sign = now ?? aheadSign(threat, aheadKind);
  if (sign !== null) return { signs: [sign], fine: [] };
  const { measured, limit, backK, ahead } = threat;
  // Well is what is measured well and foreseen well; without a foresight nobody knows of the hours to come.
  const well = measured !== null && measured >= limit + backK && ahead !== null && ahead.chance < CAUSES.fineChance;
  return { signs: [], fine: well ? [placeOf(threat)] : [] };
}

export function dewCauses(zone: ZoneMoment, shown: Sign | undefined): Found {
  const { call, watch } = zone;
  const nowMs = call.atMs;
  if (isUnjudged(zone)) return { signs: [], fine: [] };
  const place = placeOf(filmPlace("dew", zone));
  if (call.film === null || !call.film.dewSensitive || !filmIsYoung(zone)) return { signs: [], fine: [place] };
  const film = watch?.film ?? null;
  if (film === null) return { signs: [], fine: [] };
  const { marginK } = call.conditions;
  const threat: Threat = {
    ...filmPlace("dew", zone),
    zone: zone.zone,
    nowMs,
    measured: marginK,
    limit: film.limitK,
    backK: CAUSES.marginBackK,
    unit: "K",
    ahead: film.dew,
    shown,
  };
  const since = (kind: Sign["kind"]) => (shown?.kind === kind ? shown.facts.expectedAtMs : nowMs);
  const now = (kind: "condensing" | "margin-below", measured: number) =>
    signOf(threat, kind, "wake", measured, { measured, expectedAtMs: since(kind) });
  const below =
    marginK === null || marginK >= film.limitK ? null : now(marginK <= 0 ? "condensing" : "margin-below", marginK);
  return found(threat, below, "margin-ahead");
}

export function coldCauses(zone: ZoneMoment, shown: Sign | undefined): Found {
  const { call, watch } = zone;
  if (isUnjudged(zone)) return { signs: [], fine: [] };
  const film = watch?.film ?? null;
  if (call.film === null || !filmIsYoung(zone) || film?.curing === false || film?.leastC === null)
    return { signs: [], fine: [placeOf(filmPlace("cold", zone))] };
  if (film === null) return { signs: [], fine: [] };
  const { slabColdC } = call.conditions;
  const threat: Threat = {
    ...filmPlace("cold", zone),
    zone: zone.zone,
    nowMs: call.atMs,
    measured: slabColdC,
    limit: film.leastC,
    backK: CAUSES.slabBackK,
    unit: "Cel",
    ahead: film.cold,
    shown,
  };
  const expectedAtMs = shown?.kind === "cold-now" ? shown.facts.expectedAtMs : call.atMs;
  const now =
    slabColdC === null || slabColdC >= film.leastC
      ? null
      : signOf(threat, "cold-now", "tell", slabColdC, { measured: slabColdC, expectedAtMs });
  return found(threat, now, "cold-ahead");
}

const DATA_RULES: ReadonlySet<RuleId> = new Set<RuleId>([
  "data-missing",
  "data-stale",
  "data-fault",
  "data-conflict",
  "unit-doubt",
  "clock-doubt",
]);

export function isDataRule(rule: RuleId): boolean {
  return DATA_RULES.has(rule);
}

export function dataCauses(zone: ZoneMoment, silentNodes: readonly string[]): Found {
  const place = { group: `data/${zone.zone}`, member: zone.zone };
  if (isUnjudged(zone)) return { signs: [], fine: [] };
  const { call } = zone;
  const stop = call.rules.find(({ rule, outcome }) => outcome === "stop" && isDataRule(rule));
  const cures = filmIsYoung(zone) && (call.film?.dewSensitive === true || (call.window.earned ?? 1) < 1);
  if (stop === undefined || !cures) return { signs: [], fine: [placeOf(place)] };
  const about = silentNodes.length > 0 ? silentNodes.join(", ") : (stop.probe ?? stop.rule);
  const facts = { ...NO_FACTS, expectedAtMs: stop.sinceMs ?? call.atMs, about };
  // While dew can hurt it somebody must look; a film that only hardens can wait for the morning.
  const level = call.film?.dewSensitive === true ? "wake" : "tell";
  return { signs: [{ ...place, kind: "data-lost", level, zones: [zone.zone], order: 0, facts }], fine: [] };
}
