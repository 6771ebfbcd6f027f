// Calendars and what stands in them, in the embedded database.
import type { Database } from "./sql.ts";

/** Only the SHA-256 of an address is kept. Events stay as they were told, so that a change can be seen as one. */
export const CALENDARS = `
CREATE TABLE calendars (
  id TEXT PRIMARY KEY, hash TEXT NOT NULL UNIQUE, site TEXT NOT NULL, person TEXT, label TEXT NOT NULL,
  language TEXT NOT NULL, made_ms INTEGER NOT NULL, seen_ms INTEGER
) WITHOUT ROWID;
CREATE TABLE calendar_events (
  site TEXT NOT NULL, uid TEXT NOT NULL, body TEXT NOT NULL,
  PRIMARY KEY (site, uid)
) WITHOUT ROWID;
`;

export interface CalendarRow {
  readonly id: string;
  readonly site: string;
  readonly person: string | null;
  readonly label: string;
  readonly language: "en" | "es";
  readonly madeMs: number;
  readonly seenMs: number | null;
}

const COLUMNS = "id, site, person, label, language, made_ms, seen_ms";
const rowOf = ([id, site, person, label, language, madeMs, seenMs]: readonly unknown[]): CalendarRow => ({
  id: id as string,
  site: site as string,
  person: person as string | null,
  label: label as string,
  language: language as "en" | "es",
  madeMs: madeMs as number,
  seenMs: seenMs as number | null,
});

/** What stands in a calendar; all but its name is kept as it is handed over. */
interface EventRow {
  readonly uid: string;
  readonly zone: string;
  readonly zoneName: string;
  readonly coat: number;
  readonly kind: "opens" | "closes" | "start-by" | "back" | "abrade" | "walk-on" | "traffic" | "water";
  readonly startMs: number;
  readonly endMs: number;
  readonly earliestMs: number | null;
  readonly chance: number | null;
  readonly sequence: number;
  readonly modifiedMs: number;
  readonly cancelledMs: number | null;
}

export interface CalendarStore {
  calendars(site: string): CalendarRow[];
  addCalendar(hash: string, calendar: CalendarRow): void;
  removeCalendar(id: string): void;
  calendarOf(hash: string): CalendarRow | null;
  calendarSeen(id: string, nowMs: number): void;
  events(site: string): EventRow[];
  putEvents(site: string, events: readonly EventRow[]): void;
}

export function createCalendarStore(db: Database): CalendarStore {
  const ofSite = db.prepare(`SELECT ${COLUMNS} FROM calendars WHERE site = ? ORDER BY made_ms, id`);
  const ofHash = db.prepare(`SELECT ${COLUMNS} FROM calendars WHERE hash = ?`);
  const add = db.prepare(
    "INSERT INTO calendars (id, hash, site, person, label, language, made_ms) VALUES (?, ?, ?, ?, ?, ?, ?)",
  );
  const remove = db.prepare("DELETE FROM calendars WHERE id = ?");
  const seen = db.prepare("UPDATE calendars SET seen_ms = ?2 WHERE id = ?1");
  const events = db.prepare("SELECT body FROM calendar_events WHERE site = ? ORDER BY uid");
  const clear = db.prepare("DELETE FROM calendar_events WHERE site = ?");
  const put = db.prepare("INSERT INTO calendar_events (site, uid, body) VALUES (?, ?, ?)");
  return {
    calendars: (site) => ofSite.all(site).map(rowOf),
    addCalendar: (hash, { id, site, person, label, language, madeMs }) =>
      void add.run(id, hash, site, person, label, language, madeMs),
    removeCalendar: (id) => void remove.run(id),
    calendarOf(hash) {
      const row = ofHash.get(hash);
      return row === undefined ? null : rowOf(row);
    },
    calendarSeen: (id, nowMs) => void seen.run(id, nowMs),
    events: (site) => events.all(site).map(([body]) => JSON.parse(body as string) as EventRow),
    putEvents(site, list) {
      db.together(() => {
        clear.run(site);
        for (const event of list) put.run(site, event.uid, JSON.stringify(event));
      });
    },
  };
}
