// The journal in the embedded database: entries are added, linked to the one before, and never changed.
import { bodyFromEntry, type EntryBody, entryFromBody } from "#contract/journal.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { entryLink } from "#core/record/chain.ts";
import type { Links } from "./links.ts";
import type { Database } from "./sql.ts";
import type { JournalStore } from "./ports.ts";

/** What a person said, without when it was heard, in one order of keys. */
function words(entry: JournalEntry): string {
  const said = Object.entries(entry).filter(([key]) => key !== "heardMs");
  return JSON.stringify(said.sort(([a], [b]) => (a < b ? -1 : 1)));
}

export function createJournal(db: Database, links: Links): JournalStore {
  const insert = db.prepare(
    `INSERT OR IGNORE INTO journal (id, site, zone, at_ms, heard_ms, who, body, day, prev_hash, hash)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const one = db.prepare("SELECT id, heard_ms, body FROM journal WHERE site = ? AND id = ?");
  const all = db.prepare("SELECT id, heard_ms, body FROM journal WHERE site = ? ORDER BY seq");
  const hashes = db.prepare("SELECT id, hash FROM journal WHERE site = ? ORDER BY seq");
  const entryOf = ([id, heardMs, body]: readonly unknown[]): JournalEntry =>
    entryFromBody(JSON.parse(body as string) as EntryBody, id as string, heardMs as number);
  return {
    append(site, entry) {
      const { id, zone, atMs, heardMs, by } = entry;
      const body = bodyFromEntry(entry);
      const link = links.next(site, heardMs, entryLink(site, body));
      const { day, prev, hash } = link;
      const added = insert.run(id, site, zone, atMs, heardMs, by, JSON.stringify(body), day, prev, hash);
      if (added.changes > 0) {
        links.added(site, link);
        return "stored";
      }
      const standing = one.get(site, id);
      return standing !== undefined && words(entryOf(standing)) === words(entry) ? "same" : "conflict";
    },
    entries: (site) => all.all(site).map(entryOf),
    hashes: (site) => new Map(hashes.all(site) as unknown as [string, string][]),
  };
}
