// Figures of a sheet in words: as the paper prints them, and in the other system beside.
import { type TypedUnit, typedFromInside, unitsOfField, valueAt } from "#core/cure/sheet-units.ts";
import type { SheetWarning } from "#core/cure/sheet-warning.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { SheetsText } from "../../text/en-sheets.ts";
import type { UnitSystem } from "../../units/show.ts";
import { type Figure, figureOf, insideOf } from "./draft.ts";

/** What stands beside a figure: its counterpart in the other system, or plain hours. */
const BESIDE: Readonly<Partial<Record<TypedUnit, TypedUnit>>> = {
  C: "F",
  F: "C",
  dC: "dF",
  dF: "dC",
  min: "h",
  d: "h",
  "g/kg": "gr/lb",
  "gr/lb": "g/kg",
  "lb/1000ft2.24h": "g/m2.24h",
  "g/m2.24h": "lb/1000ft2.24h",
  "L/m2": "ft2/gal",
  "m2/L": "ft2/gal",
  "ft2/gal": "m2/L",
  mil: "um",
  um: "mil",
  L: "gal",
  gal: "L",
  kg: "lb",
  lb: "kg",
  "kg/L": "lb/gal",
  "lb/gal": "kg/L",
  "m2/h": "ft2/h",
  "ft2/h": "m2/h",
};

/** Three digits are more than a comparison needs. */
function rounded(value: number): string {
  const digits = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2;
  return String(Number(value.toFixed(digits))).replace("-", "−");
}

export function inUnit(inside: number, path: string, unit: TypedUnit, words: SheetsText): string {
  const units = unitsOfField(path);
  return `${rounded(units === null ? inside : typedFromInside(inside, unit, units))} ${words.units[unit]}`;
}

/** The same in the other system; null where it has no other, or nothing that can be read was typed. */
export function besideOf(figure: Figure, path: string, words: SheetsText): string | null {
  const other = figure.unit === null ? undefined : BESIDE[figure.unit];
  const inside = insideOf(figure, path);
  const units = unitsOfField(path);
  if (other === undefined || inside === null || Number.isNaN(inside)) return null;
  // Minutes in the pail stay minutes.
  if (units === null || !units.includes(other)) return null;
  return inUnit(inside, path, other, words);
}

/** A figure of a kept sheet: as printed, and the other system beside; null where the page prints nothing. */
export function printed(sheet: SheetBody, path: string, units: UnitSystem, words: SheetsText): string | null {
  const figure = figureOf(sheet, path, units);
  if (figure.value === "") return null;
  const unit = figure.unit === null ? "" : ` ${words.units[figure.unit]}`;
  const beside = besideOf(figure, path, words);
  return `${figure.value}${unit}${beside === null ? "" : ` (${beside})`}`;
}

/** Name of a field: that of its column where it stands in a table. */
export function fieldName(path: string, words: SheetsText): string {
  return words.fields[path] ?? words.fields[path.split(".").at(-1) ?? path] ?? path;
}

/** The same with the temperature of its row. */
export function placeName(sheet: SheetBody, path: string, units: UnitSystem, words: SheetsText): string {
  const [, table, row] = /^(cure|hard)\.(\d+)\./.exec(path) ?? [];
  if (table === undefined || row === undefined) return fieldName(path, words);
  const at = printed(sheet, `${table}.${row}.slabC`, units, words);
  return at === null ? fieldName(path, words) : `${fieldName(path, words)}, ${words.rowAt(at)}`;
}

/** A doubt in words; what would be meant stands in the unit of the paper first. */
export function warningWords(
  { kind, meant, field }: SheetWarning,
  sheet: SheetBody,
  units: UnitSystem,
  words: SheetsText,
): string {
  if (meant === undefined) return words.warnings[kind](null);
  const inside = unitsOfField(field)?.[0] ?? null;
  if (inside === null) return words.warnings[kind](rounded(meant));
  const unit = typeof valueAt(sheet, field) === "number" ? figureOf(sheet, field, units).unit : null;
  const first = unit ?? inside;
  const beside = BESIDE[first];
  const shown = inUnit(meant, field, first, words);
  return words.warnings[kind](beside === undefined ? shown : `${shown} (${inUnit(meant, field, beside, words)})`);
}
