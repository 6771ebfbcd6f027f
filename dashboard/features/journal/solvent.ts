// Which steps bring solvent into the room, and what the journal knows of flames there. Pure.
import type { EntryBody } from "#contract/journal.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { burningInside } from "#core/zone/flame.ts";
import type { Act } from "./acts.ts";
import { takenBack } from "./standing.ts";

/** What was picked for it in the form, or what the sheet says of the coat that is started. */
export function bringsSolvent(
  act: Act,
  draft: Readonly<Record<string, string>>,
  system: readonly string[],
  sheets: readonly SheetBody[],
): boolean {
  if (act === "washed" || act === "cleaned") return draft["solvent"] === "yes";
  if (act !== "pouring") return false;
  const sheet = sheets.find(({ id }) => id === system[Number(draft["coat"] ?? "0")]);
  return sheet?.material?.hazards?.includes("solvent") === true;
}

/** Since when a heater burns in the room by the journal, epoch ms; null = none is logged. Site-wide heat counts. */
export function heaterSinceMs(entries: readonly EntryBody[], zone: string, atMs: number): number | null {
  const gone = takenBack(entries);
  const ms = (iso: string | undefined) => (iso === undefined ? undefined : Date.parse(iso));
  const heating = entries.flatMap((entry) =>
    entry.did === "heating" && (entry.zone ?? zone) === zone && !gone.has(entry.id ?? "")
      ? [{ ...entry, atMs: Date.parse(entry.at), fromMs: ms(entry.from), toMs: ms(entry.to) }]
      : [],
  );
  const burning = burningInside(
    heating.sort((a, b) => a.atMs - b.atMs),
    atMs,
  );
  return burning === null ? null : (burning.fromMs ?? burning.atMs);
}
