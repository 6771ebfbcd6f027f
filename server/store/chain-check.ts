// Checks the chain of evidence where it stands, in the database: links, digests of the readings, heads of closed days.
import { dayName, headText, NO_HASH, type SeriesDigest, seriesText, entryLink, linkText } from "#core/record/chain.ts";
import type { HeadParts } from "#core/record/chain.ts";
import { createHeads, digestOf } from "./heads.ts";
import { createKeptDays } from "./kept-days.ts";
import { sha256 } from "./links.ts";
import type { DayHead } from "./ports.ts";
import type { Database } from "./sql.ts";

export interface ChainSound {
  readonly site: string;
  readonly days: number;
  readonly entries: number;
  readonly calls: number;
  /** Readings that the digests of closed days vouch for. */
  readonly readings: number;
  /** Series of days whose digest stands while their rows were thinned since. */
  readonly thinned: number;
  readonly lastHead: string | null;
}

/** What is not as it was kept, in words. */
export class ChainBroken extends Error {}

/** Rows read at once: bodies of calls are long, and a year of them is more than the memory. */
const PAGE = 2000;
const PARTS = ["prev", "journal", "calls", "readings", "entries", "callCount", "readingCount"] as const;

interface DayLinks {
  readonly day: number;
  readonly last: string;
  readonly count: number;
}

/** Every link of one kind in its order; what each day ends with. */
function checkLinks(db: Database, table: "journal" | "calls", site: string): DayLinks[] {
  const page = db.prepare(
    `SELECT seq, day, body, prev_hash, hash FROM ${table} WHERE site = ? AND seq > ? ORDER BY seq LIMIT ${PAGE}`,
  );
  const days: { day: number; last: string; count: number }[] = [];
  let prev = NO_HASH;
  let seq = -1;
  for (;;) {
    const rows = page.all(site, seq) as unknown as (readonly [number, number, string, string | null, string | null])[];
    for (const [at, day, text, prevHash, hash] of rows) {
      const broken = (what: string) => new ChainBroken(`${site}: ${table} line ${at} (${dayName(day)}) ${what}`);
      if (prevHash !== prev) throw broken("does not follow the link before it");
      const body = JSON.parse(text) as object;
      if (hash !== sha256(linkText(prev, table === "journal" ? entryLink(site, body) : body)))
        throw broken("is not what was hashed");
      const last = days.at(-1);
      if (last !== undefined && day < last.day) throw broken("stands on an earlier day than the link before it");
      if (last?.day === day) Object.assign(last, { last: hash, count: last.count + 1 });
      else days.push({ day, last: hash, count: 1 });
      prev = hash;
      seq = at;
    }
    if (rows.length < PAGE) return days;
  }
}

function atDay(links: readonly DayLinks[], day: string): { readonly last: string; readonly count: number } {
  const until = links.filter((one) => dayName(one.day) <= day).at(-1);
  if (until === undefined) return { last: NO_HASH, count: 0 };
  return { last: until.last, count: dayName(until.day) === day ? until.count : 0 };
}

function checkReadings(head: DayHead, found: ReadonlyMap<string, SeriesDigest>, thinned: ReadonlyMap<string, number>) {
  const broken = (series: string, what: string) => new ChainBroken(`${head.site}: ${head.day} ${series}: ${what}`);
  const rest = new Map(found);
  for (const { node, quantity, count, digest } of head.digests) {
    const series = `${node}/${quantity}`;
    const now = rest.get(series);
    rest.delete(series);
    const left = thinned.get(series);
    if (left !== undefined) {
      if ((now?.count ?? 0) > left) throw broken(series, "has more readings than were left when it was thinned");
    } else if (now === undefined) throw broken(series, `its ${count} readings are missing`);
    else if (now.count !== count) throw broken(series, `has ${now.count} readings, and ${count} were kept`);
    else if (now.digest !== digest) throw broken(series, "a reading is not what was hashed");
  }
  for (const series of rest.keys()) throw broken(series, "no such series was kept on this day");
}

/** One line a site. Throws ChainBroken with the first thing that is not as it was. */
export function checkChain(db: Database): ChainSound[] {
  const heads = createHeads(db, createKeptDays(db));
  const sites = db.prepare(
    "SELECT id FROM sites UNION SELECT site FROM journal UNION SELECT site FROM day_heads ORDER BY 1",
  );
  return sites.all().map(([one]) => {
    const site = one as string;
    const journal = checkLinks(db, "journal", site);
    const calls = checkLinks(db, "calls", site);
    const closed = heads.heads(site);
    const leftOf = new Map<string, Map<string, number>>();
    for (const { day, node, quantity, left } of heads.thinned(site))
      leftOf.set(day, (leftOf.get(day) ?? new Map<string, number>()).set(`${node}/${quantity}`, left));
    let prev = NO_HASH;
    let thinned = 0;
    for (const head of closed) {
      const found = new Map(
        [...heads.readings(site, head.day)].map((series) => [`${series.node}/${series.quantity}`, digestOf(series)]),
      );
      const left = leftOf.get(head.day) ?? new Map<string, number>();
      checkReadings(head, found, left);
      thinned += left.size;
      const [entries, shown] = [atDay(journal, head.day), atDay(calls, head.day)];
      const fresh: HeadParts = {
        site,
        day: head.day,
        prev,
        journal: entries.last,
        calls: shown.last,
        readings: sha256(seriesText(head.digests)),
        entries: entries.count,
        callCount: shown.count,
        readingCount: head.digests.reduce((sum, { count }) => sum + count, 0),
      };
      for (const part of PARTS)
        if (head[part] !== fresh[part])
          throw new ChainBroken(`${site}: the head of ${head.day} says another ${part} than stands there`);
      if (head.head !== sha256(headText(fresh)))
        throw new ChainBroken(`${site}: the head of ${head.day} is not the hash of its parts`);
      prev = head.head;
    }
    const sum = (links: readonly DayLinks[]) => links.reduce((all, { count }) => all + count, 0);
    return {
      site,
      days: closed.length,
      entries: sum(journal),
      calls: sum(calls),
      readings: closed.reduce((all, { readingCount }) => all + readingCount, 0),
      thinned,
      lastHead: closed.at(-1)?.head ?? null,
    };
  });
}
