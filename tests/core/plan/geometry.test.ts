// The plan: areas against formulas of the schoolbook, cuts that lose nothing, snapping, and outlines that are no floor.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaM2, isInside, middleOf, type Outline, outlineFault, type PlanPoint } from "#core/plan/polygon.ts";
import { gridM, metresPerPixel, onGridOf, snapped } from "#core/plan/snap.ts";
import { splitByLine } from "#core/plan/split.ts";

const p = (xM: number, yM: number): PlanPoint => ({ xM, yM });
const HALL: Outline = [p(0, 0), p(12, 0), p(12, 7), p(0, 7)];
/** A comb: three teeth upwards from a spine, 3 x (2 x 4) + 10 x 1. */
const COMB: Outline = [
  p(0, 5),
  p(0, 1),
  p(2, 1),
  p(2, 5),
  p(4, 5),
  p(4, 1),
  p(6, 1),
  p(6, 5),
  p(8, 5),
  p(8, 1),
  p(10, 1),
  p(10, 6),
  p(0, 6),
];
/** A floor without crossings: corners at growing angles around a middle. */
const anyFloor = fc.array(fc.integer({ min: 20, max: 400 }), { minLength: 3, maxLength: 14 }).map((radii) =>
  radii.map((radius, index) => {
    const angle = (2 * Math.PI * index) / radii.length;
    return p(50 + (radius / 10) * Math.cos(angle), 50 + (radius / 10) * Math.sin(angle));
  }),
);
const anyPoint = fc.record({
  xM: fc.double({ min: 0, max: 100, noNaN: true }),
  yM: fc.double({ min: 0, max: 100, noNaN: true }),
});

describe("area", () => {
  it("is length times width, half of that for a triangle, and Heron's for three sides", () => {
    expect(areaM2(HALL)).toBe(84);
    expect(areaM2([p(0, 0), p(12, 0), p(0, 7)])).toBe(42);
    // Heron of Alexandria: 13, 14, 15 enclose 84.
    expect(areaM2([p(0, 0), p(14, 0), p(5, 12)])).toBe(84);
    expect(areaM2(COMB)).toBe(34);
  });

  it("does not depend on where one begins, on the turning sense or on where the plan lies", () => {
    fc.assert(
      fc.property(anyFloor, fc.nat(20), (floor, shift) => {
        const begun = floor.map((_, index) => floor[(index + shift) % floor.length] as PlanPoint);
        const moved = floor.map(({ xM, yM }) => p(xM + 1000, yM - 300));
        expect(areaM2(begun)).toBeCloseTo(areaM2(floor), 6);
        expect(areaM2([...floor].reverse())).toBeCloseTo(areaM2(floor), 6);
        expect(areaM2(moved)).toBeCloseTo(areaM2(floor), 5);
      }),
    );
  });
});

describe("inside", () => {
  it("counts the edge, and not the room between two teeth", () => {
    expect(isInside(HALL, p(12, 3))).toBe(true);
    expect(isInside(HALL, p(12.01, 3))).toBe(false);
    expect(isInside(COMB, p(3, 2))).toBe(false);
    expect(isInside(COMB, p(5, 2))).toBe(true);
  });

  it("holds for the point at which a name is written", () => {
    fc.assert(
      fc.property(anyFloor, (floor) => {
        expect(isInside(floor, middleOf(floor).point)).toBe(true);
      }),
    );
    expect(middleOf(HALL)).toEqual({ point: p(6, 3.5), widthM: 12 });
  });
});

describe("an outline that is no floor", () => {
  it("is named", () => {
    expect(outlineFault(HALL)).toBeNull();
    expect(outlineFault(COMB)).toBeNull();
    expect(outlineFault([p(0, 0), p(1, 0)])).toBe("few-corners");
    expect(outlineFault([p(0, 0), p(0, 0), p(4, 0), p(4, 4)])).toBe("same-corner");
    expect(outlineFault([p(0, 0), p(4, 4), p(4, 0), p(0, 4)])).toBe("crosses-itself");
    expect(outlineFault([p(0, 0), p(4, 0), p(8, 0)])).toBe("no-area");
    expect(outlineFault([p(0, 0), p(Number.NaN, 0), p(8, 3)])).toBe("same-corner");
  });
});

describe("a joint", () => {
  it("cuts a hall in two, and a comb in as many parts as it makes", () => {
    const parts = splitByLine(HALL, p(4, -1), p(4, 20));
    expect(parts.map(areaM2)).toEqual([56, 28]);
    // Across the teeth at half their height: three tips of 2 x 2 and the rest.
    expect(splitByLine(COMB, p(-3, 3), p(20, 3)).map(areaM2)).toEqual([22, 4, 4, 4]);
    expect(splitByLine(HALL, p(0, 9), p(12, 9))).toEqual([HALL]);
    expect(splitByLine(HALL, p(3, 3), p(3, 3))).toEqual([HALL]);
  });

  it("through two corners gives two triangles", () => {
    expect(splitByLine(HALL, p(0, 0), p(12, 7)).map(areaM2)).toEqual([42, 42]);
  });

  it("loses no floor and leaves no part on both sides", () => {
    fc.assert(
      fc.property(anyFloor, anyPoint, anyPoint, (floor, a, b) => {
        fc.pre(Math.hypot(a.xM - b.xM, a.yM - b.yM) > 1);
        const parts = splitByLine(floor, a, b);
        const total = parts.reduce((sum, part) => sum + areaM2(part), 0);
        // Slivers under 0.01 m2 are no part.
        expect(Math.abs(total - areaM2(floor))).toBeLessThan(0.01 * floor.length + 1e-6);
        if (parts.length < 2) return;
        for (const part of parts) {
          const sides = part.map(
            ({ xM, yM }) =>
              ((b.xM - a.xM) * (yM - a.yM) - (b.yM - a.yM) * (xM - a.xM)) / Math.hypot(b.xM - a.xM, b.yM - a.yM),
          );
          expect(Math.min(-Math.min(...sides), Math.max(...sides))).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe("a tap", () => {
  it("means the corner that is there, then the wall, then the grid", () => {
    expect(snapped(p(11.8, 0.3), [HALL], 1, 0.5)).toEqual(p(12, 0));
    expect(snapped(p(12.3, 3.2), [HALL], 1, 0.5)).toEqual(p(12, 3));
    expect(snapped(p(15.4, 3.2), [HALL], 1, 0.5)).toEqual(p(15, 3));
    expect(snapped(p(0.31, 0.9), [], 0.25, 0.1)).toEqual(p(0.25, 1));
  });

  it("stays on whole feet where feet are drawn", () => {
    const size = gridM(40, "us");
    expect(size).toBeCloseTo(2 * 0.3048, 9);
    expect(onGridOf(p(3.1, 0), size).xM / 0.3048).toBeCloseTo(10, 5);
    expect(gridM(40, "si")).toBe(0.5);
    expect(gridM(5000, "si")).toBe(10);
  });
});

describe("the scale of a drawing", () => {
  it("is the measured distance over that of the two points", () => {
    expect(metresPerPixel({ xPx: 100, yPx: 200 }, { xPx: 400, yPx: 600 }, 12.5)).toBe(0.025);
  });

  it("refuses one point marked twice, and no distance", () => {
    expect(() => metresPerPixel({ xPx: 1, yPx: 2 }, { xPx: 1, yPx: 2 }, 5)).toThrow(RangeError);
    expect(() => metresPerPixel({ xPx: 1, yPx: 2 }, { xPx: 5, yPx: 2 }, 0)).toThrow(RangeError);
    expect(() => metresPerPixel({ xPx: 1, yPx: 2 }, { xPx: 5, yPx: 2 }, Number.NaN)).toThrow(RangeError);
  });
});
