// Pot life by temperature and mass: the worked example and the factors of the trade (common practice, no source).
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { floorLifeMin, massFactor, potLifeMin } from "#core/takeoff/pot-life.ts";
import type { Material } from "#core/takeoff/material.ts";
import { cFromF, lFromUsGal } from "#core/units.ts";
import { BODY } from "./material.ts";

const gal = lFromUsGal;

describe("massed epoxy", () => {
  it("lives half as long at 1 gal, 0.4 at 3, 0.3 at 5; a small test as printed; less beyond", () => {
    const factors = [0.15, gal(1), gal(3), gal(5), gal(10)].map(massFactor);
    for (const [index, factor] of [1, 0.5, 0.4, 0.3, 0.15].entries()) expect(factors[index]).toBeCloseTo(factor, 12);
  });

  it("30 min at 77 °F on 200 g are 19 min in a pail of 3 gal at 65 °F (x1.59 x0.4)", () => {
    expect(potLifeMin(BODY, cFromF(65), gal(3))).toBeCloseTo(30 * 1.5874 * 0.4, 2);
  });

  it("halves with 18 °F", () => {
    expect(potLifeMin(BODY, cFromF(77 + 9), 0.1)).toBeCloseTo(30 / Math.SQRT2, 9);
    expect(potLifeMin(BODY, cFromF(77 - 18), 0.1)).toBeCloseTo(60, 9);
  });

  it("is held against the mass that was tested, and never longer than printed", () => {
    const tested = (row: object): Material => ({ ...BODY, potLife: [{ resinC: 25, min: 20, ...row }] });
    expect(potLifeMin(tested({ volumeL: gal(1) }), 25, gal(3))).toBeCloseTo(16, 9);
    expect(potLifeMin(tested({ volumeL: gal(3) }), 25, gal(1))).toBeCloseTo(20, 9);
    expect(potLifeMin(tested({}), 25, gal(1))).toBeCloseTo(10, 9);
    expect(potLifeMin(tested({ massKg: gal(1) * 1.1 }), 25, gal(3))).toBeCloseTo(16, 9);
  });

  it("has none in a pail above 85 °F", () => {
    expect(potLifeMin(BODY, 29.5, 4)).toBe(0);
    expect(potLifeMin({ ...BODY, potClass: "film-limited" }, 29.5, 4)).toBeGreaterThan(20);
  });
});

describe("rows of a sheet", () => {
  const rows: Material = {
    potClass: "long-pot",
    potLife: [
      { resinC: 10, min: 80 },
      { resinC: 20, min: 60 },
      { resinC: 30, min: 20 },
    ],
  };
  const at = (resinC: number) => potLifeMin(rows, resinC, 10) as number;

  it("between them log(minutes) is linear; hotter falls by the steeper, colder grows by the flatter", () => {
    expect([at(10), at(20), at(30)].map((min) => Math.round(min * 1e9) / 1e9)).toEqual([80, 60, 20]);
    expect(at(25)).toBeCloseTo(Math.sqrt(60 * 20), 9);
    expect(at(40)).toBeCloseTo(20 / 3, 9);
    expect(at(0)).toBeCloseTo((80 * 80) / 60, 9);
    // However cold, twice the coldest row is the most.
    expect(at(-40)).toBeCloseTo(160, 9);
  });

  it("a dose is chosen for the temperature: cold credits nothing", () => {
    const dosed: Material = { potClass: "dose-set", potLife: [{ resinC: 20, min: 15 }] };
    expect(potLifeMin(dosed, 0, 5)).toBeCloseTo(15, 9);
    expect(potLifeMin(dosed, 30, 5)).toBeCloseTo(7.5, 9);
  });

  it("says nothing without rows or class", () => {
    expect(potLifeMin({ potClass: "long-pot" }, 20, 5)).toBeNull();
    expect(potLifeMin({ potLife: [{ resinC: 20, min: 30 }] }, 20, 5)).toBeNull();
    expect(() => potLifeMin(rows, Number.NaN, 5)).toThrow(/resinC NaN/);
  });

  it("on the floor the shorter of the floor's and the thin film's life counts", () => {
    expect(floorLifeMin({ ...rows, floorMin: 45 }, 20)).toBe(45);
    expect(floorLifeMin({ ...rows, floorMin: 45 }, 30)).toBeCloseTo(20, 9);
    expect(floorLifeMin({ floorMin: 12 }, 30)).toBe(12);
  });
});

describe("in the direction that shortens", () => {
  it("warmer or bigger never lives longer", () => {
    const c = fc.double({ min: -20, max: 50, noNaN: true });
    const volume = fc.double({ min: 0.01, max: 100, noNaN: true });
    fc.assert(
      fc.property(c, volume, fc.double({ min: 0, max: 20, noNaN: true }), (resinC, volumeL, more) => {
        const life = potLifeMin(BODY, resinC, volumeL) as number;
        expect(potLifeMin(BODY, resinC + more, volumeL)).toBeLessThanOrEqual(life * (1 + 1e-9));
        expect(potLifeMin(BODY, resinC, volumeL + more)).toBeLessThanOrEqual(life * (1 + 1e-9));
      }),
      { numRuns: 300 },
    );
  });
});
