// Moments of a site for tests of alarms: a zone with a fresh film and nothing wrong, in which everything can be changed.
import { reportOf } from "#core/alarm/causes.ts";
import { type AlarmEvent, type AlarmsState, NO_ALARMS, shownSigns, stepAlarms } from "#core/alarm/machine.ts";
import type { NodeMoment, ServerMoment, SiteMoment, ZoneMoment } from "#core/alarm/moment.ts";
import type { Call, RuleId, RuleResult } from "#core/judge/call.ts";
import type { FilmWatch } from "#core/judge/watch.ts";
import { HOUR_MS, MINUTE_MS, NOON_MS } from "./night-log.ts";

export const NOTHING_FORESEEN = { chance: 0, earliestMs: null, likelyMs: null, lowest: null };

export function ruleOf(rule: RuleId, outcome: RuleResult["outcome"], more: Partial<RuleResult> = {}): RuleResult {
  return { rule, outcome, measured: null, limit: null, unit: null, probe: null, sinceMs: null, detail: null, ...more };
}

export function callOf(zone: string, atMs: number, more: Partial<Call> = {}): Call {
  return {
    site: "dock",
    zone,
    atMs,
    call: "wait",
    limiting: "cure-short",
    rules: [],
    steps: [],
    validUntilMs: null,
    pour: null,
    next: null,
    night: null,
    window: { state: "not-yet", opensAtMs: null, closesAtMs: atMs + 30 * HOUR_MS, earned: 0.2 },
    film: {
      coat: 0,
      sheet: "e1",
      pouredFromMs: NOON_MS - 4 * HOUR_MS,
      pouredToMs: NOON_MS - 2 * HOUR_MS,
      dewSafeEarned: 0.2,
      dewSensitive: true,
      dewSafeAtMs: null,
      walkOnAtMs: null,
      driveOnAtMs: null,
      estimated: false,
    },
    nextCoat: 1,
    pouring: false,
    conditions: {
      slabColdC: 14,
      slabHotC: 15,
      airC: 16,
      rhPct: 55,
      dewPointC: 7,
      marginK: 7,
      marginUncertaintyK: 0.8,
      slabSlopeKPerH: 0,
      ageS: 60,
    },
    ruleVersion: "test",
    ...more,
  };
}

export function zoneAt(
  zone: string,
  atMs: number,
  { film, call, ...more }: Partial<Omit<ZoneMoment, "call">> & { film?: Partial<FilmWatch>; call?: Partial<Call> } = {},
): ZoneMoment {
  const watched: FilmWatch = {
    limitK: 3,
    leastC: 10,
    curing: true,
    dew: NOTHING_FORESEEN,
    cold: NOTHING_FORESEEN,
    ...film,
  };
  return {
    zone,
    call: callOf(zone, atMs, call),
    watch: { film: watched, heat: "holds" },
    chanceLost: 0,
    pourH: 2,
    trail: [],
    ...more,
  };
}

export const withMargin = (marginK: number | null) => ({
  conditions: { ...callOf("x", 0).conditions, marginK },
});

export function nodeAt(node: string, zones: readonly string[], heardMs: number | null): NodeMoment {
  return {
    node,
    zones,
    everyS: 300,
    heardMs,
    batteryPct: null,
    batteryInDays: null,
    batteryWarns: null,
    doorOpenMs: null,
    hasDoor: false,
  };
}

export const WELL: ServerMoment = {
  sinceMs: NOON_MS - 100 * HOUR_MS,
  brokerDown: false,
  storeDown: false,
  disk: { freeBytes: 20e9, totalBytes: 64e9 },
  away: null,
  channels: [],
};

export function momentAt(nowMs: number, zones: readonly ZoneMoment[], more: Partial<SiteMoment> = {}): SiteMoment {
  return {
    site: "dock",
    nowMs,
    driveMin: null,
    knownZones: zones.map(({ zone }) => zone),
    zones,
    nodes: [],
    server: WELL,
    ...more,
  };
}

/** Runs the machine over moments a minute apart, `minutes` long; gives what it said and where it stands. */
export function runFor(
  minutes: number,
  moment: (atMs: number) => SiteMoment,
  from: { readonly state: AlarmsState; readonly nowMs: number } = { state: NO_ALARMS, nowMs: NOON_MS },
): { readonly state: AlarmsState; readonly nowMs: number; readonly events: readonly AlarmEvent[] } {
  let { state, nowMs } = from;
  const events: AlarmEvent[] = [];
  for (let minute = 0; minute < minutes; minute++) {
    nowMs += MINUTE_MS;
    const stepped = stepAlarms("dock", state, reportOf(moment(nowMs), shownSigns(state)), nowMs);
    state = stepped.state;
    events.push(...stepped.events);
  }
  return { state, nowMs, events };
}

/** "raised margin-ahead wake slip" */
export const said = (events: readonly AlarmEvent[]): string[] =>
  events.map(({ alarm, step }) => `${step.step} ${alarm.kind} ${step.level} ${alarm.zones.join("+")}`.trim());
