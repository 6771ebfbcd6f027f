// What is asked before an alarm is raised, repeated and cleared: one line a kind. Where no reason stands beside a number
// it is common practice, no source.
import type { AlarmKind, AlarmLevel } from "#core/alarm/kinds.ts";

export interface AlarmRule {
  /** As loud as this kind gets; a cause may be softer where nothing is at stake. */
  readonly level: AlarmLevel;
  /** How bad it is among the kinds that are one alarm; a higher step is a worsening. */
  readonly step: number;
  /** Minutes that it must stand before it is raised, and be found well before it is cleared. */
  readonly raiseAfterMin: number;
  readonly clearAfterMin: number;
  /** Minutes after it was cleared in which the same does not raise it again. */
  readonly restMin: number;
}

const rule = (
  level: AlarmLevel,
  step: number,
  raiseAfterMin: number,
  clearAfterMin: number,
  restMin = 0,
): AlarmRule => ({ level, step, raiseAfterMin, clearAfterMin, restMin });

export const ALARM_RULES: Readonly<Record<AlarmKind, AlarmRule>> = {
  // A foresight is drawn anew with every packet: it must stand for three rounds of a common node, and not come and go all night.
  "margin-ahead": rule("wake", 0, 15, 60, 120),
  // Fifteen minutes below the limit ask for an inspection, fifteen at the dew point for abrading: both are told before.
  "margin-below": rule("wake", 1, 5, 30),
  condensing: rule("wake", 2, 0, 30),
  // A film that is too cold stands still: hours matter, minutes do not.
  "cold-ahead": rule("tell", 0, 30, 60, 120),
  "cold-now": rule("tell", 1, 15, 60),
  // A door or a thermostat makes the air fall for a quarter of an hour too.
  "heat-lost": rule("wake", 0, 20, 60),
  "window-unreachable": rule("tell", 0, 30, 60, 240),
  "window-closing": rule("tell", 1, 0, 10),
  "window-closed": rule("list", 2, 0, 10),
  // People stand there with buckets.
  "stop-pour": rule("wake", 0, 0, 0),
  "zone-opened": rule("tell", 0, 10, 10, 240),
  "door-open": rule("tell", 0, 5, 15, 30),
  // The cause has asked for half an hour of silence already.
  "node-silent": rule("tell", 0, 0, 10),
  "data-lost": rule("wake", 0, 5, 10),
  "battery-low": rule("tell", 0, 60, 60),
  "probe-doubt": rule("tell", 0, 30, 60),
  "broker-down": rule("wake", 0, 5, 5),
  "store-failing": rule("wake", 0, 2, 5),
  "disk-full": rule("tell", 0, 5, 30),
  "judge-failing": rule("wake", 0, 3, 10),
  "server-away": rule("tell", 0, 0, 0),
  "channel-failing": rule("tell", 0, 10, 10),
  test: rule("wake", 0, 0, 0),
};

/** How often an alarm that nobody answers is said again, and how many times: then it stands in the list. */
export const REPEATS: Readonly<Record<AlarmLevel, { readonly everyMin: number; readonly times: number } | null>> = {
  // Long enough to find the boots, short enough to save the floor; four times is a list of people and once around again.
  wake: { everyMin: 15, times: 4 },
  // Once more half a day later: the first may have come at the end of a shift.
  tell: { everyMin: 12 * 60, times: 1 },
  list: null,
};

/** While people stand there: every few minutes. */
export const POUR_REPEATS = { everyMin: 5, times: 3 } as const;

/** Zones that join an alarm are told together, at most this often, minutes: a cold front takes five zones within the hour. */
export const JOIN_EVERY_MIN = 30;

/** Numbers of the causes themselves. */
export const CAUSES = {
  /** A margin this much above its limit is well again, K: more than a cheap chip flickers. */
  marginBackK: 0.5,
  slabBackK: 0.5,
  /** Foreseen: told from the first chance on, wakes from the second if it is near enough; well again below the third. */
  tellChance: 0.3,
  wakeChance: 0.5,
  fineChance: 0.15,
  /** Nobody is woken for what may come later than this: there is time to ask again, hours. */
  wakeAheadH: 8,
  /** Air that has come back this much from where it had fallen to: heat is on again, K. */
  heatBackK: 1,
  /** A window that is foreseen lost by this chance is told; below the second it is well again. */
  lostChance: 0.6,
  lostFineChance: 0.4,
  /** The crew's way to the site when nobody set it, minutes. */
  driveMin: 60,
  /** Dew point that rose by so much against the half hour before, K, and stayed there for so long, minutes. */
  doorRiseK: 1.5,
  doorWithinMin: 15,
  doorStaysMin: 10,
  doorBackK: 0.7,
  /** A door that says itself that it stands open, minutes. */
  doorOpenMin: 15,
  /** A node is silent after so many of its rounds, and not before so many minutes. */
  silentRounds: 5,
  silentMin: 30,
  batteryBackPct: 25,
  /** A film older than this is past dew by any sheet, or is not watched any more, hours. */
  filmLongestH: 96,
  diskLeastShare: 0.05,
  diskLeastBytes: 500e6,
  diskBack: 1.2,
  /** Away for less than this is a restart, minutes. */
  awayMin: 10,
  /** News is news for so long, hours. */
  newsH: 12,
} as const;
