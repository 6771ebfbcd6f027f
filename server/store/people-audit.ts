// The audit in the embedded database: lines are added and read; the table itself refuses anything else.
import type { Role } from "#contract/access.ts";
import type { PeopleStore } from "./people-ports.ts";
import type { Database } from "./sql.ts";

export function createAudit(db: Database): Pick<PeopleStore, "note" | "audit"> {
  const add = db.prepare(
    "INSERT INTO audit (at_ms, who, role, did, site, about, address) VALUES (?, ?, ?, ?, ?, ?, ?)",
  );
  const page = db.prepare(
    `SELECT seq, at_ms, who, role, did, site, about, address FROM audit
     WHERE seq < coalesce(?1, 9e15) AND (?2 IS NULL OR who = ?2) AND (?3 IS NULL OR site = ?3)
     ORDER BY seq DESC LIMIT ?4`,
  );
  return {
    note: ({ atMs, who, role, did, site, about, address }) => void add.run(atMs, who, role, did, site, about, address),
    audit: ({ before, who, site, limit }) =>
      page.all(before, who, site, limit).map(([seq, atMs, name, role, did, of, about, address]) => ({
        seq: seq as number,
        atMs: atMs as number,
        who: name as string | null,
        role: role as Role | null,
        did: did as string,
        site: of as string | null,
        about: about as string,
        address: address as string,
      })),
  };
}
