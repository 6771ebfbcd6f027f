// An alarm: one cause, somewhere on a site or in the server itself, that somebody must see.
import Type from "typebox";
import type { Alarm, AlarmStep } from "#core/alarm/alarm.ts";
import {
  ALARM_KINDS,
  ALARM_LEVELS,
  ALARM_STATES,
  ALARM_STEPS,
  type AlarmKind,
  type AlarmLevel,
  type AlarmState,
} from "#core/alarm/kinds.ts";
import {
  Id,
  isoFromMs,
  isoOrNull,
  IsoTime,
  msFromIso,
  Name,
  NullableNumber,
  NullableTime,
} from "#contract/primitives.ts";

export { ALARM_KINDS, ALARM_LEVELS, ALARM_STATES, ALARM_STEPS };
export type { AlarmKind, AlarmLevel, AlarmState };

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

/**
 * Numbers that a sentence needs, in SI. `expectedAt`: when it is foreseen to happen, or to have happened; `chance` of
 * that, 0 to 1. `unit` is that of `measured` and `limit`: K and Cel as in SenML, h, %, 1.
 */
export const AlarmFactsSchema = Type.Object(
  {
    expectedAt: NullableTime,
    chance: NullableNumber,
    measured: NullableNumber,
    limit: NullableNumber,
    unit: nullable(Type.String()),
    /** Which node, probe, rule or channel; null where the cause has none. */
    about: nullable(Type.String()),
  },
  closed,
);
export type AlarmFacts = Readonly<Type.Static<typeof AlarmFactsSchema>>;

/** What became of an alarm, one line a step, oldest first. */
export const AlarmStepSchema = Type.Object(
  { at: IsoTime, step: Type.Enum([...ALARM_STEPS]), by: nullable(Name), level: Type.Enum([...ALARM_LEVELS]) },
  closed,
);
export type AlarmStepBody = Readonly<Type.Static<typeof AlarmStepSchema>>;

export const AlarmSchema = Type.Object(
  {
    id: Id,
    site: Id,
    kind: Type.Enum([...ALARM_KINDS]),
    level: Type.Enum([...ALARM_LEVELS]),
    state: Type.Enum([...ALARM_STATES]),
    /** The zones that share the cause, worst first; none where it is the server's own. */
    zones: Type.Array(Id),
    raisedAt: IsoTime,
    /** When it last got worse or raised its level; equals `raisedAt` at first. */
    changedAt: IsoTime,
    clearedAt: NullableTime,
    acknowledgedBy: nullable(Name),
    acknowledgedAt: NullableTime,
    snoozedUntil: NullableTime,
    facts: AlarmFactsSchema,
    history: Type.Array(AlarmStepSchema),
  },
  closed,
);
export type AlarmBody = Readonly<Type.Static<typeof AlarmSchema>>;

function round(value: number | null, decimals: number): number | null {
  const scale = 10 ** decimals;
  return value === null ? null : Math.round(value * scale) / scale;
}

export function bodyFromStep({ atMs, step, by, level }: AlarmStep): AlarmStepBody {
  return { at: isoFromMs(atMs), step, by, level };
}

export function bodyFromAlarm(alarm: Alarm): AlarmBody {
  const { facts } = alarm;
  return {
    id: alarm.id,
    site: alarm.site,
    kind: alarm.kind,
    level: alarm.level,
    state: alarm.state,
    zones: [...alarm.zones],
    raisedAt: isoFromMs(alarm.raisedAtMs),
    changedAt: isoFromMs(alarm.changedAtMs),
    clearedAt: isoOrNull(alarm.clearedAtMs),
    acknowledgedBy: alarm.acknowledgedBy,
    acknowledgedAt: isoOrNull(alarm.acknowledgedAtMs),
    snoozedUntil: isoOrNull(alarm.snoozedUntilMs),
    facts: {
      expectedAt: isoOrNull(facts.expectedAtMs),
      chance: round(facts.chance, 2),
      measured: round(facts.measured, 4),
      limit: round(facts.limit, 4),
      unit: facts.unit,
      about: facts.about,
    },
    history: alarm.history.map(bodyFromStep),
  };
}

const msOrNull = (time: string | null): number | null => (time === null ? null : msFromIso(time));

export function alarmFromBody(body: AlarmBody): Alarm {
  const { facts } = body;
  return {
    id: body.id,
    site: body.site,
    kind: body.kind,
    level: body.level,
    state: body.state,
    zones: body.zones,
    raisedAtMs: msFromIso(body.raisedAt),
    changedAtMs: msFromIso(body.changedAt),
    clearedAtMs: msOrNull(body.clearedAt),
    acknowledgedBy: body.acknowledgedBy,
    acknowledgedAtMs: msOrNull(body.acknowledgedAt),
    snoozedUntilMs: msOrNull(body.snoozedUntil),
    facts: {
      expectedAtMs: msOrNull(facts.expectedAt),
      chance: facts.chance,
      measured: facts.measured,
      limit: facts.limit,
      unit: facts.unit,
      about: facts.about,
    },
    history: body.history.map(({ at, step, by, level }) => ({ atMs: msFromIso(at), step, by, level })),
  };
}
