// One night of alarms: a coat is laid in the afternoon whatever the call says, its film is watched for a day, and people
// answer what wakes them.
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { reportOf } from "#core/alarm/causes.ts";
import type { AlarmKind, AlarmLevel, AlarmStepWord } from "#core/alarm/kinds.ts";
import { type AlarmsState, answerAlarm, NO_ALARMS, shownSigns, stepAlarms } from "#core/alarm/machine.ts";
import { type NodeMoment, type SiteMoment, type ZoneMoment, zoneMomentOf } from "#core/alarm/moment.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { SHED_ZONE } from "../scenario/shed.ts";
import { drawOf } from "../study/draw.ts";
import type { Pour } from "../study/film-truth.ts";
import { playNight } from "../study/play.ts";
import type { StudyNight } from "../study/sample.ts";
import { type Harm, harmsOf } from "./harm.ts";

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const WATCHED_H = 24;

/** Something that was said to people. */
export interface Said {
  readonly atMs: number;
  readonly step: AlarmStepWord;
  readonly kind: AlarmKind;
  readonly level: AlarmLevel;
}

export interface AlarmNight {
  readonly night: number;
  readonly title: string;
  readonly stage: string;
  readonly heat: string;
  readonly outdoor: string;
  readonly fault: string | null;
  readonly pour: Pour;
  readonly harms: readonly Harm[];
  /** Nothing came near the film: no harm, and the margin never below its limit. */
  readonly quiet: boolean;
  readonly said: readonly Said[];
}

/** The same night with the next coat laid in the afternoon. */
export function withPour(night: StudyNight): { readonly night: StudyNight; readonly pour: Pour } {
  const { scenario, stage } = night;
  const [zone] = scenario.zones;
  if (zone === undefined) throw new RangeError(`${scenario.id} has no floor`);
  const fromMs = scenario.openedAtMs + Math.round(drawOf(scenario.seed).between("afternoon", 10, 180)) * MINUTE_MS;
  const toMs = fromMs + Math.round((zone.areaM2 / zone.pourM2PerH) * 60) * MINUTE_MS;
  const coat = { bare: 0, first: 1, second: 2 }[stage];
  const [from, to] = [isoFromMs(fromMs), isoFromMs(toMs)];
  const entry = { at: to, zone: zone.id, did: "poured", coat, from, to } as EntryBody;
  const journal = [...scenario.journal.filter(({ at }) => at < to), entry].sort((a, b) => a.at.localeCompare(b.at));
  return { night: { ...night, scenario: { ...scenario, journal } }, pour: { coat, fromMs, toMs } };
}

function nodesAt(log: SiteLog, nowMs: number): NodeMoment[] {
  return log.nodes.map(({ id, zone, everyS }) => {
    const heard = log.series.flatMap((series) =>
      series.node === id ? (series.heardMs.filter((atMs) => atMs <= nowMs).at(-1) ?? []) : [],
    );
    return {
      node: id,
      zones: zone === null ? [] : [zone],
      everyS,
      heardMs: heard.length === 0 ? null : Math.max(...heard),
      batteryPct: null,
      batteryInDays: null,
      batteryWarns: null,
      doorOpenMs: null,
      hasDoor: false,
    };
  });
}

export interface WatchPlan {
  readonly stepMin: number;
  readonly hours?: number;
}

/** Runs the machine over a log as the live server would, every `stepMin` minutes; whoever is woken answers within a step. */
export function saidOver(log: SiteLog, fromMs: number, { stepMin, hours = WATCHED_H }: WatchPlan): readonly Said[] {
  const said: Said[] = [];
  let state: AlarmsState = NO_ALARMS;
  let zone: ZoneMoment | null = null;
  const [body] = log.zones;
  if (body === undefined) throw new RangeError("a log without a zone");
  for (let atMs = fromMs; atMs <= fromMs + hours * HOUR_MS; atMs += stepMin * MINUTE_MS) {
    for (const { alarm } of Object.values(state.standing))
      if (alarm.state === "open" && alarm.level === "wake")
        state = answerAlarm(state, alarm.id, { did: "acknowledge", by: "crew" }, atMs)?.state ?? state;
    zone = zoneMomentOf(body, judgeZone(log, body.id, atMs), zone);
    const moment: SiteMoment = {
      site: log.site,
      nowMs: atMs,
      driveMin: null,
      knownZones: [body.id],
      zones: [zone],
      nodes: nodesAt(log, atMs),
      server: {
        sinceMs: fromMs - 48 * HOUR_MS,
        brokerDown: false,
        storeDown: false,
        disk: null,
        away: null,
        channels: [],
      },
    };
    const { state: after, events } = stepAlarms(log.site, state, reportOf(moment, shownSigns(state)), atMs);
    state = after;
    for (const { alarm, step } of events) said.push({ atMs, step: step.step, kind: alarm.kind, level: step.level });
  }
  return said;
}

export function alarmNight(sampled: StudyNight, plan: WatchPlan): AlarmNight {
  const { night, pour } = withPour(sampled);
  const { course, log } = playNight(night);
  const id = night.scenario.zones.find((zone) => zone.id === SHED_ZONE)?.system[pour.coat];
  const sheet = night.scenario.sheets.find((each) => each.id === id);
  if (sheet === undefined) throw new RangeError(`${night.scenario.id} has no sheet for coat ${pour.coat}`);
  const endMs = night.scenario.openedAtMs + (plan.hours ?? WATCHED_H) * HOUR_MS;
  const { harms, quiet } = harmsOf(sheet, course, pour, endMs);
  return {
    night: night.index,
    title: night.scenario.title,
    stage: night.stage,
    heat: `${night.heat}${night.heatLogged ? " logged" : ""}`,
    outdoor: night.outdoor,
    fault: night.fault,
    pour,
    harms,
    quiet,
    said: saidOver(log, night.scenario.openedAtMs, plan),
  };
}
