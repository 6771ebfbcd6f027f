// A sign: one cause at one place as a moment shows it. Signs of one group are one alarm.
import type { AlarmFacts } from "#core/alarm/alarm.ts";
import type { AlarmKind, AlarmLevel } from "#core/alarm/kinds.ts";

export interface Sign {
  /** What is one alarm: `dew`, `heat`, `window/slip`. */
  readonly group: string;
  /** Where in the group: a zone, a node, a probe; empty where there is but one place. */
  readonly member: string;
  readonly kind: AlarmKind;
  readonly level: AlarmLevel;
  readonly zones: readonly string[];
  /** Among signs of one step the lowest is the worst: hours left, margin. */
  readonly order: number;
  readonly facts: AlarmFacts;
}

/**
 * What a moment shows. A place that is neither a sign nor in `fine` was not seen: nothing about it is known, and what
 * stands there stands on.
 */
export interface Report {
  readonly signs: readonly Sign[];
  /** Places (`placeOf`) that were looked at with good data and found well. */
  readonly fine: ReadonlySet<string>;
}

export const placeOf = ({ group, member }: Pick<Sign, "group" | "member">): string => `${group}|${member}`;
