// The coats of a zone as they were poured: what the journal says of each, and the log as it stood before the next.
import type { Batch, JournalEntry } from "#core/zone/journal.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { entriesAt } from "#core/zone/heard.ts";
import { entriesOf, lineageOf } from "#core/zone/zones.ts";

type Poured = Extract<JournalEntry, { did: "poured" }>;
type Mixed = Extract<JournalEntry, { did: "mixed" }>;

/** One coat of a zone. Where it was poured in several goes, `last` is the one that finished it. */
export interface CoatPour {
  readonly coat: number;
  readonly last: Poured;
  readonly goes: readonly Poured[];
  readonly fromMs: number;
  readonly toMs: number;
  readonly product: string | null;
  readonly batches: readonly Batch[];
  readonly people: readonly string[];
}

/** Entries that speak for a zone as they stand now: its own, its forebears' up to each split, and the site's. */
export function standingOf(log: SiteLog, zone: string, nowMs: number): readonly JournalEntry[] {
  return entriesOf(lineageOf(log, zone, nowMs), entriesAt(log, { nowMs, heardByMs: nowMs }));
}

/** Batch numbers of a coat, each once: many pails carry the same. */
function numbersOf(entries: readonly (Poured | Mixed)[]): readonly Batch[] {
  const all = entries.flatMap((entry) => entry.batches ?? []);
  return all.filter(
    (one, index) => all.findIndex((other) => other.part === one.part && other.number === one.number) === index,
  );
}

/** Coats poured by `nowMs`, first to last. Throws RangeError if there is no such zone. */
export function poursOf(entries: readonly JournalEntry[]): readonly CoatPour[] {
  const byCoat = new Map<number, Poured[]>();
  for (const entry of entries) {
    if (entry.did !== "poured") continue;
    byCoat.set(entry.coat, [...(byCoat.get(entry.coat) ?? []), entry]);
  }
  return [...byCoat.entries()]
    .sort(([a], [b]) => a - b)
    .map(([coat, goes]) => {
      const mixed = entries.filter((entry): entry is Mixed => entry.did === "mixed" && entry.coat === coat);
      const last = goes.reduce((best, entry) => (entry.toMs >= best.toMs ? entry : best));
      return {
        coat,
        last,
        goes,
        fromMs: Math.min(...goes.map((entry) => entry.fromMs)),
        toMs: last.toMs,
        product: last.product ?? null,
        batches: numbersOf([...goes, ...mixed]),
        people: [...new Set(goes.flatMap((entry) => entry.people ?? []))],
      };
    });
}

/** The log without the coats that came after this one, so that its film can be looked at until they did. */
export function logUntil(log: SiteLog, entries: readonly JournalEntry[], pour: CoatPour): SiteLog {
  const later = new Set(
    entries
      .filter((entry) => (entry.did === "poured" || entry.did === "pouring") && entry.coat > pour.coat)
      .map(({ id }) => id),
  );
  return later.size === 0 ? log : { ...log, journal: log.journal.filter(({ id }) => !later.has(id)) };
}
