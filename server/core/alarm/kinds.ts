// The words of an alarm: how loud it is, what it speaks of, where it stands, and what became of it.

/** Softest first. `wake`: rings at night too. `tell`: waits for the morning of a person with quiet hours. `list`: stands in the list only. */
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

export const ALARM_STEPS = ["raised", "worsened", "escalated", "acknowledged", "snoozed", "woken", "cleared"] as const;
export type AlarmStepWord = (typeof ALARM_STEPS)[number];

export function louder(a: AlarmLevel, b: AlarmLevel): AlarmLevel {
  return ALARM_LEVELS.indexOf(a) >= ALARM_LEVELS.indexOf(b) ? a : b;
}
