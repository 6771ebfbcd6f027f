// Alarms in the embedded database.
import type { AlarmBody } from "#contract/alarm.ts";
import { msFromIso } from "#contract/primitives.ts";
import type { AlarmStore } from "./alarms-port.ts";
import type { Database } from "./sql.ts";

const NEVER_MS = -8.64e15;
const EVER_MS = 8.64e15;

export function createAlarmStore(db: Database): AlarmStore {
  const machine = db.prepare("SELECT body FROM alarm_machines WHERE site = ?");
  const putMachine = db.prepare("INSERT OR REPLACE INTO alarm_machines (site, at_ms, body) VALUES (?, ?, ?)");
  const put = db.prepare("INSERT OR REPLACE INTO alarms (site, id, raised_ms, state, body) VALUES (?, ?, ?, ?, ?)");
  const addEvent = db.prepare("INSERT INTO alarm_events (site, alarm, at_ms, step, body) VALUES (?, ?, ?, ?, ?)");
  const one = db.prepare("SELECT body FROM alarms WHERE site = ? AND id = ?");
  const page = db.prepare(
    `SELECT body FROM alarms
     WHERE site = ?1 AND (?2 IS NULL OR state = ?2) AND raised_ms >= ?3 AND (raised_ms, id) < (?4, ?5)
     ORDER BY raised_ms DESC, id DESC LIMIT ?6`,
  );
  return {
    machine(site) {
      const row = machine.get(site);
      return row === undefined ? null : (JSON.parse(row[0] as string) as unknown);
    },
    keep: (site, atMs, body, events) =>
      db.together(() => {
        for (const { alarm, step } of events) {
          addEvent.run(site, alarm.id, msFromIso(step.at), step.step, JSON.stringify(step));
          put.run(site, alarm.id, msFromIso(alarm.raisedAt), alarm.state, JSON.stringify(alarm));
        }
        putMachine.run(site, atMs, JSON.stringify(body));
      }),
    page: (site, { state, fromMs, before, limit }) =>
      page
        .all(site, state, fromMs ?? NEVER_MS, before?.raisedMs ?? EVER_MS, before?.id ?? "", limit)
        .map(([body]) => JSON.parse(body as string) as AlarmBody),
    find(site, id) {
      const row = one.get(site, id);
      return row === undefined ? null : (JSON.parse(row[0] as string) as AlarmBody);
    },
  };
}
