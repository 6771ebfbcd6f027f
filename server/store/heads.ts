// Heads of days: what the journal, the calls and the readings of a day came to, each head upon the one before it.
import { createHash } from "node:crypto";
import {
  dayFromName,
  dayName,
  dayOf,
  dayStartMs,
  type HeadParts,
  headText,
  NO_HASH,
  readingText,
  type SeriesDigest,
  seriesText,
} from "#core/record/chain.ts";
import type { KeptDays } from "./kept-days.ts";
import { sha256 } from "./links.ts";
import type { ChainedRow, DayHead, HeadStore, KeptReading, KeptSeries } from "./ports.ts";
import type { Database } from "./sql.ts";

export function createHeads(db: Database, days: KeptDays): HeadStore {
  const heads = db.prepare("SELECT body, head, digests, anchored_ms FROM day_heads WHERE site = ? ORDER BY day");
  const lastHead = db.prepare("SELECT head, day FROM day_heads WHERE site = ? AND day < ? ORDER BY day DESC LIMIT 1");
  const openDays = db.prepare(
    `SELECT DISTINCT day FROM (SELECT day FROM journal WHERE site = ?1 UNION SELECT day FROM calls WHERE site = ?1
       UNION SELECT day FROM heard_days WHERE site = ?1)
     WHERE day < ?2 AND day > coalesce((SELECT max(day) FROM day_heads WHERE site = ?1), -1e9) ORDER BY day`,
  );
  const allSites = db.prepare("SELECT DISTINCT id FROM sites ORDER BY id");
  const bounds = db.prepare("SELECT from_ms, to_ms FROM heard_days WHERE site = ? AND day = ?");
  const seriesOf = db.prepare("SELECT id, node, quantity FROM series WHERE site = ? ORDER BY node, quantity");
  const readings = db.prepare(
    `SELECT at_ms, value, heard_ms FROM readings AS one WHERE series = ?1 AND at_ms BETWEEN ?2 AND ?3
       AND heard_ms >= ?4 AND heard_ms < ?5
       AND NOT EXISTS (SELECT 1 FROM late_kept AS late WHERE late.series = ?1 AND late.at_ms = one.at_ms)
     UNION ALL
     SELECT at_ms, value, heard_ms FROM readings WHERE series = ?1
       AND at_ms IN (SELECT at_ms FROM late_kept WHERE series = ?1 AND day = ?6) AND heard_ms < ?7
     ORDER BY at_ms`,
  );
  const insert = db.prepare("INSERT INTO day_heads (site, day, head, body, digests) VALUES (?, ?, ?, ?, ?)");
  const anchor = db.prepare("UPDATE day_heads SET anchored_ms = ? WHERE site = ? AND day = ?");
  const thinned = db.prepare(
    "SELECT day, node, quantity, rows_left, at_ms FROM thinned WHERE site = ? ORDER BY day, node, quantity",
  );
  const rowsOf = (table: "journal" | "calls") =>
    db.prepare(`SELECT day, body, prev_hash, hash FROM ${table} WHERE site = ? AND day <= ? ORDER BY seq`);
  const tailOf = (table: "journal" | "calls") => ({
    last: db.prepare(`SELECT hash FROM ${table} WHERE site = ? AND day <= ? ORDER BY seq DESC LIMIT 1`),
    count: db.prepare(`SELECT count(*) FROM ${table} WHERE site = ? AND day = ?`),
  });
  const rows = { journal: rowsOf("journal"), calls: rowsOf("calls") };
  const tails = { journal: tailOf("journal"), calls: tailOf("calls") };
  const linked = (table: "journal" | "calls", site: string, day: number): ChainedRow[] =>
    rows[table].all(site, day).map(([of, body, prev, hash]) => ({
      day: dayName(of as number),
      body: JSON.parse(body as string) as object,
      prev: prev as string,
      hash: hash as string,
    }));

  function* kept(site: string, day: number, beforeMs: number): Generator<KeptSeries> {
    const span = bounds.get(site, day);
    if (span === undefined) return;
    const untilMs = Math.min(dayStartMs(day + 1), beforeMs);
    for (const [id, node, quantity] of seriesOf.all(site) as unknown as (readonly [number, string, string])[]) {
      const found = readings.all(id, span[0] as number, span[1] as number, dayStartMs(day), untilMs, day, beforeMs);
      if (found.length > 0) yield { node, quantity, rows: found as unknown as KeptReading[] };
    }
  }

  const partsOf = (site: string, day: number, digests: readonly SeriesDigest[]): HeadParts => {
    const tail = (of: "journal" | "calls") => (tails[of].last.get(site, day)?.[0] ?? NO_HASH) as string;
    return {
      site,
      day: dayName(day),
      prev: (lastHead.get(site, day)?.[0] ?? NO_HASH) as string,
      journal: tail("journal"),
      calls: tail("calls"),
      readings: sha256(seriesText(digests)),
      entries: tails.journal.count.get(site, day)?.[0] as number,
      callCount: tails.calls.count.get(site, day)?.[0] as number,
      readingCount: digests.reduce((sum, { count }) => sum + count, 0),
    };
  };

  return {
    heads: (site) =>
      heads.all(site).map(([body, head, digests, anchoredMs]) => ({
        ...(JSON.parse(body as string) as HeadParts),
        head: head as string,
        digests: JSON.parse(digests as string) as SeriesDigest[],
        closed: true,
        anchoredMs: anchoredMs as number | null,
      })),
    journal: (site, throughDay) => linked("journal", site, dayFromName(throughDay)),
    calls: (site, throughDay) => linked("calls", site, dayFromName(throughDay)),
    *readings(site, day, beforeMs = Number.MAX_SAFE_INTEGER) {
      yield* kept(site, dayFromName(day), beforeMs);
    },
    openDays: (site, nowMs) => openDays.all(site, dayOf(nowMs) + 1).map(([day]) => dayName(day as number)),
    async closeDays(nowMs, isStopped) {
      const closed: DayHead[] = [];
      for (const [site] of allSites.all() as unknown as (readonly [string])[]) {
        for (const [day] of openDays.all(site, dayOf(nowMs)) as unknown as (readonly [number])[]) {
          // From here on the day takes nothing more, so that it may be read in parts.
          days.shut(site, day);
          const digests: SeriesDigest[] = [];
          for (const series of kept(site, day, Number.MAX_SAFE_INTEGER)) {
            digests.push(digestOf(series));
            await new Promise((resolve) => setImmediate(resolve));
            if (isStopped()) return closed;
          }
          const parts = partsOf(site, day, digests);
          const head = sha256(headText(parts));
          db.together(() => insert.run(site, day, head, JSON.stringify(parts), JSON.stringify(digests)));
          closed.push({ ...parts, head, digests, closed: true, anchoredMs: null });
        }
      }
      return closed;
    },
    thinned: (site) =>
      thinned.all(site).map(([day, node, quantity, left, atMs]) => ({
        day: dayName(day as number),
        node: node as string,
        quantity: quantity as string,
        left: left as number,
        thinnedMs: atMs as number,
      })),
    anchored: (site, day, atMs) => void anchor.run(atMs, site, dayFromName(day)),
  };
}

export function digestOf({ node, quantity, rows }: KeptSeries): SeriesDigest {
  const hash = createHash("sha256");
  for (const [atMs, value, heardMs] of rows) hash.update(readingText(node, quantity, atMs, value, heardMs), "utf8");
  return { node, quantity, count: rows.length, digest: hash.digest("hex") };
}
