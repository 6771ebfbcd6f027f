// The rules of a zone on its page, where its board has left out those that are met.
import { expect, it } from "vitest";
import type { BoardZoneBody } from "#contract/board.ts";
import { briefCall } from "#contract/board-brief.ts";
import { withAllRules } from "../../dashboard/features/zone/whole-call.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";

const items: readonly BoardZoneBody[] = SAMPLE_BOARD.zones;
const brief = (item: BoardZoneBody): BoardZoneBody => ({ ...item, call: briefCall(item.call) });

it("are all there, as they were judged, once the zone has been asked", () => {
  for (const item of items) expect(withAllRules(brief(item), item)).toEqual(item);
});

it("stay as the board has them before that, and where the board has all", () => {
  for (const item of items) {
    const short = brief(item);
    expect(withAllRules(short, null)).toBe(short);
    expect(withAllRules(item, item)).toBe(item);
  }
});

it("one that stopped when the zone was asked and is left out now is met, without numbers of another time", () => {
  const met = items.filter((item) => (briefCall(item.call).metLeftOut ?? 0) > 0);
  expect(met.length).toBeGreaterThan(3);
  for (const item of met) {
    const at = item.call.rules.findIndex((one) => !briefCall(item.call).rules.includes(one));
    const then = { ...item.call, rules: item.call.rules.with(at, { ...rule(item, at), outcome: "stop", measured: 9 }) };
    const shown = withAllRules(brief(item), { call: then }).call.rules;
    expect(shown).toHaveLength(item.call.rules.length);
    expect(shown[at]).toMatchObject({ rule: rule(item, at).rule, outcome: "pass", measured: null });
  }
});

it("one that the board states and the zone did not is stated", () => {
  for (const item of items) {
    const stated = brief(item).call.rules;
    const shown = withAllRules(brief(item), { call: { ...item.call, rules: [] } }).call.rules;
    expect(shown).toEqual(stated);
  }
});

function rule({ call }: BoardZoneBody, at: number) {
  const found = call.rules[at];
  if (found === undefined) throw new Error("no such rule");
  return found;
}
