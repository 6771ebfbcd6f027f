// One night of alarms: a coat is laid in the afternoon by a crew that looks at the floor and not at the night, its film is
// watched for a day, and people answer what wakes them.
import { type EntryBody, entryFromBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { reportOf } from "#core/alarm/causes.ts";
import type { AlarmKind, AlarmLevel, AlarmStepWord } from "#core/alarm/kinds.ts";
import { type AlarmsState, answerAlarm, NO_ALARMS, shownSigns, stepAlarms } from "#core/alarm/machine.ts";
import { type NodeMoment, type SiteMoment, type ZoneMoment, zoneMomentOf } from "#core/alarm/moment.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { SiteLog } from "#core/zone/site.ts";
import type { Pour } from "../study/film-truth.ts";
import { type Course, playNight, STEP_MS } from "../study/play.ts";
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

/** Minutes for which the floor must have looked well before somebody opens a bucket. */
const LOOKED_WELL_MIN = 30;
/** The crew comes at this hour after 14:00 or later, and gives up after the other. */
const CREW_H = { from: 0.2, to: 6 } as const;

export interface Laid {
  readonly sheet: SheetBody;
  readonly pour: Pour;
  readonly entry: JournalEntry;
}

/**
 * The next coat, laid by a crew that looks at the floor as it is and not at the night: as soon as margin and slab have
 * held for half an hour. null when the floor is never fit that afternoon.
 */
export function laidIn({ scenario, stage }: StudyNight, course: Course): Laid | null {
  const coat = { bare: 0, first: 1, second: 2 }[stage];
  const [zone] = scenario.zones;
  const sheet = scenario.sheets.find(({ id }) => id === zone?.system[coat]);
  if (zone === undefined || sheet === undefined) throw new RangeError(`${scenario.id} has no sheet for coat ${coat}`);
  const [leastC, mostC] = sheet.limits.slabC;
  let wellMin = 0;
  for (let step = 0; step < course.length; step++) {
    const atMs = course.fromMs + step * STEP_MS;
    const hours = (atMs - scenario.openedAtMs) / HOUR_MS;
    if (hours > CREW_H.to) return null;
    const well =
      (course.marginK[step] as number) >= sheet.limits.dewMarginK &&
      (leastC === null || (course.coldC[step] as number) >= leastC) &&
      (mostC === null || (course.hotC[step] as number) <= mostC);
    wellMin = well ? wellMin + STEP_MS / MINUTE_MS : 0;
    if (hours < CREW_H.from || wellMin < LOOKED_WELL_MIN) continue;
    const toMs = atMs + Math.round((zone.areaM2 / zone.pourM2PerH) * 60) * MINUTE_MS;
    const [from, to] = [isoFromMs(atMs), isoFromMs(toMs)];
    const body = { at: to, zone: zone.id, did: "poured", coat, from, to } as EntryBody;
    return { sheet, pour: { coat, fromMs: atMs, toMs }, entry: entryFromBody(body, "afternoon", toMs) };
  }
  return null;
}

function nodesAt(log: SiteLog, nowMs: number): NodeMoment[] {
  return log.nodes.map(({ id, zone, everyS }) => {
    const heard = log.series.flatMap((series) =>
      series.node === id
        ? (series.heardMs
            .slice()
            .filter((atMs) => atMs <= nowMs)
            .at(-1) ?? [])
        : [],
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

/** null when nothing is laid that night; `watches`: whether a night with these harms is watched at all. */
export function alarmNight(
  night: StudyNight,
  plan: WatchPlan,
  watches: (harms: readonly Harm[]) => boolean,
): AlarmNight | null {
  const { course, log } = playNight(night);
  const laid = laidIn(night, course);
  if (laid === null) return null;
  const { pour, sheet, entry } = laid;
  const openMs = night.scenario.openedAtMs;
  const { harms, quiet } = harmsOf(sheet, course, pour, openMs + (plan.hours ?? WATCHED_H) * HOUR_MS);
  if (!watches(harms)) return null;
  const journal = [...log.journal.filter(({ atMs }) => atMs < pour.toMs), entry];
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
    said: saidOver({ ...log, journal }, openMs, plan),
  };
}
