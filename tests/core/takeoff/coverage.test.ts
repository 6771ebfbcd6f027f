// Litres and kits against figures of the trade (rates: common practice, no source) and closed forms.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { kitsFor, needLOf, useLPerM2 } from "#core/takeoff/coverage.ts";
import {
  ft2FromM2,
  ft2PerUsGalFromMil,
  lFromUsGal,
  lPerM2FromFt2PerUsGal,
  m2FromFt2,
  mlFromUsFlOz,
  mmFromMil,
  usGalFromL,
} from "#core/units.ts";

describe("use and need", () => {
  it("one US gallon covers 1604 ft² at one mil (231 in³ / 0.001 in / 144)", () => {
    const use = useLPerM2({ dryFilmUm: mmFromMil(1) * 1000 }) as number;
    expect(ft2FromM2(lFromUsGal(1) / use)).toBeCloseTo(1604.17, 2);
    expect(ft2PerUsGalFromMil(1)).toBeCloseTo(1604.17, 2);
  });

  it("6 fl oz/ft² over 2,400 ft² is 112.5 gal", () => {
    const wetLPerM2 = mlFromUsFlOz(6) / 1000 / m2FromFt2(1);
    expect(usGalFromL(needLOf({ wetLPerM2 }, m2FromFt2(2400)) as number)).toBeCloseTo(112.5, 9);
  });

  it("kits of 1.5 gal at 250 to 300 ft² a kit are 10 to 8 for 2,400 ft²", () => {
    const kits = (ft2PerKit: number) =>
      kitsFor(
        needLOf({ wetLPerM2: lPerM2FromFt2PerUsGal(ft2PerKit / 1.5) }, m2FromFt2(2400)) as number,
        lFromUsGal(1.5),
      );
    expect([kits(250), kits(300)]).toEqual([10, 8]);
  });

  it("900 ft² of 16 mil with a tenth of waste are 9.9 gal and four kits of 3 gal", () => {
    const needL = needLOf({ wetLPerM2: lPerM2FromFt2PerUsGal(100), wastePct: 10 }, m2FromFt2(900)) as number;
    expect(usGalFromL(needL)).toBeCloseTo(9.9, 9);
    expect(kitsFor(needL, lFromUsGal(3))).toBe(4);
  });

  it("a dry film of 120 µm of 60 % solids is 0.2 L/m²; texture and pores add to it, waste to all", () => {
    const film = { dryFilmUm: 120, solidsPct: 60 };
    expect(useLPerM2(film)).toBeCloseTo(0.2, 12);
    expect(useLPerM2({ ...film, texturePct: 15, porosityPct: 10, wastePct: 8 })).toBeCloseTo(0.25, 12);
    expect(needLOf({ ...film, texturePct: 15, porosityPct: 10, wastePct: 8 }, 40)).toBeCloseTo(10.8, 12);
  });

  it("without a rate or a film nothing is told; an area that is none is refused", () => {
    expect(useLPerM2({ wastePct: 10 })).toBeNull();
    expect(needLOf({}, 20)).toBeNull();
    expect(() => needLOf({ wetLPerM2: 0.3 }, 0)).toThrow(/areaM2 0/);
    expect(() => kitsFor(Number.NaN, 5)).toThrow(/needL NaN/);
  });
});

describe("kits", () => {
  it("never hold less than the need, and one kit fewer would", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 1e5, noNaN: true }),
        fc.double({ min: 0.1, max: 50, noNaN: true }),
        (needL, kitL) => {
          const kits = kitsFor(needL, kitL);
          expect(kits * kitL).toBeGreaterThanOrEqual(needL * (1 - 1e-8) - kitL * 1e-8);
          if (kits > 1) expect((kits - 1) * kitL).toBeLessThan(needL);
        },
      ),
      { numRuns: 200 },
    );
  });

  it("a sum that is whole but for its last digit buys no kit more", () => {
    expect(kitsFor(0.1 * 3, 0.1)).toBe(3);
  });
});
