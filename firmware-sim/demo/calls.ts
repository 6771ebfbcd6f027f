// What the board says of the scenario's zones, against what it must say.
import type { BoardBody } from "#contract/board.ts";
import type { ExpectedCall, Scenario } from "../scenario/scenario.ts";

export interface SeenCall {
  readonly zone: string;
  readonly name: string;
  readonly call: string;
  readonly limiting: string | null;
  readonly asExpected: boolean;
}

function fits(expected: ExpectedCall | undefined, call: string, limiting: string | null): boolean {
  return expected !== undefined && expected.call === call && expected.limiting.includes(limiting);
}

/** Calls in the board's order; a zone for which nothing is expected counts as not expected. */
export function seenCalls(board: BoardBody, scenario: Scenario): readonly SeenCall[] {
  return board.zones.map(({ zone, call }) => ({
    zone: zone.id,
    name: zone.name,
    call: call.call,
    limiting: call.limiting,
    asExpected: fits(
      scenario.expect.find((each) => each.zone === zone.id),
      call.call,
      call.limiting,
    ),
  }));
}

export function allAsExpected(seen: readonly SeenCall[], scenario: Scenario): boolean {
  return seen.length === scenario.zones.length && seen.every((each) => each.asExpected);
}

/** One line a zone, for the terminal. */
export function sayCalls(seen: readonly SeenCall[]): string {
  const width = Math.max(...seen.map((each) => each.name.length));
  return seen
    .map((each) =>
      `  ${each.name.padEnd(width)}  ${each.call.toUpperCase().padEnd(8)}  ${each.limiting ?? ""}`.trimEnd(),
    )
    .join("\n");
}
