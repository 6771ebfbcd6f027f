// What was done to the surface since the film went down: steps after blush, dust, abrading, findings.
import type { Step } from "#core/cure/sheet.ts";
import type { Exposure } from "#core/zone/exposure.ts";
import type { FilmState } from "#core/zone/film.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import { BLUSH_FROM_MIN } from "#core/judge/rules/blush.ts";

type Timed = { readonly atMs: number };

function lastMs(entries: readonly Timed[], fromMs: number): number | null {
  const last = entries.filter((entry) => entry.atMs >= fromMs).at(-1);
  return last?.atMs ?? null;
}

/** The steps of `wanted` that do not yet stand in the journal, in their order, after `sinceMs`. A soft film was not abraded. */
export function stepsLeft(
  record: ZoneRecord,
  wanted: readonly Step[],
  sinceMs: number,
  hardMs: number,
): readonly Step[] {
  const abraded = record.abraded.filter((entry) => entry.atMs >= hardMs);
  const done: Record<Step, readonly Timed[]> = { wash: record.washed, abrade: abraded, clean: record.cleaned };
  let fromMs = sinceMs;
  for (const [index, step] of wanted.entries()) {
    const next = done[step].find((entry) => entry.atMs >= fromMs);
    if (next === undefined) return wanted.slice(index);
    fromMs = next.atMs;
  }
  return [];
}

function hardMsOf(film: FilmState): number {
  return film.recoat.reachedMs ?? Number.POSITIVE_INFINITY;
}

export interface Blush {
  /** null = no blush; empty = dealt with. */
  readonly steps: readonly Step[] | null;
  readonly sinceMs: number | null;
  readonly found: boolean;
}

/** Blush by dew on the sensitive film, or found greasy; done with when the sheet's steps stand in the journal after it. */
export function blushOf(record: ZoneRecord, film: FilmState, exposure: Exposure): Blush {
  const greasyMs = lastMs(
    record.inspected.filter((entry) => entry.surface === "greasy"),
    film.record.fromMs,
  );
  const clearedMs = lastMs(
    record.inspected.filter((entry) => entry.surface === "clean"),
    film.record.fromMs,
  );
  const dewMs = exposure.dewMin >= BLUSH_FROM_MIN ? exposure.lastDewMs : null;
  const greasy = greasyMs !== null && !(clearedMs !== null && clearedMs > greasyMs) ? greasyMs : null;
  if (dewMs === null && greasy === null) return { steps: null, sinceMs: exposure.lastDewMs, found: false };
  const sinceMs = Math.max(dewMs ?? Number.NEGATIVE_INFINITY, greasy ?? Number.NEGATIVE_INFINITY);
  return {
    steps: stepsLeft(record, film.sheet.afterBlush, sinceMs, hardMsOf(film)),
    sinceMs,
    found: greasy !== null && greasy === sinceMs,
  };
}

export interface Dust {
  readonly sinceMs: number | null;
  readonly found: boolean;
}

/** Dust since the film (or ever, on a bare slab): abraded and not cleaned, or found dusty. */
export function dustOf(record: ZoneRecord, fromMs: number): Dust {
  const cleanedMs = lastMs(record.cleaned, fromMs) ?? Number.NEGATIVE_INFINITY;
  const foundCleanMs =
    lastMs(
      record.inspected.filter((entry) => entry.surface === "clean"),
      fromMs,
    ) ?? Number.NEGATIVE_INFINITY;
  const freeMs = Math.max(cleanedMs, foundCleanMs);
  const dustyMs = lastMs(
    record.inspected.filter((entry) => entry.surface === "dusty"),
    fromMs,
  );
  const abradedMs = lastMs(record.abraded, fromMs);
  if (dustyMs !== null && dustyMs > freeMs) return { sinceMs: dustyMs, found: true };
  if (abradedMs !== null && abradedMs > freeMs) return { sinceMs: abradedMs, found: false };
  return { sinceMs: null, found: false };
}

/** Last abrading that counts: of a hard film, or of the bare slab; null if none. */
export function abradedMsOf(record: ZoneRecord, film: FilmState | null): number | null {
  if (film === null) return lastMs(record.abraded, Number.NEGATIVE_INFINITY);
  // A soft film is never abraded: an abrading before it was hard gives no credit.
  return lastMs(record.abraded, Math.max(film.record.toMs, hardMsOf(film)));
}
