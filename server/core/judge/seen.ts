// A zone seen with an outlook: what lies ahead, the verdict, and the calls to come. One code for the live judge and for plans.
import type { Facts } from "#core/judge/facts.ts";
import { factsOf, limitsOf } from "#core/judge/facts-of.ts";
import { lookAhead, type MemberCalls } from "#core/judge/look-ahead.ts";
import { type Prospect, prospectOf } from "#core/judge/prospect.ts";
import { stageOf } from "#core/judge/rules/all.ts";
import { type Verdict, verdictOf } from "#core/judge/verdict.ts";
import { plainOutlook } from "#core/outlook/plain.ts";
import { outlookOf } from "#core/outlook/ensemble.ts";
import type { Outlook } from "#core/outlook/outlook.ts";
import type { ZoneState } from "#core/zone/state.ts";

/** What lies ahead of a zone and the verdict on it. */
export interface Weighed {
  readonly prospect: Prospect;
  readonly facts: Facts;
  readonly verdict: Verdict;
}

export interface Seen extends Weighed {
  /** Data that cannot be trusted now allow no look ahead. */
  readonly blind: boolean;
  /** Calls of the members; null without an outlook, or when blind. */
  readonly members: readonly MemberCalls[] | null;
}

/** The outlook of now: made only from conditions that are live, or that a hand reading vouches for. */
export function outlookNow(state: ZoneState): Outlook | null {
  return state.conditions.source === "none" ? null : (outlookOf(state) ?? plainOutlook(state));
}

export function weighedWith(state: ZoneState, outlook: Outlook | null): Weighed {
  const prospect = prospectOf(state, outlook);
  const facts = factsOf(state, outlook, prospect);
  return { prospect, facts, verdict: verdictOf(facts) };
}

export function seenWith(state: ZoneState, outlook: Outlook | null): Seen {
  const { prospect, facts, verdict } = weighedWith(state, outlook);
  const blind = verdict.limiting !== null && stageOf(verdict.limiting) === "data";
  const members =
    outlook === null || blind
      ? null
      : lookAhead(state, outlook, prospect, verdict, limitsOf(state), facts.sustainedMin);
  return { prospect, facts, verdict, blind, members };
}
