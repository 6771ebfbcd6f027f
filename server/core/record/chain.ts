// What is hashed, written out: links of the journal and of the calls, readings of a day, and the day's head.
import { canonical } from "#core/record/canonical.ts";

/** Stands before the first link, and for a kind of which nothing has been kept yet. */
export const NO_HASH = "0".repeat(64);
const DAY_MS = 86_400_000;

/** A day of the chain is a day of UTC: the same wherever it is checked, and always 24 h. */
export function dayOf(atMs: number): number {
  return Math.floor(atMs / DAY_MS);
}

export function dayName(day: number): string {
  return new Date(day * DAY_MS).toISOString().slice(0, 10);
}

export function dayFromName(name: string): number {
  return dayOf(Date.parse(`${name}T00:00:00Z`));
}

export function dayStartMs(day: number): number {
  return day * DAY_MS;
}

/** A link of the journal or of the calls: the hash before it, a line break, and the body in its canonical form. */
export function linkText(previous: string, body: object): string {
  return `${previous}\n${canonical(body)}`;
}

/** An entry is linked with the site that it belongs to; a call names its own. */
export function entryLink(site: string, entry: object): object {
  return { ...entry, site };
}

/** One reading as it is hashed; the readings of a series follow one another by the time at which they were taken. */
export function readingText(node: string, quantity: string, atMs: number, value: number, heardMs: number): string {
  return `${canonical([node, quantity, atMs, value, heardMs])}\n`;
}

/** Digest of the readings of one series that a day kept. */
export interface SeriesDigest {
  readonly node: string;
  readonly quantity: string;
  readonly count: number;
  readonly digest: string;
}

/** The digests of a day's series, ordered by node and quantity. */
export function seriesText(digests: readonly SeriesDigest[]): string {
  return canonical(digests.map(({ node, quantity, count, digest }) => [node, quantity, count, digest]));
}

/** What the head of a day vouches for. `journal`, `calls`: the last link kept by its end. `prev`: the head before it. */
export interface HeadParts {
  readonly site: string;
  readonly day: string;
  readonly prev: string;
  readonly journal: string;
  readonly calls: string;
  readonly readings: string;
  readonly entries: number;
  readonly callCount: number;
  readonly readingCount: number;
}

export function headText(parts: HeadParts): string {
  const { site, day, prev, journal, calls, readings, entries, callCount, readingCount } = parts;
  return canonical({ site, day, prev, journal, calls, readings, entries, callCount, readingCount });
}
