// What a sentence is made from: numbers and times already written out in the person's units and clock.
import type { RuleId } from "#core/judge/call.ts";

/** Facts of one rule of one call. Everything may be missing: a sentence must read well without it. */
export interface RuleFacts {
  readonly measured: string | null;
  readonly limit: string | null;
  /** The measured number is below zero (a margin below the dew point). */
  readonly negative: boolean;
  /** The measured number without its sign. */
  readonly size: string | null;
  /** Place of the probe that governs, as people know it. */
  readonly place: string | null;
  readonly since: string | null;
  /** How long ago `since` was. */
  readonly ago: string | null;
  /** The finding's kind as the judge names it, and in words. */
  readonly kind: string | null;
  readonly detail: string | null;
  readonly opens: string | null;
  readonly closes: string | null;
  readonly steps: string | null;
  readonly fits: string | null;
  /** The call that stood before the readings stopped. */
  readonly lastCall: string | null;
  /** Chance that the night holds. */
  readonly nightHolds: string | null;
}

/** What is read first, and what follows it. */
export interface Sentence {
  readonly lead: string;
  readonly rest: string;
}

export type RuleSentences = Readonly<Record<RuleId, (facts: RuleFacts) => Sentence>>;
