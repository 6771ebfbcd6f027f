// Which nodes are connected, as far as was heard, in the embedded database.
import type { Database } from "./sql.ts";
import type { Presence, PresenceStore } from "./ports.ts";

export function createPresence(db: Database): PresenceStore {
  const upsert = db.prepare(
    `INSERT INTO presence (site, node, presence, heard_ms) VALUES (?1, ?2, ?3, ?4)
     ON CONFLICT (site, node) DO UPDATE SET presence = ?3, heard_ms = ?4`,
  );
  const forget = db.prepare("UPDATE presence SET presence = 'unknown', heard_ms = ? WHERE presence = 'online'");
  const of = db.prepare("SELECT node, presence FROM presence WHERE site = ?");
  return {
    set: (site, node, presence, heardMs) => void upsert.run(site, node, presence, heardMs),
    forget: (heardMs) => void forget.run(heardMs),
    of: (site) => new Map(of.all(site).map(([node, presence]) => [node as string, presence as Presence])),
  };
}
