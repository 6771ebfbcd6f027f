// What a long board leaves out of a call: rules that are met, but for those whose numbers a board is read for.
import type { BoardBody } from "#contract/board.ts";
import type { CallBody } from "#contract/call.ts";
import type { RuleId } from "#core/judge/call.ts";

/** A board of more zones is too large to be kept on a device; up to here all is in it, for a page that is out of reach. */
export const WHOLE_ZONES = 200;
/** Read also when they are met: the least that a slab may have tonight, and when a filler will be hard. */
const READ_WHEN_MET: readonly RuleId[] = ["slab-cold", "filler-soft"];

export const isBrief = (board: Pick<BoardBody, "zones">): boolean => board.zones.length > WHOLE_ZONES;

/** Whatever stops, is near, unknown, said in words or the reason of the call stays as it is. */
export function briefCall(call: CallBody): BoardBody["zones"][number]["call"] {
  const rules = call.rules.filter(
    ({ rule, outcome, detail }) =>
      outcome !== "pass" || detail !== null || rule === call.limiting || READ_WHEN_MET.includes(rule),
  );
  return { ...call, rules, metLeftOut: call.rules.length - rules.length };
}
