// How the made-up site writes down one of its zones, and the moment of its board.
import type { RuleId } from "#core/judge/call.ts";
import type { CallBody, RuleResultBody } from "#contract/call.ts";

export const NIGHT_AT = "2026-02-03T12:05:00Z";
export const H = 3_600_000;

/** The time `h` hours after the moment of the board. */
export const iso = (atMs: number) => new Date(atMs).toISOString().replace(".000Z", "Z");

export interface Plot {
  id: string;
  name: string;
  areaM2: number;
  call: CallBody["call"];
  limiting: RuleId | null;
  rules: readonly Partial<RuleResultBody>[];
  margin(h: number): number;
  past: readonly [fromH: number, toH: number, call: CallBody["call"], limiting: RuleId | null, hindsight?: boolean][];
  ahead: readonly [fromH: number, toH: number, call: CallBody["call"], chance: number][] | null;
  more: Partial<CallBody>;
  heardAgoS: number;
}
