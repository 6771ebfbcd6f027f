// What a film earns and when its window closes, on timelines with round numbers.
import { describe, expect, it } from "vitest";
import type { Sheet } from "#core/cure/sheet.ts";
import { filmOf } from "#core/zone/film.ts";
import { every10Min, lineOf, type Point } from "../../support/line.ts";
import { HOUR_MS, NOON_MS, row, slowEpoxy } from "../../support/night-log.ts";

/** 12 h at 15 °C until recoat; the window 24 h at 20 °C, 10 h at 30 °C. */
const sheet: Sheet = {
  ...slowEpoxy,
  cure: [
    row(10, { recoatFromH: 24, dewSafeH: 30 }),
    row(20, { recoatFromH: 6, recoatUntilH: 24, dewSafeH: 10 }),
    row(30, { recoatUntilH: 10 }),
  ],
};
const START = NOON_MS;
const hour = (hours: number) => START + hours * HOUR_MS;

function film(
  points: readonly Point[],
  { nowH = 0, pourH = 2, patch = {} as Partial<Sheet>, fullBroadcast = false } = {},
) {
  const nowMs = nowH === 0 ? (points.at(-1) as Point).atMs : hour(nowH);
  const record = { coat: 0, sheet: { ...sheet, ...patch }, fromMs: START, toMs: hour(pourH), fullBroadcast };
  const state = filmOf(record, lineOf(points), nowMs);
  if (state === null) throw new Error("no film");
  return state;
}
const even = (fromH: number, toH: number, slabC: number) => every10Min(hour(fromH), hour(toH), () => ({ slabC }));

describe("minimums", () => {
  it("are earned from the end of the pour, by the coldest probe", () => {
    const points = every10Min(hour(-1), hour(8), () => ({ coldC: 15, hotC: 25 }));
    expect(film(points).recoat.share).toBeCloseTo(6 / 12, 9);
    expect(film(points).recoat.reachedMs).toBeNull();
  });

  it("tell when they were reached, between two readings", () => {
    expect(film(even(0, 9, 20), { pourH: 2.05 }).recoat.reachedMs).toBeCloseTo(hour(8.05), -1);
  });

  it("earn at each temperature its own share", () => {
    const points = [...even(2, 5, 20), ...even(5 + 1e-6, 8.01, 15)];
    expect(film(points).recoat.share).toBeCloseTo(3 / 6 + 3 / 12, 2);
    expect(film(points).dewSafe.share).toBeCloseTo(3 / 10 + 3 / Math.sqrt(300), 2);
  });

  it("earn nothing colder than the coldest row", () => {
    expect(film(even(2, 30, 9.9)).recoat.share).toBe(0);
  });

  it("earn nothing in a gap of more than 30 minutes", () => {
    expect(film([...even(2, 4, 15), ...even(4.6, 6.6, 15)]).recoat.share).toBeCloseTo(4 / 12, 9);
    expect(film([...even(2, 4, 15), ...even(4.5, 6.5, 15)]).recoat.share).toBeCloseTo(4.5 / 12, 9);
  });

  it("earn nothing after the last reading", () => {
    expect(film(even(2, 4, 15), { nowH: 12 }).recoat.share).toBeCloseTo(2 / 12, 9);
  });
});

describe("the maximum", () => {
  it("counts from the start of the pour, by the hottest probe", () => {
    const points = every10Min(hour(0), hour(25), () => ({ coldC: 12, hotC: 20 }));
    expect(film(points, { pourH: 3 }).closing.closesMs).toBeCloseTo(hour(24), -1);
  });

  it("is not closed a minute before", () => {
    expect(film(even(0, 23.8, 20), { nowH: 23.98 }).closing.closesMs).toBeNull();
  });

  it("strict: the hottest hour so far governs, though it is cool again", () => {
    const points = [...even(0, 3, 20), ...even(3 + 1 / 6, 4 + 1 / 6, 30), ...even(4 + 1 / 3, 12, 20)];
    const { closing } = film(points);
    expect(closing.hottestHourC).toBeCloseTo(30, 1);
    expect(closing.closesMs).toBeCloseTo(hour(10), -4);
    expect(closing.spent).toBeLessThan(0.6);
  });

  it("a hot quarter of an hour is not a hot hour", () => {
    const points = [...even(0, 3, 20), ...even(3 + 1 / 6, 3 + 2 / 6, 30), ...even(3.5, 12, 20)];
    expect(film(points).closing.closesMs).toBeNull();
  });

  it("a closing that is discovered late closes when it became known", () => {
    const points = [...even(0, 15, 20), ...even(15 + 1 / 6, 18, 30)];
    const { closesMs } = film(points).closing;
    // The hour at 30 °C says that it closed at the tenth hour; nobody could know before the fifteenth.
    expect(closesMs).toBeGreaterThan(hour(15));
    expect(closesMs).toBeLessThanOrEqual(hour(16 + 1 / 6));
    expect(points.map((point) => point.atMs)).toContain(closesMs);
  });

  it("integrated: short hot spells spend more than the hottest hour says", () => {
    // 24 h at 20 °C, 2 h at 40 °C; half an hour of each in turn: 6.9 h by the hour's mean of 30 °C.
    const patch = { cure: [row(20, { recoatFromH: 1, recoatUntilH: 24 }), row(40, { recoatUntilH: 2 })] };
    const points = Array.from({ length: 20 }, (_, half) => [
      { atMs: hour(half / 2) + 1, slabC: half % 2 === 0 ? 20 : 40 },
      { atMs: hour((half + 1) / 2), slabC: half % 2 === 0 ? 20 : 40 },
    ]).flat();
    // Each hour spends (1/24 + 1/2) / 2 = 0.2708; after 3.5 h 0.8333 is spent, the rest takes a third of an hour at 40 °C.
    expect(film(points, { patch }).closing.closesMs).toBeCloseTo(hour(3 + 5 / 6), -3);
  });

  it("runs through a gap at the last hottest value", () => {
    expect(film(even(0, 2, 30), { nowH: 11 }).closing.closesMs).toBeCloseTo(hour(10), -1);
    expect(film([...even(0, 2, 30), ...even(8, 8, 20)], { nowH: 8 }).closing.spent).toBeCloseTo(0.8, 6);
  });

  it("does not exist on an open sheet, nor where a full broadcast lifts it", () => {
    const points = even(0, 60, 20);
    expect(film(points, { patch: { window: "open" } }).closing).toMatchObject({ open: true, closesMs: null });
    expect(film(points, { patch: { broadcastWaiver: true }, fullBroadcast: true }).closing.closesMs).toBeNull();
    expect(film(points, { patch: { broadcastWaiver: true } }).closing.closesMs).not.toBeNull();
    expect(film(points, { fullBroadcast: true }).closing.closesMs).not.toBeNull();
  });
});
