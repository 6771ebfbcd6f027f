// The editor's arithmetic: what is typed is kept as it stands on the paper, and what is reckoned with agrees with it.
import { describe, expect, it } from "vitest";
import { paperFaults } from "#contract/sheet-version.ts";
import { sheetWarnings } from "#core/cure/sheet-sanity.ts";
import { STARTERS } from "#core/cure/sheet-starters.ts";
import { WARNING_KINDS } from "#core/cure/sheet-warning.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { formPath, readDraft } from "../../dashboard/features/sheets/body-of.ts";
import {
  type Draft,
  draftOf,
  type Figure,
  withoutRow,
  withRow,
  withUnit,
} from "../../dashboard/features/sheets/draft.ts";
import { printed, warningWords } from "../../dashboard/features/sheets/figure-words.ts";
import { freeId } from "../../dashboard/features/sheets/free-id.ts";
import { changesOf, partsOf } from "../../dashboard/features/sheets/parts-of.ts";
import { enSheets } from "../../dashboard/text/en-sheets.ts";
import { esSheets } from "../../dashboard/text/es-sheets.ts";
import { SHEET } from "../support/small-site.ts";

const typed = (draft: Draft, figures: Readonly<Record<string, Figure>>): Draft => ({
  ...draft,
  figures: { ...draft.figures, ...figures },
});
const starters = STARTERS.map((starter) => structuredClone(starter) as unknown as SheetBody);

describe("typing", () => {
  it("keeps figure and unit of the paper, and reckons with the same", () => {
    const draft = typed(draftOf(SHEET, "us", false), {
      "limits.slabC.0": { value: "55.0", unit: "F" },
      "limits.dewMarginK": { value: "5", unit: "dF" },
      "limits.waterGPerKg.0": { value: "42", unit: "gr/lb" },
      "cure.0.recoatFromH": { value: "1440", unit: "min" },
      "cure.1.recoatUntilH": { value: "1,5", unit: "d" },
    });
    const { body, faults } = readDraft(draft);
    expect(faults).toEqual({});
    expect(body.limits.slabC[0]).toBeCloseTo(12.778, 3);
    // 5 °F of difference is 25/9 K: never 5 °F = −15 °C.
    expect(body.limits.dewMarginK).toBeCloseTo(25 / 9, 9);
    expect(body.limits.waterGPerKg[0]).toBeCloseTo(6, 9);
    expect(body.cure.map(({ recoatFromH, recoatUntilH }) => [recoatFromH, recoatUntilH])).toEqual([
      [24, 48],
      [8, 36],
    ]);
    expect(body.paper?.["limits.slabC.0"]).toEqual({ value: "55.0", unit: "F" });
    expect(paperFaults(body)).toEqual([]);
    expect(body.confirmed).toBeNull();
    expect(draftOf(body, "si", false).figures["limits.slabC.0"]).toEqual({ value: "55.0", unit: "F" });
    expect(printed(body, "limits.dewMarginK", "us", enSheets)).toBe("5 °F apart (2.78 °C apart)");
  });

  it.each(starters.map((sheet) => [sheet.id, sheet] as const))("%s goes through the form unchanged", (_, sheet) => {
    const { paper, ...body } = readDraft(draftOf(sheet, "us", false)).body;
    expect(body).toEqual(sheet);
    expect(paperFaults({ ...body, paper: paper ?? {} })).toEqual([]);
  });

  it("leaves empty rows out, and finds the way back from a doubt to its row", () => {
    const open = withRow(withRow(draftOf(SHEET, "si", false), "cure", "si"), "cure", "si");
    const draft = typed(open, {
      "cure.3.slabC": { value: "30", unit: "C" },
      "cure.3.recoatFromH": { value: "60", unit: "h" },
    });
    const { body } = readDraft(draft);
    expect(body.cure.map(({ slabC }) => slabC)).toEqual([10, 20, 30]);
    expect(body.paper?.["cure.2.recoatFromH"]).toEqual({ value: "60", unit: "h" });
    const doubt = sheetWarnings(body).find(({ kind }) => kind === "longer-when-hotter");
    expect(doubt?.field).toBe("cure.2.recoatFromH");
    expect(formPath(draft, "cure.2.recoatFromH")).toBe("cure.3.recoatFromH");
    const fewer = withoutRow(draft, "cure", 0);
    expect(readDraft(fewer).body.cure.map(({ slabC }) => slabC)).toEqual([20, 30]);
  });

  it("another unit of the paper leaves the number and changes what it means", () => {
    const draft = withUnit(draftOf(SHEET, "si", false), ["cure.0.recoatFromH", "cure.1.recoatFromH"], "min");
    expect(readDraft(draft).body.cure.map(({ recoatFromH }) => recoatFromH)).toEqual([16 / 60, 8 / 60]);
  });

  it("names what is missing and what is no number", () => {
    const draft = typed(
      { ...draftOf(SHEET, "si", false), name: " " },
      {
        "limits.dewMarginK": { value: "", unit: "dC" },
        "limits.airC.0": { value: "five", unit: "C" },
        "cure.0.slabC": { value: "", unit: "C" },
      },
    );
    expect(readDraft(draft).faults).toEqual({
      name: "missing",
      "limits.dewMarginK": "missing",
      "limits.airC.0": "number",
      "cure.0.slabC": "missing",
    });
  });

  it("takes the material in, with the names of its parts", () => {
    let draft = withRow(withRow(draftOf(SHEET, "us", false), "material.mix.parts", "us"), "material.potLife", "us");
    draft = typed(
      { ...draft, partNames: ["Resin"], potClass: "mass-limited" },
      {
        "material.wetLPerM2": { value: "160", unit: "ft2/gal" },
        "material.mix.parts.0.share": { value: "2", unit: null },
        "material.mix.parts.0.kitL": { value: "2", unit: "gal" },
        "material.potLife.0.resinC": { value: "70", unit: "F" },
        "material.potLife.0.min": { value: "30", unit: "min" },
      },
    );
    const { body, faults } = readDraft(draft);
    expect(faults).toEqual({});
    expect(paperFaults(body)).toEqual([]);
    expect(body.material?.wetLPerM2).toBeCloseTo(0.2547, 4);
    expect(body.material?.mix?.parts[0]).toMatchObject({ name: "Resin", share: 2 });
    expect(body.material?.potLife?.[0]?.min).toBe(30);
    expect(partsOf(body, "us", enSheets).map(({ name }) => name)).toEqual(["limits", "cure", "rules", "material"]);
  });
});

it("what changed between two versions is told line by line", () => {
  const after: SheetBody = {
    ...SHEET,
    name: "Body coat, page 2",
    limits: { ...SHEET.limits, rhPct: [null, null], dewMarginK: 4 },
    cure: SHEET.cure.map((row, index) => (index === 0 ? { ...row, footH: 30 } : row)),
  };
  expect(changesOf(SHEET, after, "si", enSheets)).toEqual([
    { label: "Product", before: "Body coat", after: "Body coat, page 2" },
    { label: "Humidity, highest", before: "85 %", after: null },
    { label: "Above dew point, at least", before: "3 °C apart (5.4 °F apart)", after: "4 °C apart (7.2 °F apart)" },
    { label: "Walk on after, at 10 °C (50 °F)", before: "24 h", after: "30 h" },
  ]);
  expect(changesOf(SHEET, SHEET, "si", enSheets)).toEqual([]);
});

it("an id is made from the name, and never one that is taken", () => {
  expect(freeId("Imprimación Á-12 (100 %)", [])).toBe("imprimacion-a-12-100");
  expect(freeId("Primer", ["primer", "primer-2"])).toBe("primer-3");
  expect(freeId("!!!", [])).toBe("sheet");
  expect(freeId("x".repeat(90), [])).toHaveLength(48);
});

it("every doubt has a sentence in both languages that asks to look, and never promises", () => {
  for (const words of [enSheets, esSheets])
    for (const kind of WARNING_KINDS) {
      const said = warningWords({ kind, field: "cure.0.recoatFromH", meant: 4 }, SHEET, "us", words);
      expect(said.length).toBeGreaterThan(20);
      expect(said).not.toMatch(/\bsafe\b|guarante|seguro|garanti/i);
    }
  expect(Object.keys(esSheets.fields)).toEqual(Object.keys(enSheets.fields));
});
