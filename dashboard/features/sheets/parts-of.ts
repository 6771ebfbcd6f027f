// The figures of a kept sheet in the order of its page, and what changed from one version to the next. Pure.
import type { SheetBody } from "#contract/sheet.ts";
import type { SheetsText } from "../../text/en-sheets.ts";
import type { UnitSystem } from "../../units/show.ts";
import { COLUMNS, LIMITS, MATERIAL, type Table } from "./draft.ts";
import { fieldName, printed } from "./figure-words.ts";

export interface Line {
  readonly label: string;
  readonly value: string;
}

/** A part of the page: one block, or one for each row of its table. */
export interface Part {
  readonly name: "limits" | "cure" | "hard" | "rules" | "material";
  readonly blocks: readonly { readonly title: string | null; readonly lines: readonly Line[] }[];
}

function tablePaths(sheet: SheetBody, table: Table): string[] {
  const rows = {
    cure: sheet.cure.length,
    hard: sheet.hard?.length ?? 0,
    "material.potLife": sheet.material?.potLife?.length ?? 0,
    "material.mix.parts": sheet.material?.mix?.parts.length ?? 0,
  }[table];
  return Array.from({ length: rows }, (_, row) => COLUMNS[table].map((column) => `${table}.${row}.${column}`)).flat();
}

function ruleLines(sheet: SheetBody, words: SheetsText): readonly Line[] {
  const yesNo = (on: boolean) => (on ? words.yes : words.no);
  const steps = sheet.afterBlush.map((step) => words.steps[step]).join(" → ");
  return [
    { label: fieldName("window", words), value: words.windows[sheet.window] },
    { label: fieldName("broadcastWaiver", words), value: yesNo(sheet.broadcastWaiver) },
    { label: fieldName("seals", words), value: yesNo(sheet.seals) },
    { label: fieldName("afterBlush", words), value: steps === "" ? words.noSteps : steps },
  ];
}

function materialLines(sheet: SheetBody, units: UnitSystem, words: SheetsText): readonly Line[] {
  const { material } = sheet;
  if (material === undefined) return [];
  const figures = [...MATERIAL, ...tablePaths(sheet, "material.mix.parts"), ...tablePaths(sheet, "material.potLife")];
  const lines = figures.flatMap((path) => {
    const value = printed(sheet, path, units, words);
    const part = /^material\.mix\.parts\.(\d)\./.exec(path)?.[1];
    const name = part === undefined ? undefined : material.mix?.parts[Number(part)]?.name;
    const label = name === undefined ? fieldName(path, words) : `${name}: ${fieldName(path, words)}`;
    return value === null ? [] : [{ label, value }];
  });
  return [
    ...lines,
    ...(material.mix === undefined ? [] : [{ label: words.mixBy, value: words.mixBys[material.mix.by] }]),
    ...(material.potClass === undefined ? [] : [{ label: words.potClass, value: words.potClasses[material.potClass] }]),
    ...(material.hazards === undefined
      ? []
      : [{ label: words.hazards, value: material.hazards.map((one) => words.hazardNames[one]).join(", ") }]),
  ];
}

/** The parts of a sheet that has been typed; blanks are left out. */
export function partsOf(sheet: SheetBody, units: UnitSystem, words: SheetsText): Part[] {
  const kind = sheet.kind ?? "coat";
  const linesOf = (paths: readonly string[]) =>
    paths.flatMap((path) => {
      const value = printed(sheet, path, units, words);
      return value === null ? [] : [{ label: fieldName(path, words), value }];
    });
  const table = kind === "filler" ? "hard" : "cure";
  const rows = (kind === "filler" ? (sheet.hard ?? []) : sheet.cure).map((_, row) => {
    const [at, ...columns] = COLUMNS[table].map((column) => `${table}.${row}.${column}`);
    return { title: printed(sheet, at ?? "", units, words), lines: linesOf(columns) };
  });
  const one = (lines: readonly Line[]) => (lines.length === 0 ? [] : [{ title: null, lines }]);
  const parts: Part[] = [
    { name: "limits", blocks: one(linesOf(LIMITS[kind])) },
    { name: table, blocks: rows },
    { name: "rules", blocks: one(kind === "filler" ? [] : ruleLines(sheet, words)) },
    { name: "material", blocks: one(materialLines(sheet, units, words)) },
  ];
  return parts.filter(({ blocks }) => blocks.length > 0);
}

export interface Change {
  readonly label: string;
  readonly before: string | null;
  readonly after: string | null;
}

/** What is said otherwise in a later version, line by line. */
export function changesOf(before: SheetBody, after: SheetBody, units: UnitSystem, words: SheetsText): Change[] {
  const linesOf = (sheet: SheetBody) => {
    const all = partsOf(sheet, units, words).flatMap(({ blocks }) =>
      blocks.flatMap(({ title, lines }) =>
        lines.map(({ label, value }) => ({ label: title === null ? label : `${label}, ${words.rowAt(title)}`, value })),
      ),
    );
    const photos = sheet.photos?.length ?? 0;
    return new Map([
      [fieldName("name", words), sheet.name] as const,
      ...all.map(({ label, value }) => [label, value] as const),
      ...(photos === 0 ? [] : [[fieldName("photos", words), String(photos)] as const]),
    ]);
  };
  const old = linesOf(before);
  const now = linesOf(after);
  return [...new Set([...old.keys(), ...now.keys()])].flatMap((label) => {
    const change = { label, before: old.get(label) ?? null, after: now.get(label) ?? null };
    return change.before === change.after ? [] : [change];
  });
}
