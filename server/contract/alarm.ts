// An alarm: one cause, somewhere on a site or in the server itself, that somebody must see.
import Type from "typebox";
import { Id, IsoTime, Name, NullableNumber, NullableTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

/** `wake`: rings at night too. `tell`: waits for the morning of a person with quiet hours. `list`: stands in the list only. */
export const ALARM_LEVELS = ["list", "tell", "wake"] as const;
export type AlarmLevel = (typeof ALARM_LEVELS)[number];

export const ALARM_KINDS = [
  /** The film on the floor cannot bear dew, and the margin is foreseen below its limit; below it; at the dew point. */
  "margin-ahead",
  "margin-below",
  "condensing",
  /** The slab is foreseen below, or found below, what the film needs to cure. */
  "cold-ahead",
  "cold-now",
  /** The air falls as the building does without heat. */
  "heat-lost",
  /** The window will close before the next coat can go down; closes within the crew's drive; has closed. */
  "window-unreachable",
  "window-closing",
  "window-closed",
  /** While pouring: stop at the next joint. */
  "stop-pour",
  /** Good news: the zone can be poured. */
  "zone-opened",
  /** The dew point jumped as it does when a door stands open. */
  "door-open",
  "node-silent",
  "battery-low",
  "probe-doubt",
  /** A film cures, and nobody knows in what. */
  "data-lost",
  "broker-down",
  "store-failing",
  "disk-full",
  "judge-failing",
  /** The server was away: from when to when. */
  "server-away",
  /** A way of telling people has failed. */
  "channel-failing",
  /** Somebody pressed the test button. */
  "test",
] as const;
export type AlarmKind = (typeof ALARM_KINDS)[number];

/** `open` until somebody answers; `cleared` by good data only, never by silence. */
export const ALARM_STATES = ["open", "acknowledged", "snoozed", "cleared"] as const;
export type AlarmState = (typeof ALARM_STATES)[number];

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
export const ALARM_STEPS = ["raised", "worsened", "escalated", "acknowledged", "snoozed", "woken", "cleared"] as const;
export const AlarmStepSchema = Type.Object(
  { at: IsoTime, step: Type.Enum([...ALARM_STEPS]), by: nullable(Name), level: Type.Enum([...ALARM_LEVELS]) },
  closed,
);

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
