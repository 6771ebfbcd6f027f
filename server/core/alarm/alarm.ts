// An alarm as the machine keeps it.
import type { AlarmKind, AlarmLevel, AlarmState, AlarmStepWord } from "#core/alarm/kinds.ts";

/** Numbers that a sentence needs, in SI; `unit` is that of `measured` and `limit`. */
export interface AlarmFacts {
  /** When it is foreseen, or began. */
  readonly expectedAtMs: number | null;
  /** Chance of that, 0 to 1. */
  readonly chance: number | null;
  readonly measured: number | null;
  readonly limit: number | null;
  /** K and Cel as in SenML; h, %, 1. */
  readonly unit: string | null;
  /** Which node, probe, rule or channel. */
  readonly about: string | null;
}

export const NO_FACTS: AlarmFacts = {
  expectedAtMs: null,
  chance: null,
  measured: null,
  limit: null,
  unit: null,
  about: null,
};

export interface AlarmStep {
  readonly atMs: number;
  readonly step: AlarmStepWord;
  readonly by: string | null;
  readonly level: AlarmLevel;
}

export interface Alarm {
  readonly id: string;
  readonly site: string;
  readonly kind: AlarmKind;
  readonly level: AlarmLevel;
  readonly state: AlarmState;
  /** Worst first; none where it is the server's own. */
  readonly zones: readonly string[];
  readonly raisedAtMs: number;
  readonly changedAtMs: number;
  readonly clearedAtMs: number | null;
  readonly acknowledgedBy: string | null;
  readonly acknowledgedAtMs: number | null;
  readonly snoozedUntilMs: number | null;
  readonly facts: AlarmFacts;
  /** Oldest first. */
  readonly history: readonly AlarmStep[];
}

/** How often it has been repeated since it was raised, got worse, or woke up; 0 = not yet. */
export function escalationOf({ history }: Pick<Alarm, "history">): number {
  let times = 0;
  for (const { step } of history) times = step === "escalated" ? times + 1 : 0;
  return times;
}
