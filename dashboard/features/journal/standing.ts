// What still stands in a journal, and what a new entry can take over from it. Pure.
import type { BoardZoneBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import { localInput } from "../../units/local-input.ts";
import type { Act } from "./acts.ts";
import type { Draft } from "./entry-of.ts";

const QUARTER_MS = 900_000;
const HOUR_MS = 3_600_000;

/** Ids of the entries that were taken back. An undone taking-back counts as none. */
export function takenBack(entries: readonly EntryBody[]): ReadonlySet<string> {
  const undoing = entries.filter((entry) => entry.undoes !== undefined);
  const lifted = new Set(
    undoing.filter((entry) => undoing.some((other) => other.undoes === entry.id)).map((entry) => entry.id),
  );
  return new Set(undoing.filter((entry) => !lifted.has(entry.id)).map((entry) => entry.undoes ?? ""));
}

/** The pour that was started and not yet written down as finished. */
function openPour(
  entries: readonly EntryBody[],
  zone: string,
): { readonly coat: number; readonly atMs: number } | null {
  const gone = takenBack(entries);
  const standing = entries
    .filter((entry) => entry.zone === zone && !gone.has(entry.id ?? ""))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const last = standing.filter((entry) => entry.did === "pouring" || entry.did === "poured").at(-1);
  return last?.did === "pouring" ? { coat: last.coat, atMs: Date.parse(last.at) } : null;
}

/** What a form holds before anybody touches it, so that the daily path needs no typing. */
export function firstDraft(
  act: Act,
  item: BoardZoneBody,
  entries: readonly EntryBody[],
  nowMs: number,
  timezone: string,
): Draft {
  const { zone, call } = item;
  const open = openPour(entries, zone.id);
  const coat = String(open?.coat ?? call.nextCoat ?? zone.system.length - 1);
  const input = (atMs: number) => localInput(atMs, timezone);
  switch (act) {
    case "pouring":
      return { coat };
    case "poured": {
      const guessedMs = nowMs - (zone.areaM2 / zone.pourM2PerH) * HOUR_MS;
      return { coat, from: input(open?.atMs ?? Math.round(guessedMs / QUARTER_MS) * QUARTER_MS), to: input(nowMs) };
    }
    case "forecast":
      return { until: input(Math.ceil((nowMs + 12 * HOUR_MS) / HOUR_MS) * HOUR_MS) };
    case "tested":
      return { method: "F2170" };
    case "adhesion":
      return { pull: "D7234" };
    case "abraded":
      // A bare slab is ground; a film is screened.
      return { how: call.film === null ? "ground" : "screened" };
    case "washed":
    case "cleaned":
      return { solvent: "no" };
    case "profile":
    case "ventilationOn":
    case "ventilationOff":
    case "inspected":
    case "measured":
    case "heatingOn":
    case "heatingOff":
    case "held":
    case "released":
    case "filled":
    case "overrode":
      return {};
  }
}
