// What was refused, counted per node and reason; bounded, however much nonsense arrives.
import type { Database } from "./sql.ts";
import type { QuarantineStore, Refused } from "./ports.ts";

/** Lines kept one by one; what comes on top of that is counted under one name. */
const MOST_LINES = 2000;
const CROWD = { site: "(others)", node: "(others)", reason: "too many to list" } as const;

export function createQuarantine(db: Database): QuarantineStore {
  const count = db.prepare("SELECT count(*) FROM quarantine");
  const find = db.prepare("SELECT 1 FROM quarantine WHERE site = ? AND node = ? AND reason = ?");
  const upsert = db.prepare(
    `INSERT INTO quarantine (site, node, reason, field, excerpt, count, first_ms, last_ms) VALUES (?1, ?2, ?3, ?4, ?5, 1, ?6, ?6)
     ON CONFLICT (site, node, reason) DO UPDATE SET count = count + 1, field = ?4, excerpt = ?5, last_ms = ?6`,
  );
  const list = db.prepare(
    "SELECT site, node, reason, field, excerpt, count, first_ms, last_ms FROM quarantine WHERE site = ? ORDER BY last_ms DESC, node, reason",
  );
  const add = (refused: Refused, heardMs: number) => {
    const known = find.get(refused.site, refused.node, refused.reason) !== undefined;
    const { site, node, reason } = known || (count.get()?.[0] as number) < MOST_LINES ? refused : CROWD;
    upsert.run(site, node, reason, refused.field, refused.excerpt, heardMs);
  };
  return {
    add: (refused, heardMs) => {
      for (const one of refused) add(one, heardMs);
    },
    list: (site) =>
      list.all(site).map(([of, node, reason, field, excerpt, times, firstMs, lastMs]) => ({
        site: of as string,
        node: node as string,
        reason: reason as string,
        field: field as string,
        excerpt: excerpt as string,
        count: times as number,
        firstMs: firstMs as number,
        lastMs: lastMs as number,
      })),
  };
}
