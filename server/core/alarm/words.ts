// What the words of alarms are in any language.
import type { AlarmKind } from "#core/alarm/kinds.ts";

/** What a sentence may name, ready to be read; null where the alarm does not know it. */
export interface AlarmWordFacts {
  /** The zones, the worst first: "Slip bay", "Slip bay and 2 more"; null where there are none. */
  readonly where: string | null;
  readonly at: string | null;
  /** "62 %" */
  readonly chance: string | null;
  /** With unit, the person's own first: "2.0 °F (1.1 °C)". */
  readonly measured: string | null;
  readonly limit: string | null;
  readonly about: string | null;
  /** A length of time: "2 h 10", "40 min". */
  readonly hours: string | null;
}

export interface AlarmSentence {
  /** At most 120 characters. */
  readonly title: string;
  /** At most 240 characters. */
  readonly body: string;
}

export interface AlarmWords {
  readonly kinds: Readonly<Record<AlarmKind, (facts: AlarmWordFacts) => AlarmSentence>>;
  readonly cleared: (title: string) => string;
  readonly more: (name: string, others: number) => string;
  readonly hours: (h: number) => string;
}
