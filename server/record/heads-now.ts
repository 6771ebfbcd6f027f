// The chain as it stands at one moment: links, heads of the closed days, and heads of the open ones as they would be now.
import { createHash } from "node:crypto";
import { type HeadParts, headText, NO_HASH, readingText, type SeriesDigest, seriesText } from "#core/record/chain.ts";
import type { ChainedRow, ChainSource, Head, KeptSeries } from "./ports.ts";

export const sha256 = (text: string | Uint8Array): string => createHash("sha256").update(text).digest("hex");

export function digestOf({ node, quantity, rows }: KeptSeries): SeriesDigest {
  const hash = createHash("sha256");
  for (const [atMs, value, heardMs] of rows) hash.update(readingText(node, quantity, atMs, value, heardMs), "utf8");
  return { node, quantity, count: rows.length, digest: hash.digest("hex") };
}

/** The head of a day from what stands in it. */
export function headFrom(
  site: string,
  day: string,
  prev: string,
  journal: readonly ChainedRow[],
  calls: readonly ChainedRow[],
  digests: readonly SeriesDigest[],
): HeadParts & { readonly head: string } {
  const last = (rows: readonly ChainedRow[]) => rows.filter((row) => row.day <= day).at(-1)?.hash ?? NO_HASH;
  const count = (rows: readonly ChainedRow[]) => rows.filter((row) => row.day === day).length;
  const parts: HeadParts = {
    site,
    day,
    prev,
    journal: last(journal),
    calls: last(calls),
    readings: sha256(seriesText(digests)),
    entries: count(journal),
    callCount: count(calls),
    readingCount: digests.reduce((sum, one) => sum + one.count, 0),
  };
  return { ...parts, head: sha256(headText(parts)) };
}

export interface ChainNow {
  readonly journal: readonly ChainedRow[];
  readonly calls: readonly ChainedRow[];
  readonly heads: readonly Head[];
  /** Readings heard before this belong to it, ms. */
  readonly beforeMs: number;
}

/**
 * Takes the chain at `cutMs`: everything heard afterwards has a later time. Links are taken at once; readings of an open
 * day are digested in parts, which others may work between.
 */
export async function chainNow(chain: ChainSource, site: string, cutMs: number): Promise<ChainNow> {
  const today = new Date(cutMs).toISOString().slice(0, 10);
  const closed = chain.heads(site);
  const open = chain.openDays(site, cutMs);
  const lastDay = [...open, today].sort().at(-1) as string;
  const journal = chain.journal(site, lastDay);
  const calls = chain.calls(site, lastDay);
  const heads: Head[] = [...closed];
  const beforeMs = cutMs + 1;
  for (const day of open) {
    const digests: SeriesDigest[] = [];
    for (const series of chain.readings(site, day, beforeMs)) {
      digests.push(digestOf(series));
      await new Promise((resolve) => setImmediate(resolve));
    }
    const prev = heads.at(-1)?.head ?? NO_HASH;
    heads.push({ ...headFrom(site, day, prev, journal, calls, digests), digests, closed: false });
  }
  return { journal, calls, heads, beforeMs };
}
