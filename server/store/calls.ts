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

interface Run {
  readonly startedMs: number;
  readonly aliveMs: number;
}

export function createRuns(db: Database): RunStore {
  const insert = db.prepare("INSERT INTO runs (started_ms, alive_ms) VALUES (?, ?)");
  const last = db.prepare("SELECT max(id) FROM runs");
  const update = db.prepare("UPDATE runs SET alive_ms = ? WHERE id = ?");
  const all = db.prepare("SELECT started_ms, alive_ms FROM runs ORDER BY started_ms");
  // Asked for with every zone of a board; only the last run ever changes.
  let known: Run[] | null = null;
  db.onUndone(() => (known = null));
  const runs = (): Run[] =>
    (known ??= all
      .all()
      .map(([startedMs, aliveMs]) => ({ startedMs: startedMs as number, aliveMs: aliveMs as number })));
  return {
    begin(startedMs) {
      insert.run(startedMs, startedMs);
      known = null;
    },
    alive(atMs) {
      update.run(atMs, last.get()?.[0] as number);
      known = null;
    },
    since: (fromMs) => runs().filter(({ aliveMs }) => aliveMs >= fromMs),
  };
}
