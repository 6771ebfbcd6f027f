// The hand-over of a film: only hours of a confirmed sheet are given to a client.
import { describe, expect, it } from "vitest";
import { handOverOf } from "#core/record/hand-over.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { prospectOf } from "#core/judge/prospect.ts";
import { outlookNow } from "#core/judge/seen.ts";
import { zoneState } from "#core/zone/state.ts";
import { ground, HOUR_MS, nightLog, NOON_MS, poured, slowEpoxy, zoneA } from "../../support/night-log.ts";

/** One coat alone, three days old at some 16 °C: its sheet lets nobody walk on it before 30 h. */
const floor = (confirmed?: null) =>
  nightLog({
    hours: 80,
    zones: [{ ...zoneA, system: ["e1"] }],
    sheets: [confirmed === undefined ? slowEpoxy : { ...slowEpoxy, confirmed }],
    journal: [...ground(NOON_MS, 75), poured(0, NOON_MS - 73 * HOUR_MS)],
  });

const handed = (log: ReturnType<typeof floor>) => {
  const state = zoneState(log, "a", { nowMs: NOON_MS, heardByMs: NOON_MS });
  const outlook = outlookNow(state);
  return handOverOf(state, outlook, prospectOf(state, outlook));
};

describe("the hand-over", () => {
  it("gives what a confirmed sheet prints, reached or ahead, and sends to the paper for all else", () => {
    const uses = handed(floor())?.uses ?? [];
    expect(uses.find(({ use }) => use === "walk-on")).toMatchObject({ state: "reached" });
    expect(uses.filter(({ state }) => state === "ask-the-sheet").map(({ use }) => use)).toEqual([
      ...["traffic", "light-traffic", "heavy-traffic", "washing"],
    ]);
  });

  it("gives no hour of a sheet that nobody has confirmed; what keeps the floor from harm is still said", () => {
    const given = handed(floor(null));
    expect(new Set(given?.uses.map(({ state }) => state))).toEqual(new Set(["ask-the-sheet"]));
    expect(given?.uses.every(({ reachedMs, notBeforeMs }) => reachedMs === null && notBeforeMs === null)).toBe(true);
    expect(handed(floor(null))?.keepShut).toEqual(handed(floor())?.keepShut);
  });

  it("the call of such a floor names the sheet, so that every list can mark its times", () => {
    const { call } = judgeZone(floor(null), "a", NOON_MS);
    expect(call.call).toBe("finished");
    expect(call.rules.find(({ rule }) => rule === "sheet-invalid")?.detail).toBe("e1: unconfirmed");
  });
});
