// The record of a zone: what the journal says is on the floor, what was done to it and what was found.
import type { Sheet } from "#core/cure/sheet.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { SiteLog, Zone } from "#core/zone/site.ts";
import { sheetUsedAt } from "#core/cure/sheet-versions.ts";

type EntryOf<D extends JournalEntry["did"]> = Extract<JournalEntry, { did: D }>;

/** The film on the floor: the last coat poured. */
export interface FilmRecord {
  readonly coat: number;
  /** null when the system names no sheet for this coat, or the sheet is not in the log. */
  readonly sheet: Sheet | null;
  readonly fromMs: number;
  readonly toMs: number;
  readonly fullBroadcast: boolean;
}

export interface ZoneRecord {
  /** Sheets of the coats, first to last, coats added by hand included; null where a sheet is unknown. */
  readonly system: readonly (Sheet | null)[];
  readonly film: FilmRecord | null;
  /** The coat to come; null when none remains. */
  readonly nextCoat: number | null;
  readonly pouring: EntryOf<"pouring"> | null;
  /** The base still breathes: porous, and no sealing coat is down. */
  readonly porous: boolean;
  readonly held: EntryOf<"held"> | null;
  /** When the last crack filler with typed hours is hard; null without one. */
  readonly fillerHardAtMs: number | null;
  /** Crack filler that is hard by its sheet; null where the sheet is not in the log. */
  readonly fillings: readonly { readonly atMs: number; readonly sheet: Sheet | null }[];
  readonly abraded: readonly EntryOf<"abraded">[];
  readonly washed: readonly EntryOf<"washed">[];
  readonly cleaned: readonly EntryOf<"cleaned">[];
  /** When solvent was used, by the entry or by the sheet of a coat; oldest first. */
  readonly solvents: readonly number[];
  readonly inspected: readonly EntryOf<"inspected">[];
  readonly measured: readonly EntryOf<"measured">[];
  readonly saltBagged: readonly EntryOf<"salt-bagged">[];
  readonly saltChecked: readonly EntryOf<"salt-checked">[];
  readonly tested: readonly EntryOf<"tested">[];
  readonly heating: readonly EntryOf<"heating">[];
  readonly forecast: EntryOf<"forecast"> | null;
  readonly moved: readonly EntryOf<"moved">[];
  readonly retired: readonly EntryOf<"retired">[];
  readonly trusted: readonly EntryOf<"trusted">[];
}

function of<D extends JournalEntry["did"]>(entries: readonly JournalEntry[], did: D): EntryOf<D>[] {
  return entries.filter((entry): entry is EntryOf<D> => entry.did === did);
}

function lastFilm(
  entries: readonly JournalEntry[],
  system: readonly (Sheet | null)[],
  keptFrom: (sheet: Sheet, usedMs: number) => Sheet,
): FilmRecord | null {
  let last: EntryOf<"poured"> | null = null;
  for (const entry of of(entries, "poured")) if (last === null || entry.toMs >= last.toMs) last = entry;
  if (last === null) return null;
  const { coat, fromMs, toMs } = last;
  const standing = system[coat] ?? null;
  const sheet = standing === null ? null : keptFrom(standing, fromMs);
  return { coat, sheet, fromMs, toMs, fullBroadcast: last.broadcast === "full" };
}

function pourInProgress(entries: readonly JournalEntry[]): EntryOf<"pouring"> | null {
  const last = of(entries, "pouring").at(-1);
  if (last === undefined) return null;
  const closed = of(entries, "poured").some((entry) => entry.coat >= last.coat && entry.atMs >= last.atMs);
  return closed ? null : last;
}

function withSolvent(entry: JournalEntry, system: readonly (Sheet | null)[]): boolean {
  if (entry.did === "poured") return system[entry.coat]?.material?.hazards?.includes("solvent") ?? false;
  return "solvent" in entry && entry.solvent === true;
}

function holdOn(entries: readonly JournalEntry[]): EntryOf<"held"> | null {
  let held: EntryOf<"held"> | null = null;
  for (const entry of entries) {
    if (entry.did === "held") held = entry;
    else if (entry.did === "released") held = null;
  }
  return held;
}

/** Folds the entries that speak for a zone, oldest first. Of sheets it knows what was kept by `heardByMs`. */
export function recordOf(
  log: SiteLog,
  zone: Zone,
  entries: readonly JournalEntry[],
  heardByMs: number = Number.POSITIVE_INFINITY,
): ZoneRecord {
  const added = of(entries, "coat-added").map((entry) => entry.sheet);
  const standing = (id: string) => log.sheets.find((sheet) => sheet.id === id) ?? null;
  const system = [...zone.system, ...added].map(standing);
  const keptFrom = (sheet: Sheet, usedMs: number) =>
    sheetUsedAt(log.sheetVersions ?? [], sheet.id, usedMs, heardByMs) ?? sheet;
  const film = lastFilm(entries, system, keptFrom);
  const next = film === null ? 0 : film.coat + 1;
  const sealedBy = of(entries, "poured").some((entry) => system[entry.coat]?.seals === true);
  const fillings = of(entries, "filled").flatMap(({ atMs, sheet: id }) => {
    if (id === undefined) return [];
    const sheet = standing(id);
    return [{ atMs, sheet: sheet === null ? null : keptFrom(sheet, atMs) }];
  });
  const fillers = of(entries, "filled").flatMap(({ atMs, hardAfterH }) =>
    hardAfterH === undefined ? [] : [atMs + hardAfterH * 3_600_000],
  );
  return {
    system,
    film,
    nextCoat: next < system.length ? next : null,
    pouring: pourInProgress(entries),
    porous: zone.base === "porous" && !sealedBy,
    held: holdOn(entries),
    fillerHardAtMs: fillers.length > 0 ? Math.max(...fillers) : null,
    fillings,
    abraded: of(entries, "abraded"),
    washed: of(entries, "washed"),
    cleaned: of(entries, "cleaned"),
    solvents: entries.flatMap((entry) => (withSolvent(entry, system) ? [entry.atMs] : [])),
    inspected: of(entries, "inspected"),
    measured: of(entries, "measured"),
    saltBagged: of(entries, "salt-bagged"),
    saltChecked: of(entries, "salt-checked"),
    tested: of(entries, "tested"),
    heating: of(entries, "heating"),
    forecast: of(entries, "forecast").at(-1) ?? null,
    moved: of(entries, "moved"),
    retired: of(entries, "retired"),
    trusted: of(entries, "trusted"),
  };
}
