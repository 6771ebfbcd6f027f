// From what was typed to the sheet that is kept, or what is missing, by field. Pure.
import { valueAt } from "#core/cure/sheet-units.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { type Draft, type Figure, insideOf, pathsOf, type Table } from "./draft.ts";

export type SheetFaults = Readonly<Record<string, "number" | "missing">>;
export interface Read {
  /** What can be read, faults left out: the checks of sense look at it while somebody types. */
  readonly body: SheetBody;
  readonly faults: SheetFaults;
}

type Loose = Record<string, unknown>;

function numberAt(draft: Draft, path: string): number | null {
  const figure = draft.figures[path];
  const value = figure === undefined ? null : insideOf(figure, path);
  return value === null || Number.isNaN(value) ? null : value;
}

const pair = (draft: Draft, path: string) =>
  [numberAt(draft, `${path}.0`), numberAt(draft, `${path}.1`)] as [number | null, number | null];

/** Rows in which something stands, with the place that each has on the form. */
function rowsWith(draft: Draft, table: Table, columns: readonly string[]) {
  return Array.from({ length: draft.rows[table] }, (_, row) => {
    const cells = columns.map((column) => [column, numberAt(draft, `${table}.${row}.${column}`)] as const);
    return { row, cells, some: cells.some(([, value]) => value !== null) };
  }).filter(({ some }) => some);
}

const present = (value: Loose): Loose =>
  Object.fromEntries(Object.entries(value).filter(([, item]) => item !== null && item !== undefined));

function materialOf(draft: Draft): Loose | null {
  const at = (name: string) => numberAt(draft, `material.${name}`);
  const parts = rowsWith(draft, "material.mix.parts", ["share", "kitL"]).map(({ row, cells }) =>
    present({
      name: (draft.partNames[row] ?? "").trim() || String.fromCharCode(65 + row),
      ...Object.fromEntries(cells),
    }),
  );
  const pot = rowsWith(draft, "material.potLife", ["resinC", "min", "massKg", "volumeL"]).map(({ cells }) =>
    present(Object.fromEntries(cells)),
  );
  const made = present({
    wetLPerM2: at("wetLPerM2"),
    dryFilmUm: at("dryFilmUm"),
    solidsPct: at("solidsPct"),
    texturePct: at("texturePct"),
    porosityPct: at("porosityPct"),
    wastePct: at("wastePct"),
    densityKgPerL: at("densityKgPerL"),
    mix: parts.length === 0 ? null : { by: draft.mixBy, parts },
    kitL: at("kitL"),
    splitKits: draft.splitKits ? true : null,
    mixMin: at("mixMin"),
    restMin: at("restMin"),
    potClass: draft.potClass === "" ? null : draft.potClass,
    potLife: pot.length === 0 ? null : pot,
    floorMin: at("floorMin"),
    placeM2PerH: at("placeM2PerH"),
    people: at("people"),
    hazards: draft.hazards.length === 0 ? null : draft.hazards,
  });
  return Object.keys(made).length === 0 ? null : made;
}

/** Where a figure of the form stands in the sheet: rows that are empty are left out, so later ones move up. */
function keptPath(draft: Draft, path: string): string {
  const table = (["cure", "hard", "material.potLife", "material.mix.parts"] as const).find((one) =>
    path.startsWith(`${one}.`),
  );
  if (table === undefined) return path;
  const [row = "0", column = ""] = path.slice(table.length + 1).split(".");
  const kept = rowsWith(draft, table, [...new Set(columnsOf(draft, table))]);
  return `${table}.${kept.findIndex((one) => one.row === Number(row))}.${column}`;
}

const columnsOf = (draft: Draft, table: Table) =>
  Object.keys(draft.figures).flatMap((path) =>
    path.startsWith(`${table}.`) ? [path.slice(table.length + 1).split(".")[1] ?? ""] : [],
  );

/** The number as it is kept beside the value: plain digits, a point or a comma. */
function paperValue({ value }: Figure): string {
  const trimmed = value.trim().replace("−", "-").replace(/[.,]$/, "");
  return trimmed.replace(/^([+-]?)([.,])/, "$10$2");
}

function paperOf(draft: Draft, body: SheetBody): SheetBody["paper"] {
  const paper: NonNullable<SheetBody["paper"]> = {};
  for (const path of pathsOf(draft)) {
    const figure = draft.figures[path];
    if (figure === undefined || figure.unit === null || numberAt(draft, path) === null) continue;
    const kept = keptPath(draft, path);
    if (typeof valueAt(body, kept) === "number") paper[kept] = { value: paperValue(figure), unit: figure.unit };
  }
  return paper;
}

function faultsOf(draft: Draft): SheetFaults {
  const faults: Record<string, "number" | "missing"> = {};
  for (const path of pathsOf(draft)) {
    const figure = draft.figures[path];
    if (figure !== undefined && Number.isNaN(insideOf(figure, path))) faults[path] = "number";
  }
  if (draft.name.trim() === "") faults["name"] = "missing";
  const need = (path: string) => {
    if (faults[path] === undefined && numberAt(draft, path) === null) faults[path] = "missing";
  };
  if (draft.kind === "coat") need("limits.dewMarginK");
  for (const table of ["cure", "hard"] as const)
    for (const { row } of rowsWith(draft, table, columnsOf(draft, table))) need(`${table}.${row}.slabC`);
  for (const { row } of rowsWith(draft, "hard", ["slabC", "hardH"])) need(`hard.${row}.hardH`);
  if (draft.kind === "coat") {
    for (const { row } of rowsWith(draft, "material.potLife", ["resinC", "min", "massKg", "volumeL"])) {
      need(`material.potLife.${row}.resinC`);
      need(`material.potLife.${row}.min`);
    }
    for (const { row } of rowsWith(draft, "material.mix.parts", ["share", "kitL"]))
      need(`material.mix.parts.${row}.share`);
  }
  return faults;
}

/** The margin that a filler carries, K: no rule asks for it, and the form of a sheet has the place. */
const FILLER_MARGIN_K = 3;

export function readDraft(draft: Draft): Read {
  const filler = draft.kind === "filler";
  const none: [null, null] = [null, null];
  const range = (path: string) => (filler && path !== "limits.slabC" ? none : pair(draft, path));
  const single = (path: string) => (filler ? null : numberAt(draft, path));
  const cure = rowsWith(draft, "cure", ["slabC", "recoatFromH", "recoatUntilH", "dewSafeH", "footH", "trafficH"]);
  const hard = rowsWith(draft, "hard", ["slabC", "hardH"]);
  const material = filler ? null : materialOf(draft);
  const body = {
    id: draft.id,
    name: draft.name.trim(),
    ...(filler ? { kind: "filler", hard: hard.map(({ cells }) => Object.fromEntries(cells)) } : {}),
    limits: {
      slabC: range("limits.slabC"),
      airC: range("limits.airC"),
      rhPct: range("limits.rhPct"),
      waterGPerKg: range("limits.waterGPerKg"),
      dewMarginK: filler ? FILLER_MARGIN_K : (numberAt(draft, "limits.dewMarginK") ?? 0),
      resinC: range("limits.resinC"),
      slabRhMaxPct: single("limits.slabRhMaxPct"),
      slabMverMaxLb: single("limits.slabMverMaxLb"),
    },
    cure: filler ? [] : cure.map(({ cells }) => Object.fromEntries(cells)),
    window: filler ? "open" : draft.window,
    broadcastWaiver: !filler && draft.broadcastWaiver,
    seals: !filler && draft.seals,
    afterBlush: filler ? [] : [...draft.afterBlush],
    ...(material === null ? {} : { material }),
    ...(draft.photos.length === 0 ? {} : { photos: [...draft.photos] }),
    confirmed: null,
  } as unknown as SheetBody;
  return { body: { ...body, paper: paperOf(draft, body) ?? {} }, faults: faultsOf(draft) };
}

/** Where a field of the kept sheet stands on the form: the other way from `keptPath`. */
export function formPath(draft: Draft, path: string): string {
  const table = (["cure", "hard", "material.potLife", "material.mix.parts"] as const).find((one) =>
    path.startsWith(`${one}.`),
  );
  if (table === undefined) return path;
  const [row = "0", column = ""] = path.slice(table.length + 1).split(".");
  const kept = rowsWith(draft, table, [...new Set(columnsOf(draft, table))])[Number(row)];
  return kept === undefined ? path : `${table}.${kept.row}.${column}`;
}
