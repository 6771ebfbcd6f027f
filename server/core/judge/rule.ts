// What a rule is: one reason to stop, caution or pass, as a pure function of the facts.
import type { Step } from "#core/cure/sheet.ts";
import type { Outcome, RuleId, RuleUnit } from "#core/judge/call.ts";
import type { Facts } from "#core/judge/facts.ts";

export interface Finding {
  readonly outcome: Outcome;
  readonly measured?: number | null;
  readonly limit?: number | null;
  readonly unit?: RuleUnit;
  readonly probe?: string | null;
  readonly sinceMs?: number | null;
  readonly detail?: string | null;
  /** For a stop that asks for work: the steps still to do, in order. */
  readonly steps?: readonly Step[];
}

/** A fact and the direction in which a change of it can only make the rule stricter. */
export interface Stricter {
  readonly fact: keyof Facts;
  readonly towards: "lower" | "higher" | "true" | "false";
}

export interface Rule {
  readonly id: RuleId;
  /** The call when the rule stops. */
  readonly calls: "wait" | "abrade";
  /** While pouring a stop is only a caution. */
  readonly cautionWhilePouring: boolean;
  /** Goes on for the last coat after it is down. */
  readonly afterLastCoat: boolean;
  readonly stricter: readonly Stricter[];
  /** Why the rule exists and where it comes from. */
  readonly source: string;
  judge(facts: Facts): Finding;
}

export const PASS: Finding = { outcome: "pass" };
export const UNKNOWN: Finding = { outcome: "unknown" };

interface RuleBody {
  readonly stricter?: readonly Stricter[];
  readonly cautionWhilePouring?: boolean;
  readonly afterLastCoat?: boolean;
  readonly source: string;
  readonly judge: (facts: Facts) => Finding;
}

export function waits(id: RuleId, body: RuleBody): Rule {
  return { id, calls: "wait", stricter: [], cautionWhilePouring: false, afterLastCoat: false, ...body };
}

export function abrades(id: RuleId, body: RuleBody): Rule {
  return { id, calls: "abrade", stricter: [], cautionWhilePouring: false, afterLastCoat: false, ...body };
}
