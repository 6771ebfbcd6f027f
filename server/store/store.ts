// The embedded store: everything the server knows, in one database of one folder.
import { createAlarmStore } from "./alarms.ts";
import type { AlarmStore } from "./alarms-port.ts";
import { type CalendarStore, createCalendarStore } from "./calendars.ts";
import { createCalls, createRuns } from "./calls.ts";
import { openDatabase, type OpenOptions } from "./database.ts";
import { createFeeds } from "./feeds.ts";
import { createHeads } from "./heads.ts";
import { createJournal } from "./journal.ts";
import { createKeptDays } from "./kept-days.ts";
import { createLinks, linkUnlinked } from "./links.ts";
import { createNodes } from "./nodes.ts";
import { createNotifyStore } from "./notify.ts";
import type { NotifyStore } from "./notify-ports.ts";
import { createOfficeStore } from "./office.ts";
import { createMakeSums, type MakeSums } from "./make-sums.ts";
import { createOutbox, type Outbox } from "./outbox.ts";
import { createPeopleStore } from "./people.ts";
import type { Store } from "./ports.ts";
import { createPhotos } from "./photos.ts";
import { createPresence } from "./presence.ts";
import { createQuarantine } from "./quarantine.ts";
import { createReadRange } from "./read-range.ts";
import { createReadSums } from "./read-sums.ts";
import { createReadings } from "./readings.ts";
import { createRetention, type Retention } from "./retention.ts";
import { createRecords } from "./records.ts";
import { createSums } from "./sums.ts";

export interface EmbeddedStore extends Store {
  readonly outbox: Outbox;
  readonly retention: Retention;
  readonly sums: MakeSums;
  readonly notify: NotifyStore;
  readonly alarms: AlarmStore;
  readonly calendars: CalendarStore;
  readonly office: ReturnType<typeof createOfficeStore>;
}

export function openStore(folder: string, options: OpenOptions = {}): EmbeddedStore {
  const db = openDatabase(folder, options);
  linkUnlinked(db);
  const days = createKeptDays(db);
  const outbox = createOutbox(db);
  const heads = createHeads(db, days);
  const sums = createSums(db);
  const reads = createReadSums(db);
  return {
    readings: createReadings(db, { days, outbox, sums, reads, ranges: createReadRange(db) }),
    journal: createJournal(db, createLinks(db, "journal", days)),
    calls: createCalls(db, createLinks(db, "calls", days)),
    runs: createRuns(db),
    records: createRecords(db),
    quarantine: createQuarantine(db),
    photos: createPhotos(db),
    presence: createPresence(db),
    feeds: createFeeds(db),
    heads,
    retention: createRetention(db, heads),
    sums: createMakeSums(db, sums, reads),
    people: createPeopleStore(db),
    nodes: createNodes(db),
    notify: createNotifyStore(db),
    alarms: createAlarmStore(db),
    calendars: createCalendarStore(db),
    office: createOfficeStore(db),
    outbox,
    together: (work) => db.together(work),
    close: () => db.close(),
  };
}
