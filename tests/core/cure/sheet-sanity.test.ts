// What a slip of typing looks like: each doubt on its own field, and no doubt about sheets of the usual shape.
import { describe, expect, it } from "vitest";
import { sheetWarnings } from "#core/cure/sheet-sanity.ts";
import { isStillStarter, STARTERS } from "#core/cure/sheet-starters.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import type { WarningKind } from "#core/cure/sheet-warning.ts";
import { row, slowEpoxy } from "../../support/night-log.ts";

const limits = (change: Partial<Sheet["limits"]>): Sheet => ({
  ...slowEpoxy,
  limits: { ...slowEpoxy.limits, ...change },
});
const cure = (rows: Sheet["cure"]): Sheet => ({ ...slowEpoxy, cure: rows });
const warned = (sheet: Sheet, kind: WarningKind) => sheetWarnings(sheet).filter((one) => one.kind === kind);
const pair = (slabC: number, recoatFromH: number, recoatUntilH: number) =>
  row(slabC, { recoatFromH, recoatUntilH, dewSafeH: recoatFromH });

describe("limits", () => {
  it("a sheet of the usual shape raises nothing", () => {
    expect(sheetWarnings(slowEpoxy)).toEqual([]);
  });

  // "50 F above dew point" where 5 F was meant: found in public guidance; 50 °F of difference are 27.8 K.
  it("a margin with a zero too many, a margin that lost 32, a margin in the wrong unit", () => {
    expect(sheetWarnings(limits({ dewMarginK: 50 / 1.8 }))).toEqual([
      { field: "limits.dewMarginK", kind: "slipped-zero", meant: 50 / 1.8 / 10 },
    ]);
    const [odd] = sheetWarnings(limits({ dewMarginK: (5 - 32) / 1.8 }));
    expect(odd).toMatchObject({ field: "limits.dewMarginK", kind: "margin-outside" });
    expect(odd?.meant).toBeCloseTo(5 / 1.8, 9);
    expect(warned(limits({ dewMarginK: 5 }), "margin-unit")[0]?.meant).toBeCloseTo(2.778, 3);
    expect(sheetWarnings(limits({ dewMarginK: 5 / 1.8 }))).toEqual([]);
  });

  it.each<[string, Partial<Sheet["limits"]>, string, WarningKind, number | undefined]>([
    ["°F typed as °C", { slabC: [50, 90] }, "limits.slabC.0", "fahrenheit-as-celsius", 10],
    ["°C typed as °F", { airC: [(10 - 32) / 1.8, 32] }, "limits.airC.0", "celsius-as-fahrenheit", 10],
    ["a share for a percentage", { rhPct: [null, 0.85] }, "limits.rhPct.1", "humidity-as-share", 85],
    ["humidity without its zero", { rhPct: [null, 8.5] }, "limits.rhPct.1", "humidity-slipped", 85],
    ["grains typed as grams", { waterGPerKg: [42, null] }, "limits.waterGPerKg.0", "grains-as-grams", 6],
    ["minimum above maximum", { resinC: [29, 18] }, "limits.resinC.1", "min-above-max", undefined],
    ["g/m² typed as lb", { slabMverMaxLb: 73.23 }, "limits.slabMverMaxLb", "emission-unit", 15],
  ])("%s", (_, change, field, kind, meant) => {
    const [found] = warned(limits(change), kind);
    expect(found?.field).toBe(field);
    if (meant === undefined) expect(found?.meant).toBeUndefined();
    else expect(found?.meant).toBeCloseTo(meant, 2);
  });
});

describe("the table", () => {
  // A recoat table with minimum and maximum columns exchanged was found on a public data sheet.
  it("exchanged columns are one doubt; one exchanged row is its own; days are told from both", () => {
    const turned = cure(
      slowEpoxy.cure.map(({ slabC, recoatFromH, recoatUntilH }) => pair(slabC, recoatUntilH ?? 0, recoatFromH ?? 0)),
    );
    expect(warned(turned, "columns-exchanged")).toEqual([{ field: "cure", kind: "columns-exchanged" }]);
    expect(warned(cure([pair(10, 24, 48), pair(20, 20, 9)]), "max-below-min")).toEqual([
      { field: "cure.1.recoatUntilH", kind: "max-below-min" },
    ]);
    expect(warned(cure([pair(10, 24, 7), pair(20, 12, 5)]), "days-as-hours")).toEqual([
      { field: "cure.0.recoatUntilH", kind: "days-as-hours", meant: 168 },
      { field: "cure.1.recoatUntilH", kind: "days-as-hours", meant: 120 },
    ]);
  });

  it("a zero too many stands out from its neighbours, also in a table of two rows", () => {
    const rows = [pair(10, 24, 240), pair(15, 14, 240), pair(20, 90, 240), pair(25, 7, 240)];
    expect(warned(cure(rows), "slipped-zero")).toEqual([
      { field: "cure.2.recoatFromH", kind: "slipped-zero", meant: 9 },
      { field: "cure.2.dewSafeH", kind: "slipped-zero", meant: 9 },
    ]);
    expect(warned(cure([pair(10, 240, 480), pair(20, 12, 480)]), "slipped-zero")[0]).toEqual({
      field: "cure.0.recoatFromH",
      kind: "slipped-zero",
      meant: 24,
    });
  });

  // A public cure chart of a thick film: hardness 75, 20, 8, 4.75, 2.8 h at 50, 60, 70, 80, 90 °F.
  it("a steep printed chart is no slip", () => {
    const chart = [75, 20, 8, 4.75, 2.8].map((hours, index) => pair((50 + 10 * index - 32) / 1.8, hours, 400 - index));
    expect(sheetWarnings(cure(chart))).toEqual([]);
  });

  it("minutes typed as hours, upside-down temperatures, twin rows, °F in the rows, blanks", () => {
    expect(warned(cure([pair(20, 240, 2000)]), "minutes-as-hours").map(({ field, meant }) => [field, meant])).toEqual([
      ["cure.0.recoatFromH", 4],
      ["cure.0.recoatUntilH", 2000 / 60],
      ["cure.0.dewSafeH", 4],
    ]);
    const upside = cure([pair(10, 4, 400), pair(15, 9, 300), pair(20, 14, 200)]);
    expect(warned(upside, "rows-upside-down").map(({ field }) => field)).toEqual([
      "cure.0.recoatFromH",
      "cure.0.dewSafeH",
    ]);
    expect(warned(upside, "longer-when-hotter")).toEqual([]);
    expect(warned(cure([pair(10, 20, 40), pair(15, 22, 40), pair(20, 9, 40)]), "longer-when-hotter")[0]?.field).toBe(
      "cure.1.recoatFromH",
    );
    expect(warned(cure([pair(10, 20, 40), pair(10, 18, 40)]), "two-rows-one-temperature")).toEqual([
      { field: "cure.1.slabC", kind: "two-rows-one-temperature" },
    ]);
    expect(warned(cure([pair(50, 20, 40)]), "fahrenheit-as-celsius")[0]).toMatchObject({
      field: "cure.0.slabC",
      meant: 10,
    });
    expect(warned(cure([row(20, { recoatFromH: 10, recoatUntilH: 30 })]), "dew-safe-estimated")).toEqual([
      { field: "cure.0.dewSafeH", kind: "dew-safe-estimated", meant: 13 },
    ]);
    expect(warned(cure([row(20, { recoatFromH: 10, footH: 20, trafficH: 12 })]), "traffic-before-foot")).toHaveLength(
      1,
    );
    expect(warned(cure([row(20, { footH: 10 })]), "no-recoat-minimum")).toHaveLength(1);
    expect(warned({ ...slowEpoxy, window: "open" }, "maximum-on-open")).toEqual([
      { field: "window", kind: "maximum-on-open" },
    ]);
  });
});

it("examples look right but for being examples, and are never confirmed", () => {
  expect(STARTERS.map(({ kind }) => kind ?? "coat")).toEqual(["coat", "coat", "coat", "coat", "filler"]);
  for (const starter of STARTERS) {
    expect(sheetWarnings(starter).map(({ kind }) => kind)).toEqual(["starter-numbers"]);
    expect(starter.confirmed).toBeNull();
    expect(starter.name.startsWith("INVENTED ")).toBe(true);
    expect(isStillStarter({ ...starter, name: "Other" })).toBe(true);
  }
  expect(isStillStarter(slowEpoxy)).toBe(false);
});
