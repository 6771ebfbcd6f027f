// Hours of a milestone against temperature, one sentence of the design at a time; the numbers were worked out by hand.
import { describe, expect, it } from "vitest";
import { cureCurve } from "#core/cure/curve.ts";
import type { CureRow, Sheet } from "#core/cure/sheet.ts";
import { row, slowEpoxy } from "../../support/night-log.ts";

const sheet = (cure: readonly CureRow[], patch: Partial<Sheet> = {}): Sheet => ({ ...slowEpoxy, cure, ...patch });

describe("between rows", () => {
  it("log(hours) is linear in temperature", () => {
    const curve = cureCurve(sheet([row(20, { recoatFromH: 6 }), row(10, { recoatFromH: 24 })]), "recoatFromH");
    expect(curve.hours(10)).toBeCloseTo(24, 9);
    expect(curve.hours(15)).toBeCloseTo(12, 9); // the root of 24 * 6
    expect(curve.hours(12.5)).toBeCloseTo(16.971, 3); // the root of 24 * 12
    expect(curve.hours(20)).toBeCloseTo(6, 9);
  });

  it("each milestone uses only the rows that print it", () => {
    const rows = [row(10, { recoatFromH: 24, footH: 48 }), row(20, { footH: 12 }), row(30, { recoatFromH: 6 })];
    expect(cureCurve(sheet(rows), "recoatFromH").hours(20)).toBeCloseTo(12, 9);
    expect(cureCurve(sheet(rows), "footH").hours(25)).toBeCloseTo(12, 9);
    expect(cureCurve(sheet(rows), "trafficH").hours(20)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("minimums beyond the rows", () => {
  const rows = [row(10, { recoatFromH: 24, trafficH: 96 }), row(20, { recoatFromH: 6, trafficH: 40 })];

  it.each([["recoatFromH", 6] as const, ["trafficH", 40] as const])(
    "%s: hotter keeps the hottest row's hours",
    (milestone, hours) => {
      expect(cureCurve(sheet(rows), milestone).hours(45)).toBeCloseTo(hours, 9);
    },
  );

  it("colder than the coldest row earns nothing", () => {
    expect(cureCurve(sheet(rows), "recoatFromH").hours(9.99)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("a sheet with one row", () => {
  const one = (lowestC: number | null) =>
    cureCurve(
      sheet([row(20, { recoatFromH: 10 })], { limits: { ...slowEpoxy.limits, slabC: [lowestC, 30] } }),
      "recoatFromH",
    );

  it("is carried below it by Arrhenius with 70 kJ/mol, labelled estimate", () => {
    // exp(70000/8.31446 * (1/283.15 - 1/293.15)) = exp(1.01428) = 2.7574
    expect(one(5).hours(10)).toBeCloseTo(27.574, 2);
    expect(one(5).estimated(10)).toBe(true);
  });

  it("never is faster than its row, and there it is no estimate", () => {
    expect(one(5).hours(20)).toBeCloseTo(10, 9);
    expect(one(5).hours(29)).toBeCloseTo(10, 9);
    expect(one(5).estimated(21)).toBe(false);
  });

  it("earns nothing below the sheet's lowest slab temperature, nor without one", () => {
    expect(one(5).hours(4.9)).toBe(Number.POSITIVE_INFINITY);
    expect(one(null).hours(19)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("dew-safe hours", () => {
  it("are 1.3 of the recoat minimum where no row prints them, labelled estimate", () => {
    const curve = cureCurve(sheet([row(10, { recoatFromH: 24 }), row(20, { recoatFromH: 6 })]), "dewSafeH");
    expect(curve.hours(15)).toBeCloseTo(15.6, 9);
    expect(curve.hours(9)).toBe(Number.POSITIVE_INFINITY);
    expect(curve.estimated(15)).toBe(true);
  });

  it("are the printed ones between printed rows, and 1.3 of the minimum outside them", () => {
    const rows = [
      row(10, { recoatFromH: 24, dewSafeH: 20 }),
      row(20, { recoatFromH: 8, dewSafeH: 10 }),
      row(30, { recoatFromH: 6 }),
    ];
    const curve = cureCurve(sheet(rows), "dewSafeH");
    expect(curve.hours(15)).toBeCloseTo(14.142, 3);
    expect(curve.estimated(15)).toBe(false);
    expect(curve.hours(30)).toBeCloseTo(7.8, 9);
    expect(curve.estimated(30)).toBe(true);
  });
});

describe("the maximum", () => {
  const until = (cold: number, hot: number) =>
    cureCurve(sheet([row(20, { recoatUntilH: cold }), row(30, { recoatUntilH: hot })]), "recoatUntilH");

  it("colder than the coldest row keeps that row's hours", () => {
    expect(until(24, 20).hours(-5)).toBeCloseTo(24, 9);
  });

  it("hotter than the hottest row halves per 10 K where the last slope is flatter", () => {
    expect(until(24, 20).hours(40)).toBeCloseTo(10, 9);
    expect(until(24, 20).hours(35)).toBeCloseTo(14.142, 3);
  });

  it("hotter than the hottest row follows the last slope where that is steeper", () => {
    expect(until(40, 10).hours(40)).toBeCloseTo(2.5, 9);
  });

  it("of one row halves per 10 K above it", () => {
    const one = cureCurve(sheet([row(20, { recoatUntilH: 24 })]), "recoatUntilH");
    expect(one.hours(30)).toBeCloseTo(12, 9);
    expect(one.hours(12)).toBeCloseTo(24, 9);
  });
});
