// Crack filler by its sheet: earned at the coldest probe, and no grinding and no coat until it is hard.
import { expect, it } from "vitest";
import type { Sheet } from "#core/cure/sheet.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { entry, ground, HOUR_MS, nightLog, type NightPatch, NOON_MS, slowEpoxy } from "../../support/night-log.ts";

// 6 to 9 h at room temperature: common practice, no source. Colder than that: invented.
const paste: Sheet = {
  ...slowEpoxy,
  id: "paste",
  kind: "filler",
  cure: [],
  window: "open",
  hard: [
    { slabC: 11, hardH: 20 },
    { slabC: 16, hardH: 10 },
    { slabC: 21, hardH: 8 },
  ],
};
const callOf = (work: readonly JournalEntry[], patch: NightPatch = {}, sheet = paste) =>
  judgeZone(
    nightLog({ journal: [...ground(NOON_MS, 40), ...work], sheets: [slowEpoxy, sheet], ...patch }),
    "a",
    NOON_MS,
  ).call;
const filled = (hoursAgo: number, fields: object = { sheet: "paste" }) =>
  entry("filled", NOON_MS - hoursAgo * HOUR_MS, { ...fields });
const rule = (call: ReturnType<typeof callOf>) => call.rules.find((one) => one.rule === "filler-soft");

it("is hard when the sheet's hours are earned at the slab, and not before", () => {
  // The slab stands at 16 °C: 10 h by the sheet.
  const soft = callOf([filled(9)]);
  expect(soft).toMatchObject({ call: "wait", limiting: "filler-soft" });
  expect(rule(soft)).toMatchObject({ outcome: "stop", limit: 0, unit: "h" });
  expect(rule(soft)?.measured).toBeCloseTo(1, 1);
  expect(callOf([filled(11)]).call).toBe("pour");
  expect(rule(callOf([filled(11)]))).toMatchObject({ outcome: "pass", measured: 0 });
});

it("earns at the coldest probe, and nothing below the coldest row", () => {
  const cold = { says: { slab: 16, "slab.2": 11, air: 17, rh: 45 } };
  expect(rule(callOf([filled(15)], cold))?.measured).toBeCloseTo(5, 1);
  const frozen = rule(callOf([filled(40)], { says: { slab: 10.5, air: 17, rh: 45 } }));
  expect(frozen).toMatchObject({ outcome: "stop", measured: null });
});

it("counts the last of several, typed hours and sheets alike, and both where an entry gives both", () => {
  expect(rule(callOf([filled(30), filled(4)]))?.measured).toBeCloseTo(6, 1);
  expect(rule(callOf([filled(11), filled(1, { hardAfterH: 3 })]))?.measured).toBeCloseTo(2, 5);
  expect(rule(callOf([filled(11, { sheet: "paste", hardAfterH: 12 })]))?.measured).toBeCloseTo(1, 5);
  expect(rule(callOf([]))).toMatchObject({ outcome: "pass", measured: null });
});

it("remembers filler that was laid before the look-back of two days", () => {
  // 55 h at 11.0 °C by a sheet of 60 h there: without the hours before the look-back it would say more than it is.
  const slow: Sheet = {
    ...paste,
    hard: [
      { slabC: 11, hardH: 60 },
      { slabC: 21, hardH: 8 },
    ],
  };
  const call = callOf([filled(55)], { says: { slab: 11, air: 14, rh: 45 }, hours: 80 }, slow);
  expect(rule(call)?.measured).toBeCloseTo(5, 0);
});

it("by a sheet that nobody has confirmed or that is not there, it is never hard", () => {
  expect(callOf([filled(30)], {}, { ...paste, confirmed: null }).limiting).toBe("sheet-invalid");
  expect(callOf([filled(30)], {}, { ...paste, hard: [] }).limiting).toBe("sheet-invalid");
  expect(rule(callOf([filled(300, { sheet: "gone" })]))).toMatchObject({ outcome: "stop", measured: null });
});

it("hours of a single row that are carried below it are an estimate, and ask for a touch", () => {
  const one: Sheet = { ...paste, hard: [{ slabC: 21, hardH: 8 }] };
  expect(rule(callOf([filled(8)], {}, one))).toMatchObject({ outcome: "stop", detail: "estimate" });
  expect(rule(callOf([filled(30)], {}, one))).toMatchObject({ outcome: "caution", detail: "estimate" });
});

it("the pour that is foreseen comes after the filler is hard", () => {
  const call = callOf([filled(6)]);
  expect(call.next?.call).toBe("pour");
  expect(call.next?.likelyMs ?? 0).toBeGreaterThan(NOON_MS + 3.5 * HOUR_MS);
});
