// Parts of a batch, the clock of a coat, crew hours, nonsense in a material, and the order list.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { abradeHours, placeM2PerHOf } from "#core/takeoff/crew.ts";
import { materialDoubts } from "#core/takeoff/material-check.ts";
import type { Material } from "#core/takeoff/material.ts";
import { partsOf } from "#core/takeoff/parts.ts";
import { resinFrom } from "#core/takeoff/resin.ts";
import { latestStartMs, lateOf, scheduleFrom } from "#core/takeoff/schedule.ts";
import { coatTakeoff, orderOf } from "#core/takeoff/takeoff.ts";
import { m2FromFt2 } from "#core/units.ts";
import { slowEpoxy } from "../../support/night-log.ts";
import { BODY } from "./material.ts";

const MIN = 60_000;

describe("parts", () => {
  it("by volume: 2 to 1 of 9 L are 6 and 3", () => {
    expect(partsOf(BODY, 9, null)).toEqual([
      { name: "A", volumeL: 6, massKg: expect.closeTo(6.78, 9) },
      { name: "B", volumeL: 3, massKg: expect.closeTo(3.06, 9) },
    ]);
  });

  it("by mass: 100 to 40 of 10 L at 1.4 kg/L are 10 and 4 kg, and litres where a density is known", () => {
    const parts = [
      { name: "base", share: 100 },
      { name: "hardener", share: 40, densityKgPerL: 1 },
    ];
    expect(partsOf({ densityKgPerL: 1.4, mix: { by: "mass", parts } }, 10, null)).toEqual([
      { name: "base", volumeL: null, massKg: expect.closeTo(10, 9) },
      { name: "hardener", volumeL: expect.closeTo(4, 9), massKg: expect.closeTo(4, 9) },
    ]);
    expect(partsOf({ mix: { by: "mass", parts } }, 10, null)).toBeNull();
    expect(partsOf({ kitL: 10 }, 10, 1)).toBeNull();
  });

  it("by mass without a density of the mix: that of its parts; their volumes fill the batch", () => {
    const parts = [
      { name: "A", share: 3, densityKgPerL: 1.5 },
      { name: "B", share: 1, densityKgPerL: 1 },
    ];
    const amounts = partsOf({ mix: { by: "mass", parts } }, 12, null) ?? [];
    expect(amounts.reduce((sum, part) => sum + (part.volumeL ?? 0), 0)).toBeCloseTo(12, 9);
    expect((amounts[0]?.massKg ?? 0) / (amounts[1]?.massKg ?? 1)).toBeCloseTo(3, 9);
  });

  it("of whole kits: what the kits hold", () => {
    const parts = [
      { name: "A", share: 2, kitL: 7.6 },
      { name: "B", share: 1, kitL: 3.8 },
    ];
    const amounts = partsOf({ kitL: 11.4, mix: { by: "volume", parts } }, 22.8, 2);
    expect(amounts?.map(({ volumeL }) => volumeL)).toEqual([15.2, 7.6]);
  });
});

describe("the clock of a coat", () => {
  const terms = { areaM2: 90, placeM2PerH: 60, volumesL: [10, 10, 5], lifeMin: 20, mixMin: 3, restMin: 5 };

  it("lays each batch when the one before is down, and mixes it in time for that", () => {
    const { rows, lastMixAtMs, finishMs } = scheduleFrom(terms, 1000 * MIN);
    // 90 m² in 90 min, by volume 36, 36 and 18.
    expect(
      rows.map((row) => [row.mixFromMs, row.pourFromMs, row.laidByMs, row.diesAtMs].map((ms) => ms / MIN)),
    ).toEqual([
      [992, 1000, 1036, 1012],
      [1028, 1036, 1072, 1048],
      [1064, 1072, 1090, 1084],
    ]);
    expect([lastMixAtMs / MIN, finishMs / MIN]).toEqual([1064, 1090]);
  });

  it("names what is later than the call allows, and the latest start that keeps all of it", () => {
    const times = { latestStartAtMs: 1010 * MIN, lastMixAtMs: 1060 * MIN, finishByMs: 1095 * MIN };
    expect(lateOf(scheduleFrom(terms, 1000 * MIN), times)).toEqual(["last-mix"]);
    expect(lateOf(scheduleFrom(terms, 1011 * MIN), times)).toEqual(["start", "last-mix", "finish"]);
    expect(latestStartMs(terms, times)).toBe(996 * MIN);
    expect(lateOf(scheduleFrom(terms, 996 * MIN), times)).toEqual([]);
    expect(latestStartMs(terms, { latestStartAtMs: null, lastMixAtMs: null, finishByMs: null })).toBeNull();
  });

  it("the batches cover the floor, whatever their sizes, and the latest start fits", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.1, max: 50, noNaN: true }), { minLength: 1, maxLength: 12 }),
        (volumesL) => {
          const { rows, finishMs } = scheduleFrom({ ...terms, volumesL }, 0);
          expect(rows.reduce((sum, row) => sum + row.areaM2, 0)).toBeCloseTo(90, 6);
          expect(rows.at(-1)?.laidByMs).toBe(finishMs);
          expect(finishMs).toBeCloseTo(90 * MIN, 3);
        },
      ),
      { numRuns: 50 },
    );
  });
});

describe("crew", () => {
  it("lays what the zone says or the sheet says of so many people, whichever is slower", () => {
    const sheet: Material = { placeM2PerH: 90, people: 3 };
    expect(placeM2PerHOf({}, { pourM2PerH: 60 })).toBe(60);
    expect(placeM2PerHOf(sheet, { pourM2PerH: 100 })).toBe(90);
    expect(placeM2PerHOf(sheet, { pourM2PerH: 100, people: 2 })).toBe(60);
    expect(placeM2PerHOf(sheet, { pourM2PerH: 50, people: 6 })).toBe(50);
  });

  it("abrades 900 ft² with 120 ft of edge in 5.4 to 10.8 h (common practice, no source)", () => {
    const { fewest, most } = abradeHours(m2FromFt2(900));
    expect(fewest).toBeCloseTo(900 / 300 + 120 / 50, 9);
    expect(most).toBeCloseTo(900 / 150 + 120 / 25, 9);
  });
});

describe("the temperature of the resin", () => {
  const now = 10_000 * MIN;
  it("is what was measured in the last two hours, else the warmest of slab, air and a heated room", () => {
    const warm = { slabHotC: 12, airMaxC: 15 };
    expect(resinFrom({ resinC: 17, atMs: now - 120 * MIN }, warm, now)).toEqual({
      resinC: 17,
      basis: "measured",
      atMs: now - 120 * MIN,
    });
    expect(resinFrom({ resinC: 17, atMs: now - 121 * MIN }, warm, now)).toMatchObject({ resinC: 23, basis: "kept" });
    expect(resinFrom({ resinC: 17, atMs: now + 1 }, warm, now)).toMatchObject({ resinC: 23 });
    expect(resinFrom(null, { slabHotC: 31, airMaxC: 26 }, now)).toMatchObject({ resinC: 31, basis: "slab" });
    expect(resinFrom(null, { slabHotC: null, airMaxC: 26 }, now)).toMatchObject({ resinC: 26, basis: "air" });
  });
});

describe("nonsense in a material", () => {
  const part = (name: string, share: number, kitL?: number) => ({
    name,
    share,
    ...(kitL === undefined ? {} : { kitL }),
  });
  const cases: [string, Material, string][] = [
    ["rate and film", { wetLPerM2: 0.2, dryFilmUm: 200 }, "material.dryFilmUm"],
    ["solids without a film", { wetLPerM2: 0.2, solidsPct: 60 }, "material.solidsPct"],
    ["no kit to split", { splitKits: true }, "material.splitKits"],
    ["one part twice", { mix: { by: "volume", parts: [part("A", 1), part("A", 1)] } }, "material.mix.parts[1].name"],
    [
      "kit off its parts",
      { kitL: 12, mix: { by: "volume", parts: [part("A", 2, 6), part("B", 1, 3)] } },
      "material.kitL",
    ],
    [
      "kit off the ratio",
      { mix: { by: "volume", parts: [part("A", 2, 6), part("B", 1, 6)] } },
      "material.mix.parts[1].kitL",
    ],
    ["rows without a class", { potLife: [{ resinC: 20, min: 30 }] }, "material.potClass"],
    ["people without a rate", { people: 3 }, "material.people"],
    [
      "longer when hotter",
      {
        potClass: "long-pot",
        potLife: [
          { resinC: 20, min: 30 },
          { resinC: 30, min: 40 },
        ],
      },
      "material.potLife[1].min",
    ],
    [
      "two rows at one temperature",
      {
        potClass: "long-pot",
        potLife: [
          { resinC: 20, min: 30 },
          { resinC: 20, min: 30 },
        ],
      },
      "material.potLife[1].resinC",
    ],
    [
      "mass and volume of one test",
      { potClass: "long-pot", potLife: [{ resinC: 20, min: 30, massKg: 0.1, volumeL: 0.1 }] },
      "material.potLife[0].massKg",
    ],
  ];
  it.each(cases)("%s", (_what, material, field) => {
    expect(materialDoubts(material).map((doubt) => doubt.field)).toEqual([field]);
  });
  it("finds none in a sound one, nor in one that says nothing", () => {
    expect(materialDoubts(BODY)).toEqual([]);
    expect(materialDoubts({})).toEqual([]);
  });
});

describe("takeoff", () => {
  const sheet = { ...slowEpoxy, material: BODY };
  const floor = { areaM2: m2FromFt2(900), crew: { pourM2PerH: m2FromFt2(600), people: 3 }, resinC: 18 };

  it("of a coat: kits, batches, people, hours", () => {
    const takeoff = coatTakeoff(1, sheet, floor);
    expect(takeoff).toMatchObject({ kits: 4, people: 3, mixers: 1, missing: [], doubts: [] });
    expect(takeoff.personH).toBeCloseTo(4.5, 9);
    expect(takeoff.batches?.volumesL).toHaveLength(4);
    expect(takeoff.abrade?.fewest).toBeCloseTo(5.4, 9);
    expect(coatTakeoff(0, sheet, floor).abrade).toBeNull();
  });

  it("says what a sheet leaves open, and reckons nothing from nonsense", () => {
    expect(coatTakeoff(0, slowEpoxy, floor)).toMatchObject({ missing: ["material"], needL: null, kits: null });
    expect(coatTakeoff(0, { ...sheet, material: {} }, floor).missing).toEqual(["use", "kit", "pot-life"]);
    expect(coatTakeoff(0, sheet, { ...floor, resinC: null }).missing).toEqual(["resin-temp"]);
    const { kitL: _kit, ...loose } = BODY;
    expect(coatTakeoff(0, { ...sheet, material: loose }, { ...floor, resinC: 30 }).missing).toEqual(["kit", "batch"]);
    const nonsense = coatTakeoff(0, { ...sheet, material: { ...BODY, dryFilmUm: 90 } }, floor);
    expect(nonsense).toMatchObject({ needL: null, kits: null, batches: null, missing: [] });
    expect(nonsense.doubts).toHaveLength(1);
  });

  it("an order sums kits coat by coat, unless they may be split", () => {
    const small = { ...floor, areaM2: m2FromFt2(30) };
    const of = (one: typeof sheet) =>
      [0, 1, 2].map((coat) => ({ areaM2: small.areaM2, takeoff: coatTakeoff(coat, one, small) }));
    expect(orderOf(of(sheet))).toMatchObject([{ kits: 3, coats: 3 }]);
    expect(orderOf(of({ ...sheet, material: { ...BODY, splitKits: true } }))).toMatchObject([{ kits: 1, coats: 3 }]);
    const unknown = { areaM2: 5, takeoff: coatTakeoff(3, { ...sheet, material: {} }, floor) };
    expect(orderOf([...of(sheet), unknown])).toMatchObject([{ kits: null, needL: null, coats: 4 }]);
  });
});
