// The journal of calls in the embedded database, and the stretches of time in which the server ran.
import type { CallBody } from "#contract/call.ts";
import { msFromIso } from "#contract/primitives.ts";
import type { Links } from "./links.ts";
import type { Database } from "./sql.ts";
import type { CallStore, RunStore } from "./ports.ts";

export function createCalls(db: Database, links: Links): CallStore {
  const insert = db.prepare(
    `INSERT INTO calls (site, zone, at_ms, heard_ms, body, day, prev_hash, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const since = db.prepare(
    `SELECT body, hash FROM calls WHERE site = ?1 AND zone = ?2 AND at_ms >=
       coalesce((SELECT max(at_ms) FROM calls WHERE site = ?1 AND zone = ?2 AND at_ms <= ?3), ?3)
     ORDER BY at_ms, seq`,
  );
  return {
    append(site, call) {
      const atMs = msFromIso(call.at);
      const link = links.next(site, atMs, call);
      insert.run(site, call.zone, atMs, atMs, JSON.stringify(call), link.day, link.prev, link.hash);
      links.added(site, link);
    },
    since: (site, zone, fromMs) =>
      since.all(site, zone, fromMs).map(([body]) => JSON.parse(body as string) as CallBody),
    linkedSince: (site, zone, fromMs) =>
      since
        .all(site, zone, fromMs)
        .map(([body, hash]) => ({ call: JSON.parse(body as string) as CallBody, hash: hash as string })),
  };
}

export function createRuns(db: Database): RunStore {
  const insert = db.prepare("INSERT INTO runs (started_ms, alive_ms) VALUES (?, ?)");
  const last = db.prepare("SELECT max(id) FROM runs");
  const update = db.prepare("UPDATE runs SET alive_ms = ? WHERE id = ?");
  const since = db.prepare("SELECT started_ms, alive_ms FROM runs WHERE alive_ms >= ? ORDER BY started_ms");
  return {
    begin: (startedMs) => void insert.run(startedMs, startedMs),
    alive: (atMs) => void update.run(atMs, last.get()?.[0] as number),
    since: (fromMs) =>
      since.all(fromMs).map(([startedMs, aliveMs]) => ({ startedMs: startedMs as number, aliveMs: aliveMs as number })),
  };
}
