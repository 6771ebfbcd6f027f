// Batches: the size at which crew and pot life agree, and what must hold of every plan.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { batchCapL, batchesOf } from "#core/takeoff/batch.ts";
import { needLOf } from "#core/takeoff/coverage.ts";
import type { Material, PotClass } from "#core/takeoff/material.ts";
import { potLifeMin } from "#core/takeoff/pot-life.ts";
import { cFromF, m2FromFt2, usGalFromL } from "#core/units.ts";
import { BODY } from "./material.ts";

/** 10 ft² a minute. */
const RATE = m2FromFt2(600);
const terms = { resinC: cFromF(65), placeM2PerH: RATE };
const { kitL: _kit, ...LOOSE } = BODY;

describe("the biggest batch", () => {
  it("is what the crew lays in 0.6 of the life that this very batch has", () => {
    const capL = batchCapL(BODY, terms) as number;
    const lifeMin = potLifeMin(BODY, terms.resinC, capL) as number;
    // 0.6 x 10 ft²/min x life / 100 ft²/gal; common practice, no source. With the life of a 3 gal pail it is 1.1 gal.
    expect(usGalFromL(capL)).toBeCloseTo((0.6 * 10 * lifeMin) / 100, 9);
    expect(usGalFromL(capL)).toBeGreaterThan(1.1);
    expect(usGalFromL(capL)).toBeLessThan(1.4);
  });

  it("knows no mass where a pail makes no heat: 0.6 x rate x life", () => {
    const urethane: Material = { wetLPerM2: 0.1, potClass: "long-pot", potLife: [{ resinC: 21, min: 180 }] };
    expect(batchCapL(urethane, { resinC: 21, placeM2PerH: 60 })).toBeCloseTo(0.6 * 1 * 0.1 * 180, 9);
  });

  it("ends with the floor where the floor is shorter than the pail", () => {
    const fast: Material = {
      wetLPerM2: 0.25,
      potClass: "film-limited",
      floorMin: 12,
      potLife: [{ resinC: 23, min: 30 }],
    };
    expect(batchCapL(fast, { resinC: 23, placeM2PerH: 60 })).toBeCloseTo(0.6 * 0.25 * 12, 9);
  });

  it("is nothing for a massed mix above 85 °F, and unknown without use or pot life", () => {
    expect(batchCapL(BODY, { ...terms, resinC: 30 })).toBe(0);
    expect(batchCapL({ ...BODY, potLife: [] }, terms)).toBeNull();
    const { wetLPerM2: _use, ...unknown } = BODY;
    expect(batchCapL(unknown, terms)).toBeNull();
    expect(() => batchCapL(BODY, { ...terms, placeM2PerH: 0 })).toThrow(/placeM2PerH/);
  });
});

describe("batches", () => {
  it("of whole kits bigger than the pail allows go out on the floor at once, one by one", () => {
    const plan = batchesOf(BODY, m2FromFt2(900), terms);
    expect(plan).toMatchObject({ kitsEach: [1, 1, 1, 1], pourOutAtOnce: true });
    expect(plan?.lifeMin).toBeCloseTo(30 * 1.5874 * 0.4, 2);
    // A kit lies on 225 ft², 22 min of this crew; thin on the floor the mix lives 47 min.
    expect(plan?.outrunsCrew).toBe(false);
    expect(batchesOf(BODY, m2FromFt2(900), { ...terms, placeM2PerH: m2FromFt2(250) })?.outrunsCrew).toBe(true);
  });

  it("of loose material above 85 °F cannot be mixed", () => {
    expect(batchesOf(LOOSE, 80, { ...terms, resinC: 30 })).toBeNull();
  });

  it("of a kit that a crew could never empty are no endless list", () => {
    expect(batchesOf(LOOSE, 1e6, { ...terms, placeM2PerH: 0.1 })).toBeNull();
  });

  const plans = fc.record({
    areaM2: fc.double({ min: 1, max: 5000, noNaN: true }),
    resinC: fc.double({ min: 0, max: 29, noNaN: true }),
    placeM2PerH: fc.double({ min: 5, max: 400, noNaN: true }),
    use: fc.double({ min: 0.05, max: 3, noNaN: true }),
    min: fc.double({ min: 4, max: 240, noNaN: true }),
    kitL: fc.option(fc.double({ min: 0.5, max: 40, noNaN: true }), { nil: undefined }),
    splitKits: fc.boolean(),
    potClass: fc.constantFrom<PotClass>("mass-limited", "film-limited", "long-pot", "dose-set"),
  });

  it("are together the need or its kits, none over the cap unless one kit poured out at once", () => {
    let planned = 0;
    fc.assert(
      fc.property(plans, ({ areaM2, resinC, placeM2PerH, use, min, kitL, splitKits, potClass }) => {
        const material: Material = {
          wetLPerM2: use,
          wastePct: 7,
          potClass,
          potLife: [{ resinC: 22, min }],
          ...(kitL === undefined ? {} : { kitL, splitKits }),
        };
        const plan = batchesOf(material, areaM2, { resinC, placeM2PerH });
        if (plan === null) return;
        planned++;
        const needL = needLOf(material, areaM2) as number;
        const sumL = plan.volumesL.reduce((sum, volumeL) => sum + volumeL, 0);
        if (plan.kitsEach === null || kitL === undefined) {
          expect(sumL).toBeCloseTo(needL, 6);
        } else {
          const kits = plan.kitsEach.reduce((sum, count) => sum + count, 0);
          expect(kits * kitL).toBeGreaterThanOrEqual(needL * (1 - 1e-8));
          expect((kits - 1) * kitL).toBeLessThan(needL);
          expect(sumL).toBeCloseTo(kits * kitL, 6);
        }
        const over = plan.volumesL.filter((volumeL) => volumeL > plan.capL * (1 + 1e-8));
        expect(over.length > 0).toBe(plan.pourOutAtOnce);
        if (plan.pourOutAtOnce) expect(Math.max(...(plan.kitsEach ?? [0]))).toBe(1);
      }),
      { numRuns: 300 },
    );
    expect(planned).toBeGreaterThan(200);
  });

  it("a warmer resin or a slower crew never gets a bigger batch", () => {
    fc.assert(
      fc.property(
        plans,
        fc.double({ min: 0, max: 15, noNaN: true }),
        ({ resinC, placeM2PerH, potClass, min }, more) => {
          const material: Material = { ...LOOSE, potClass, potLife: [{ resinC: 22, min }] };
          const capL = batchCapL(material, { resinC, placeM2PerH }) as number;
          expect(batchCapL(material, { resinC: resinC + more, placeM2PerH })).toBeLessThanOrEqual(capL * (1 + 1e-8));
          expect(batchCapL(material, { resinC, placeM2PerH: placeM2PerH / (1 + more) })).toBeLessThanOrEqual(
            capL * (1 + 1e-8),
          );
        },
      ),
      { numRuns: 100 },
    );
  });
});
