// Links of the journal and of the calls: each carries the hash of the one before it, site by site.
import { createHash } from "node:crypto";
import { dayOf, entryLink, linkText, NO_HASH } from "#core/record/chain.ts";
import type { KeptDays } from "./kept-days.ts";
import type { Database, Value } from "./sql.ts";

export const sha256 = (text: string): string => createHash("sha256").update(text, "utf8").digest("hex");

export interface Link {
  readonly day: number;
  readonly prev: string;
  readonly hash: string;
}

export interface Links {
  /** The link that comes next, for a body heard at this time. */
  next(site: string, heardMs: number, body: object): Link;
  /** It is in the table: the one after it is linked to it. */
  added(site: string, link: Link): void;
}

export function createLinks(db: Database, table: "journal" | "calls", days: KeptDays): Links {
  const last = db.prepare(`SELECT hash, day FROM ${table} WHERE site = ? ORDER BY seq DESC LIMIT 1`);
  const lasts = new Map<string, { readonly hash: string; readonly day: number }>();
  db.onUndone(() => lasts.clear());
  const lastOf = (site: string) => {
    const known = lasts.get(site);
    if (known !== undefined) return known;
    const row = last.get(site);
    const found =
      row === undefined
        ? { hash: NO_HASH, day: Number.NEGATIVE_INFINITY }
        : { hash: row[0] as string, day: row[1] as number };
    lasts.set(site, found);
    return found;
  };
  return {
    next(site, heardMs, body) {
      const { hash: prev, day } = lastOf(site);
      return { day: Math.max(day, days.dayFor(site, heardMs)), prev, hash: sha256(linkText(prev, body)) };
    },
    added: (site, { hash, day }) => void lasts.set(site, { hash, day }),
  };
}

/** Links what an earlier program kept without: once, at the first start after it. */
export function linkUnlinked(db: Database): void {
  for (const table of ["journal", "calls"] as const) {
    const rows = db.prepare(`SELECT seq, site, heard_ms, body FROM ${table} WHERE hash IS NULL ORDER BY seq`).all();
    if (rows.length === 0) continue;
    const update = db.prepare(`UPDATE ${table} SET prev_hash = ?, hash = ?, day = ? WHERE seq = ?`);
    const lasts = new Map<string, { hash: string; day: number }>();
    db.together(() => {
      for (const [seq, site, heardMs, text] of rows as (readonly [number, string, number, string])[]) {
        const before = lasts.get(site) ?? { hash: NO_HASH, day: Number.NEGATIVE_INFINITY };
        const body = JSON.parse(text) as object;
        const hash = sha256(linkText(before.hash, table === "journal" ? entryLink(site, body) : body));
        const link = { hash, day: Math.max(before.day, dayOf(heardMs)) };
        update.run(...([before.hash, hash, link.day, seq] as Value[]));
        lasts.set(site, link);
      }
    });
  }
}
