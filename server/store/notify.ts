// Deliveries in the embedded database: what is to be sent to whom, and what became of it. It survives a kill.
import type { AlarmBody } from "#contract/alarm.ts";
import { createContacts } from "./notify-contacts.ts";
import type { KeptDelivery, NotifyStore } from "./notify-ports.ts";
import type { Database, Row } from "./sql.ts";

const COLUMNS = `seq, key, kind, site, alarm, step, level, contact, way, state, tries, made_ms, not_before_ms,
  next_try_ms, sent_ms, last_error, title, body, about, replied_ms`;
/** A clock that was set back must not leave a try days ahead: none is planned further than this, ms. */
const FARTHEST_TRY_MS = 2 * 3_600_000;

function deliveryFrom(row: Row): KeptDelivery {
  const [seq, key, kind, site, alarm, step, level, contact, way, state, tries, madeMs, notBeforeMs, nextTryMs] = row;
  const [sentMs, lastError, title, body, about, repliedMs] = row.slice(14);
  return {
    ...{ seq, key, kind, site, alarm, step, level, contact, way, state, tries, madeMs, notBeforeMs, nextTryMs },
    ...{ sentMs, lastError, title, body, repliedMs },
    about: about === null ? null : (JSON.parse(about as string) as AlarmBody),
  } as KeptDelivery;
}

export function createNotifyStore(db: Database): NotifyStore {
  const one = (sql: string) => db.prepare(sql);
  const insert = one(
    `INSERT OR IGNORE INTO deliveries (key, kind, site, alarm, step, level, contact, way, state, tries, made_ms,
       not_before_ms, next_try_ms, title, body, about)
     VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, 'queued', 0, ?9, ?10, ?10, ?11, ?12, ?13)`,
  );
  const louder = one(
    `UPDATE deliveries SET level = 'wake', not_before_ms = ?2, next_try_ms = ?2
     WHERE key = ?1 AND level = 'tell' AND state = 'queued'`,
  );
  const waits = "state IN ('queued', 'failed')";
  const mayGo = `${waits} AND not_before_ms <= ?1 AND (next_try_ms <= ?1 OR next_try_ms > ?1 + ${FARTHEST_TRY_MS})`;
  const waysDue = one(`SELECT DISTINCT contact, way FROM deliveries WHERE ${mayGo}`);
  const due = one(
    `SELECT ${COLUMNS} FROM deliveries WHERE contact = ? AND way = ? AND ${waits} AND not_before_ms <= ? ORDER BY seq LIMIT ?`,
  );
  const delivery = one(`SELECT ${COLUMNS} FROM deliveries WHERE seq = ?`);
  const seqOf = one("SELECT seq FROM deliveries WHERE key = ?");
  const ofSite = one(
    `SELECT ${COLUMNS} FROM deliveries
     WHERE site = ?1 AND (?2 IS NULL OR alarm = ?2) AND (?3 IS NULL OR seq < ?3) ORDER BY seq DESC LIMIT ?4`,
  );
  const told = one("SELECT DISTINCT contact FROM deliveries WHERE alarm = ?2 AND site = ?1");
  const sent = one(
    "UPDATE deliveries SET state = 'sent', sent_ms = ?2, tries = tries + 1, last_error = NULL WHERE seq = ?1",
  );
  const failed = one(
    "UPDATE deliveries SET state = ?2, next_try_ms = ?3, tries = tries + 1, last_error = ?4 WHERE seq = ?1",
  );
  const postpone = one("UPDATE deliveries SET level = ?2, not_before_ms = ?3, next_try_ms = ?3 WHERE seq = ?1");
  const reply = one("UPDATE deliveries SET replied_ms = ?2 WHERE seq = ?1 AND replied_ms IS NULL");
  const waiting = one(`SELECT count(*), min(not_before_ms) FROM deliveries WHERE ${waits}`);
  const forget = one(`DELETE FROM deliveries WHERE made_ms < ? AND NOT (${waits})`);
  return {
    ...createContacts(db),
    add: (rows) =>
      db.together(() => {
        let added = 0;
        for (const row of rows) {
          const { key, kind, site, alarm, step, level, contact, way, madeMs, notBeforeMs, title, body, about } = row;
          const text = about === null ? null : JSON.stringify(about);
          const places = [key, kind, site, alarm, step, level, contact, way] as const;
          const { changes } = insert.run(...places, madeMs, notBeforeMs, title, body, text);
          added += changes;
          if (changes === 0 && level === "wake") louder.run(key, notBeforeMs);
        }
        return added;
      }),
    waysDue: (nowMs) =>
      waysDue.all(nowMs).map(([contact, way]) => ({ contact: contact as string, way: way as string })),
    due: (contact, way, nowMs, limit) => due.all(contact, way, nowMs, limit).map(deliveryFrom),
    delivery(seq) {
      const row = delivery.get(seq);
      return row === undefined ? null : deliveryFrom(row);
    },
    seqOf: (key) => (seqOf.get(key)?.[0] as number | undefined) ?? null,
    deliveries: (site, alarm, before, limit) => ofSite.all(site, alarm, before, limit).map(deliveryFrom),
    told: (site, alarm) => new Set(told.all(site, alarm).map(([contact]) => contact as string)),
    sent: (seqs, atMs) => db.together(() => seqs.forEach((seq) => sent.run(seq, atMs))),
    failed: (seqs, why, nextTryMs) =>
      db.together(() =>
        seqs.forEach((seq) => failed.run(seq, nextTryMs === null ? "given-up" : "failed", nextTryMs ?? 0, why)),
      ),
    postpone: (seq, level, notBeforeMs) => void postpone.run(seq, level, notBeforeMs),
    reply: (seq, atMs) => reply.run(seq, atMs).changes === 1,
    waiting() {
      const [count, oldestMs] = waiting.get() ?? [0, null];
      return { count: count as number, oldestMs: oldestMs as number | null };
    },
    forget: (beforeMs) => void forget.run(beforeMs),
    together: (work) => db.together(work),
  };
}
