// What the record says, in the person's language: pure, so that it can be tried without a page.
import type { UseBody } from "#contract/hand-over.ts";
import type { LimitHeldBody, ShownCallBody } from "#contract/record-parts.ts";
import type { RuleUnit } from "#core/judge/call.ts";
import { recordText } from "../../text/record.ts";
import type { Voice } from "../../text/sentence.ts";
import { showBoth } from "../../units/show.ts";

/** Day and time whatever day it is: a record is read long after. */
export function stamp(iso: string, { clock }: Pick<Voice, "clock">): string {
  const atMs = Date.parse(iso);
  return `${clock.day(atMs)}, ${clock.time(atMs)}`;
}

export function number(value: number | null, unit: string | null, { units, text }: Voice): string {
  return value === null ? recordText(text).unknown : showBoth(value, unit as RuleUnit | null, units);
}

export function countsOf(limits: readonly LimitHeldBody[]) {
  const of = (outcome: LimitHeldBody["outcome"]) => limits.filter((held) => held.outcome === outcome).length;
  return { met: of("met"), notMet: of("not-met"), unknown: of("unknown") };
}

/** The rule to read first, with its number and limit. */
export function whyWords({ limiting, reasons }: ShownCallBody, voice: Voice): string {
  if (limiting === null) return "";
  const reason = reasons.find(({ rule }) => rule === limiting);
  const numbers = [reason?.measured ?? null, reason?.limit ?? null]
    .filter((value) => value !== null)
    .map((value) => number(value, reason?.unit ?? null, voice));
  return [voice.text.ruleNames[limiting], ...(numbers.length === 0 ? [] : [numbers.join(" / ")])].join(": ");
}

export function useWords({ state, reachedAt, notBefore, estimated }: UseBody, voice: Voice): string {
  const words = recordText(voice.text);
  if (state === "ask-the-sheet") return words.askSheet;
  const at = state === "reached" ? reachedAt : notBefore;
  if (state === "unknown" || at === null) return words.unforeseen;
  const said = state === "reached" ? words.reached(stamp(at, voice)) : words.ahead(stamp(at, voice));
  return estimated ? `${said} (${words.estimate})` : said;
}
