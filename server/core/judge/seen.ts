// A zone seen with an outlook: what lies ahead, the verdict, and the calls to come. One code for the live judge and for plans.
import type { Facts, SheetLimitsNow } from "#core/judge/facts.ts";
import { factsOf, limitsOf } from "#core/judge/facts-of.ts";
import { lookAhead, type MemberCalls } from "#core/judge/look-ahead.ts";
import { type Prospect, prospectOf } from "#core/judge/prospect.ts";
import { stageOf } from "#core/judge/rules/all.ts";
import { type Verdict, verdictOf } from "#core/judge/verdict.ts";
import { outlookOf } from "#core/outlook/ensemble.ts";
import type { Outlook } from "#core/outlook/outlook.ts";
import type { ZoneState } from "#core/zone/state.ts";

export interface Seen {
  readonly prospect: Prospect;
  readonly facts: Facts;
  readonly limits: SheetLimitsNow | null;
  readonly verdict: Verdict;
  /** Data that cannot be trusted now allow no look ahead. */
  readonly blind: boolean;
  /** Calls of the members; null without an outlook, or when blind. */
  readonly members: readonly MemberCalls[] | null;
}

/** The outlook of now: made only from conditions that are live, or that a hand reading vouches for. */
export function outlookNow(state: ZoneState): Outlook | null {
  return state.conditions.source === "none" ? null : outlookOf(state);
}

export function seenWith(state: ZoneState, outlook: Outlook | null): Seen {
  const prospect = prospectOf(state, outlook);
  const facts = factsOf(state, outlook, prospect);
  const limits = limitsOf(state);
  const verdict = verdictOf(facts);
  const blind = verdict.limiting !== null && stageOf(verdict.limiting) === "data";
  const members =
    outlook === null || blind ? null : lookAhead(state, outlook, prospect, verdict, limits, facts.sustainedMin);
  return { prospect, facts, limits, verdict, blind, members };
}
