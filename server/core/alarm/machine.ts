// The machine: from what stood, what a moment shows and what people answered to what stands, and what must be said.
import type { Alarm, AlarmStep } from "#core/alarm/alarm.ts";
import { escalationOf } from "#core/alarm/alarm.ts";
import { alarmIdOf } from "#core/alarm/alarm-id.ts";
import { ALARM_LEVELS, louder, type AlarmLevel, type AlarmStepWord } from "#core/alarm/kinds.ts";
import { ALARM_RULES, JOIN_EVERY_MIN, POUR_REPEATS, REPEATS } from "#core/alarm/rules.ts";
import { type Place, placesAfter } from "#core/alarm/places.ts";
import { placeOf, type Report, type Sign } from "#core/alarm/sign.ts";

const MINUTE_MS = 60_000;

/** An alarm that stands, with what people know of it by now. */
export interface Standing {
  readonly alarm: Alarm;
  /** The worst step and the loudest level that were told since it was last open. */
  readonly toldStep: number;
  readonly toldLevel: AlarmLevel;
  /** Places that people know of: a new coat in the same zone is another place. */
  readonly toldMembers: readonly string[];
  readonly toldMs: number;
}

/** All of it is JSON, so that a restart goes on where the last run stopped. */
export interface AlarmsState {
  readonly places: Readonly<Record<string, Place>>;
  readonly standing: Readonly<Record<string, Standing>>;
}

export const NO_ALARMS: AlarmsState = { places: {}, standing: {} };

export interface AlarmEvent {
  readonly alarm: Alarm;
  readonly step: AlarmStep;
}

export interface Stepped {
  readonly state: AlarmsState;
  readonly events: readonly AlarmEvent[];
}

const stepOfKind = ({ kind }: Pick<Sign, "kind">) => ALARM_RULES[kind].step;

function worstFirst(signs: readonly Sign[]): Sign[] {
  return [...signs].sort(
    (a, b) =>
      stepOfKind(b) - stepOfKind(a) ||
      ALARM_LEVELS.indexOf(b.level) - ALARM_LEVELS.indexOf(a.level) ||
      a.order - b.order ||
      (a.member < b.member ? -1 : 1),
  );
}

function withStep(alarm: Alarm, atMs: number, word: AlarmStepWord, by: string | null): AlarmEvent {
  const step: AlarmStep = { atMs, step: word, by, level: alarm.level };
  return { alarm: { ...alarm, history: [...alarm.history, step] }, step };
}

/** What the group of signs says, laid over the alarm as it stood. */
function restated(alarm: Alarm, signs: readonly Sign[]): Alarm {
  const [worst] = signs;
  if (worst === undefined) return alarm;
  const abouts = [...new Set(signs.flatMap(({ facts }) => facts.about ?? []))];
  return {
    ...alarm,
    kind: worst.kind,
    level: signs.reduce<AlarmLevel>((level, sign) => louder(level, sign.level), "list"),
    zones: [...new Set(signs.flatMap(({ zones }) => zones))],
    facts: { ...worst.facts, about: abouts.length === 0 ? null : abouts.slice(0, 3).join(", ") },
  };
}

function raised(site: string, group: string, signs: readonly Sign[], nowMs: number): [Standing, AlarmEvent] {
  const worst = signs[0] as Sign;
  const bare: Alarm = {
    id: alarmIdOf(site, group, nowMs),
    site,
    kind: worst.kind,
    level: worst.level,
    state: "open",
    zones: [],
    raisedAtMs: nowMs,
    changedAtMs: nowMs,
    clearedAtMs: null,
    acknowledgedBy: null,
    acknowledgedAtMs: null,
    snoozedUntilMs: null,
    facts: worst.facts,
    history: [],
  };
  const event = withStep(restated(bare, signs), nowMs, "raised", null);
  return [told(event.alarm, signs, nowMs), event];
}

const membersOf = (signs: readonly Sign[]): string[] => signs.map(({ member }) => member);

function told(alarm: Alarm, signs: readonly Sign[], nowMs: number): Standing {
  return { alarm, toldStep: stepOfKind(alarm), toldLevel: alarm.level, toldMembers: membersOf(signs), toldMs: nowMs };
}

const OPEN = { state: "open", acknowledgedBy: null, acknowledgedAtMs: null, snoozedUntilMs: null } as const;

/** A place that joins is news where it is more than a line in the list, but not every minute. */
function joins({ toldMembers, toldMs }: Standing, signs: readonly Sign[], nowMs: number): boolean {
  if (nowMs - toldMs < JOIN_EVERY_MIN * MINUTE_MS) return false;
  return signs.some(({ level, member }) => level !== "list" && !toldMembers.includes(member));
}

function repeatDue({ alarm, toldMs }: Standing, nowMs: number): boolean {
  const repeats = alarm.kind === "stop-pour" ? POUR_REPEATS : REPEATS[alarm.level];
  if (repeats === null || alarm.state !== "open") return false;
  return nowMs - toldMs >= repeats.everyMin * MINUTE_MS && escalationOf(alarm) < repeats.times;
}

/** One standing alarm one moment on. */
function held(before: Standing, signs: readonly Sign[], stands: boolean, nowMs: number): [Standing, AlarmEvent | null] {
  const alarm = restated(before.alarm, signs);
  const worse =
    stepOfKind(alarm) > before.toldStep ||
    louder(alarm.level, before.toldLevel) !== before.toldLevel ||
    joins(before, signs, nowMs);
  if (worse) {
    const event = withStep({ ...alarm, ...OPEN, changedAtMs: nowMs }, nowMs, "worsened", null);
    return [told(event.alarm, signs, nowMs), event];
  }
  // What got better for good is news when it comes again.
  const now: Standing = {
    ...before,
    alarm,
    toldStep: Math.min(before.toldStep, stepOfKind(alarm)),
    toldMembers: before.toldMembers.filter((member) => signs.some((sign) => sign.member === member)),
  };
  if (alarm.state === "snoozed" && nowMs >= (alarm.snoozedUntilMs ?? 0)) {
    const event = withStep({ ...alarm, ...OPEN }, nowMs, "woken", null);
    return [{ ...now, alarm: event.alarm, toldMembers: membersOf(signs), toldMs: nowMs }, event];
  }
  // What is on its way to be cleared is not said again meanwhile.
  if (stands && repeatDue(now, nowMs)) {
    const event = withStep(alarm, nowMs, "escalated", null);
    return [{ ...now, alarm: event.alarm, toldMembers: membersOf(signs), toldMs: nowMs }, event];
  }
  return [now, null];
}

interface Group {
  readonly signs: Sign[];
  /** Somewhere in it nothing is getting better. */
  stands: boolean;
}

function groupsOf(places: Readonly<Record<string, Place>>): Map<string, Group> {
  const groups = new Map<string, Group>();
  for (const { shown, betterMs } of Object.values(places)) {
    if (shown === null) continue;
    const group = groups.get(shown.group) ?? { signs: [], stands: false };
    group.signs.push(shown);
    group.stands ||= betterMs === null;
    groups.set(shown.group, group);
  }
  return groups;
}

/**
 * One moment on. Pure: the same states and reports give the same alarms with the same ids. `nowMs` may stand still or
 * jump, and must not go back by much: times are only compared.
 */
export function stepAlarms(site: string, before: AlarmsState, report: Report, nowMs: number): Stepped {
  const places = placesAfter(before.places, report, nowMs);
  const groups = groupsOf(places);
  const standing: Record<string, Standing> = {};
  const events: AlarmEvent[] = [];
  for (const group of [...new Set([...Object.keys(before.standing), ...groups.keys()])].sort()) {
    const was = before.standing[group];
    const { signs: unsorted, stands } = groups.get(group) ?? { signs: [], stands: false };
    const signs = worstFirst(unsorted);
    if (was === undefined) {
      const [now, event] = raised(site, group, signs, nowMs);
      standing[group] = now;
      events.push(event);
    } else if (signs.length === 0) {
      const over: Alarm = { ...was.alarm, state: "cleared", clearedAtMs: nowMs, snoozedUntilMs: null };
      events.push(withStep(over, nowMs, "cleared", null));
    } else {
      const [now, event] = held(was, signs, stands, nowMs);
      standing[group] = now;
      if (event !== null) events.push(event);
    }
  }
  return { state: { places, standing }, events };
}

/** What a person answers. `untilMs`: for a snooze. */
export type AlarmAnswer =
  | { readonly did: "acknowledge"; readonly by: string | null }
  | { readonly did: "snooze"; readonly by: string | null; readonly untilMs: number };

/** null if no such alarm stands. Answered the same twice it stays as it is, and nothing is said. */
export function answerAlarm(state: AlarmsState, id: string, answer: AlarmAnswer, nowMs: number): Stepped | null {
  const found = Object.entries(state.standing).find(([, { alarm }]) => alarm.id === id);
  if (found === undefined) return null;
  const [group, was] = found;
  if (answer.did === "acknowledge" && was.alarm.state === "acknowledged") return { state, events: [] };
  const answered: Alarm =
    answer.did === "acknowledge"
      ? {
          ...was.alarm,
          state: "acknowledged",
          acknowledgedBy: answer.by,
          acknowledgedAtMs: nowMs,
          snoozedUntilMs: null,
        }
      : { ...was.alarm, state: "snoozed", snoozedUntilMs: answer.untilMs };
  const event = withStep(answered, nowMs, answer.did === "acknowledge" ? "acknowledged" : "snoozed", answer.by);
  const members = Object.values(state.places).flatMap(({ shown }) => (shown?.group === group ? [shown.member] : []));
  const now: Standing = { ...was, alarm: event.alarm, toldMembers: members };
  return { state: { ...state, standing: { ...state.standing, [group]: now } }, events: [event] };
}

/** Alarms that stand, newest first. */
export function standingAlarms(state: AlarmsState): Alarm[] {
  return Object.values(state.standing)
    .map(({ alarm }) => alarm)
    .sort((a, b) => b.raisedAtMs - a.raisedAtMs || (a.id < b.id ? -1 : 1));
}

/** Places of a state at which something stands, with the sign that stands. */
export function shownSigns(state: AlarmsState): ReadonlyMap<string, Sign> {
  return new Map(
    Object.values(state.places).flatMap(({ shown }) => (shown === null ? [] : [[placeOf(shown), shown] as const])),
  );
}
