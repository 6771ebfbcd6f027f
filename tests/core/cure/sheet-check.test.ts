// Each kind of nonsense in a typed sheet is found, named by its field, and nothing is found in a sound one.
import { describe, expect, it } from "vitest";
import { sheetDoubts } from "#core/cure/sheet-check.ts";
import type { Sheet, SheetLimits } from "#core/cure/sheet.ts";
import { caseFiles, readCase } from "../../support/cases.ts";
import { row, slowEpoxy } from "../../support/night-log.ts";

const cure = (...rows: Sheet["cure"][number][]): Sheet => ({ ...slowEpoxy, cure: rows });
const limits = (patch: Partial<SheetLimits>): Sheet => ({ ...slowEpoxy, limits: { ...slowEpoxy.limits, ...patch } });
const sound = row(20, { recoatFromH: 8, recoatUntilH: 24 });

const nonsense: { what: string; sheet: Sheet; field: string; reason: string }[] = [
  {
    what: "maximum below minimum",
    sheet: cure(row(20, { recoatFromH: 24, recoatUntilH: 8 })),
    field: "cure[0].recoatUntilH",
    reason: "maximum below minimum",
  },
  {
    what: "longer when hotter",
    sheet: cure(sound, row(30, { recoatFromH: 9 })),
    field: "cure.recoatFromH",
    reason: "longer when hotter",
  },
  {
    what: "longer when hotter, with a row between that does not print it",
    sheet: cure(row(10, { footH: 10 }), sound, row(30, { footH: 11 })),
    field: "cure.footH",
    reason: "longer when hotter",
  },
  {
    what: "margin limit of 0.9 K",
    sheet: limits({ dewMarginK: 0.9 }),
    field: "limits.dewMarginK",
    reason: "outside 1 to 8 K",
  },
  {
    what: "margin limit of 28 K",
    sheet: limits({ dewMarginK: 28 }),
    field: "limits.dewMarginK",
    reason: "outside 1 to 8 K",
  },
  {
    what: "margin limit that is no number",
    sheet: limits({ dewMarginK: Number.NaN }),
    field: "limits.dewMarginK",
    reason: "outside 1 to 8 K",
  },
  {
    what: "no recoat minimum",
    sheet: cure(row(20, { recoatUntilH: 24 })),
    field: "cure.recoatFromH",
    reason: "no recoat minimum",
  },
  { what: "no rows", sheet: { ...cure(), window: "open" }, field: "cure.recoatFromH", reason: "no recoat minimum" },
  {
    what: "a window that closes without a maximum",
    sheet: cure(row(20, { recoatFromH: 8 })),
    field: "cure.recoatUntilH",
    reason: "window closes but no maximum is printed",
  },
  {
    what: "hours of zero",
    sheet: cure(row(20, { recoatFromH: 0, recoatUntilH: 24 })),
    field: "cure[0].recoatFromH",
    reason: "hours must be positive",
  },
  {
    what: "hours below zero",
    sheet: cure({ ...sound, trafficH: -3 }),
    field: "cure[0].trafficH",
    reason: "hours must be positive",
  },
  {
    what: "two rows at one temperature",
    sheet: cure(sound, sound),
    field: "cure[1].slabC",
    reason: "two rows at one temperature",
  },
  ...(["slabC", "airC", "rhPct", "waterGPerKg", "resinC"] as const).map((name) => ({
    what: `${name}: min above max`,
    sheet: limits({ [name]: [30, 20] }),
    field: `limits.${name}`,
    reason: "minimum above maximum",
  })),
];

describe("sheet check", () => {
  it.each(nonsense)("$what", ({ sheet, field, reason }) => {
    expect(sheetDoubts(sheet)).toContainEqual({ field, reason });
  });

  it("finds nothing in a sound sheet, at both ends of what is taken", () => {
    expect(sheetDoubts(slowEpoxy)).toEqual([]);
    expect(sheetDoubts(limits({ dewMarginK: 1 }))).toEqual([]);
    expect(sheetDoubts(limits({ dewMarginK: 8, slabC: [null, 20], airC: [20, 20] }))).toEqual([]);
    expect(sheetDoubts({ ...cure(row(20, { recoatFromH: 8 })), window: "open" })).toEqual([]);
  });

  it("finds nothing in the sheets of the night files, but for the two with a slip in them", () => {
    const doubted = caseFiles.filter((file) =>
      readCase(file).log.sheets.some((sheet) => sheetDoubts(sheet).length > 0),
    );
    expect(doubted).toEqual(["44.json", "45.json"]);
  });
});
