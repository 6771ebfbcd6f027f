// A curve laid out: at every place what the curve says there, straight between, its ends held.
import { expect, it } from "vitest";
import { cureCurve, hardCurve } from "#core/cure/curve.ts";
import { rateAt, rateTable } from "#core/cure/rate-table.ts";
import type { Milestone, Sheet } from "#core/cure/sheet.ts";
import { row, slowEpoxy } from "../../support/night-log.ts";

const MILESTONES: readonly Milestone[] = ["recoatFromH", "recoatUntilH", "dewSafeH", "footH", "trafficH"];
const whole = { recoatFromH: 10, recoatUntilH: 50, dewSafeH: 13, footH: 20, trafficH: 90 };
const SHEETS: readonly Sheet[] = [
  slowEpoxy,
  { ...slowEpoxy, cure: [row(10, whole)] },
  { ...slowEpoxy, cure: [row(10, whole), row(20, { recoatFromH: 5, dewSafeH: 7 }), row(31.3, { recoatFromH: 3 })] },
  { ...slowEpoxy, cure: [] },
];
const curves = SHEETS.flatMap((sheet) => [
  ...MILESTONES.map((milestone) => cureCurve(sheet, milestone)),
  hardCurve({ ...sheet, hard: [{ slabC: 12, hardH: 6 }] }),
]);

it.each(curves.map((curve, index) => ({ index, curve })))("curve $index", ({ curve }) => {
  const table = rateTable(curve);
  for (let place = 0; place <= 1600; place++) {
    const slabC = -20 + place / 20;
    const rate = 1 / curve.hours(slabC);
    expect(rateAt(table, slabC)).toBeCloseTo(rate, 10);
    // As it is kept, to the bit.
    expect(table[2 * place]).toBe(rate);
    const next = 1 / curve.hours(-20 + (place + 1) / 20);
    if (place < 1600 && rate > 0) expect(rateAt(table, slabC + 0.025)).toBeCloseTo((rate + next) / 2, 5);
    if (rate === 0) expect(rateAt(table, slabC + 0.025)).toBe(0);
  }
  expect(rateAt(table, -35)).toBe(rateAt(table, -20));
  expect(rateAt(table, 75)).toBe(rateAt(table, 60));
  expect(rateAt(table, Number.NaN)).toBe(rateAt(table, -20));
});
