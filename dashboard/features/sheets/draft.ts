// A sheet while it is typed: every figure as text with the unit of the paper. Pure.
import { insideFromTyped, type TypedUnit, unitsOfField, valueAt } from "#core/cure/sheet-units.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { UnitSystem } from "../../units/show.ts";
import { numberFromTyped } from "../../units/typed.ts";

/** `unit` is null where a figure has none (parts of a mix, people). */
export interface Figure {
  readonly value: string;
  readonly unit: TypedUnit | null;
}

export interface Draft {
  readonly id: string;
  readonly name: string;
  readonly kind: "coat" | "filler";
  readonly window: "closes" | "open";
  readonly broadcastWaiver: boolean;
  readonly seals: boolean;
  readonly afterBlush: readonly ("wash" | "abrade" | "clean")[];
  readonly figures: Readonly<Record<string, Figure>>;
  /** Rows of each table: `cure`, `hard`, `material.potLife`, `material.mix.parts`. */
  readonly rows: Readonly<Record<Table, number>>;
  readonly partNames: readonly string[];
  readonly mixBy: "volume" | "mass";
  readonly potClass: string;
  readonly hazards: readonly string[];
  readonly splitKits: boolean;
  readonly photos: readonly string[];
  /** The revision that was looked at; null for a new sheet. */
  readonly revision: number | null;
}

export type Table = "cure" | "hard" | "material.potLife" | "material.mix.parts";

export const CURE_COLUMNS = ["slabC", "recoatFromH", "recoatUntilH", "dewSafeH", "footH", "trafficH"] as const;
export const COLUMNS: Readonly<Record<Table, readonly string[]>> = {
  cure: CURE_COLUMNS,
  hard: ["slabC", "hardH"],
  "material.potLife": ["resinC", "min", "massKg", "volumeL"],
  "material.mix.parts": ["share", "kitL"],
};

export const LIMITS = {
  coat: [
    "limits.slabC.0",
    "limits.slabC.1",
    "limits.airC.0",
    "limits.airC.1",
    "limits.rhPct.0",
    "limits.rhPct.1",
    "limits.dewMarginK",
    "limits.resinC.0",
    "limits.resinC.1",
    "limits.waterGPerKg.0",
    "limits.waterGPerKg.1",
    "limits.slabRhMaxPct",
    "limits.slabMverMaxLb",
  ],
  filler: ["limits.slabC.0", "limits.slabC.1"],
} as const;
export const MATERIAL = [
  "material.wetLPerM2",
  "material.dryFilmUm",
  "material.solidsPct",
  "material.texturePct",
  "material.porosityPct",
  "material.wastePct",
  "material.kitL",
  "material.densityKgPerL",
  "material.mixMin",
  "material.restMin",
  "material.floorMin",
  "material.placeM2PerH",
  "material.people",
] as const;

const US_UNITS: Readonly<Partial<Record<TypedUnit, TypedUnit>>> = {
  C: "F",
  dC: "dF",
  "g/kg": "gr/lb",
  "L/m2": "ft2/gal",
  um: "mil",
  L: "gal",
  kg: "lb",
  "kg/L": "lb/gal",
  "m2/h": "ft2/h",
};

/** The unit in which a new figure is expected: that of the person's own system. */
export function firstUnit(path: string, units: UnitSystem): TypedUnit | null {
  const inside = unitsOfField(path)?.[0] ?? null;
  if (inside === null) return null;
  return (units === "us" ? US_UNITS[inside] : undefined) ?? inside;
}

export function pathsOf(draft: Pick<Draft, "kind" | "rows">): string[] {
  const table = (name: Table) =>
    Array.from({ length: draft.rows[name] }, (_, row) => COLUMNS[name].map((column) => `${name}.${row}.${column}`));
  const tables: readonly Table[] =
    draft.kind === "filler" ? ["hard"] : ["cure", "material.potLife", "material.mix.parts"];
  return [
    ...LIMITS[draft.kind],
    ...tables.flatMap((name) => table(name).flat()),
    ...(draft.kind === "filler" ? [] : MATERIAL),
  ];
}

/** A figure of a kept sheet: as the paper says, else as it is reckoned with, so that nothing is rounded by looking. */
export function figureOf(sheet: SheetBody, path: string, units: UnitSystem): Figure {
  const value = valueAt(sheet, path);
  if (typeof value !== "number" || Number.isNaN(value)) return { value: "", unit: firstUnit(path, units) };
  const paper = sheet.paper?.[path];
  if (paper !== undefined) return paper;
  return { value: String(value), unit: unitsOfField(path)?.[0] ?? null };
}

const MOST_ROWS: Readonly<Record<Table, number>> = {
  cure: 50,
  hard: 50,
  "material.potLife": 20,
  "material.mix.parts": 6,
};

export function draftOf(sheet: SheetBody, units: UnitSystem, fresh: boolean): Draft {
  const kind = sheet.kind ?? "coat";
  const mix = sheet.material?.mix;
  const rows: Record<Table, number> = {
    cure: Math.max(kind === "coat" ? 1 : 0, sheet.cure.length),
    hard: Math.max(kind === "filler" ? 1 : 0, sheet.hard?.length ?? 0),
    "material.potLife": sheet.material?.potLife?.length ?? 0,
    "material.mix.parts": mix?.parts.length ?? 0,
  };
  return {
    id: fresh ? "" : sheet.id,
    name: fresh ? "" : sheet.name,
    kind,
    window: sheet.window,
    broadcastWaiver: sheet.broadcastWaiver,
    seals: sheet.seals,
    afterBlush: sheet.afterBlush,
    figures: Object.fromEntries(pathsOf({ kind, rows }).map((path) => [path, figureOf(sheet, path, units)])),
    rows,
    partNames: mix?.parts.map(({ name }) => name) ?? [],
    mixBy: mix?.by ?? "volume",
    potClass: sheet.material?.potClass ?? "",
    hazards: sheet.material?.hazards ?? [],
    splitKits: sheet.material?.splitKits ?? false,
    photos: sheet.photos ?? [],
    revision: fresh ? null : (sheet.saved?.revision ?? null),
  };
}

/** Another unit of the paper: what was typed stays, and means something else. */
export function withUnit(draft: Draft, paths: readonly string[], unit: TypedUnit): Draft {
  const changed = paths.map((path) => [path, { value: draft.figures[path]?.value ?? "", unit }] as const);
  return { ...draft, figures: { ...draft.figures, ...Object.fromEntries(changed) } };
}

export function withRow(draft: Draft, table: Table, units: UnitSystem): Draft {
  const row = draft.rows[table];
  if (row >= MOST_ROWS[table]) return draft;
  const cells = COLUMNS[table].map((column) => {
    const before = draft.figures[`${table}.${row - 1}.${column}`]?.unit;
    const path = `${table}.${row}.${column}`;
    return [path, { value: "", unit: before === undefined ? firstUnit(path, units) : before }] as const;
  });
  return {
    ...draft,
    rows: { ...draft.rows, [table]: row + 1 },
    figures: { ...draft.figures, ...Object.fromEntries(cells) },
    partNames: table === "material.mix.parts" ? [...draft.partNames, ""] : draft.partNames,
  };
}

export function withoutRow(draft: Draft, table: Table, row: number): Draft {
  const figures = { ...draft.figures };
  const last = draft.rows[table] - 1;
  for (const column of COLUMNS[table]) {
    for (let at = row; at < last; at++) {
      const next = figures[`${table}.${at + 1}.${column}`];
      if (next !== undefined) figures[`${table}.${at}.${column}`] = next;
    }
    delete figures[`${table}.${last}.${column}`];
  }
  return {
    ...draft,
    rows: { ...draft.rows, [table]: last },
    figures,
    partNames: table === "material.mix.parts" ? draft.partNames.filter((_, index) => index !== row) : draft.partNames,
  };
}

/** What a figure means inside; null = not typed, NaN = no number. */
export function insideOf({ value, unit }: Figure, path: string): number | null {
  const typed = numberFromTyped(value);
  const units = unitsOfField(path);
  if (typed === null || Number.isNaN(typed) || units === null || unit === null) return typed;
  return insideFromTyped(typed, unit, units);
}
