// The embedded store: everything the server knows, in one database of one folder.
import { createCalls, createRuns } from "./calls.ts";
import { openDatabase, type OpenOptions } from "./database.ts";
import { createFeeds } from "./feeds.ts";
import { createJournal } from "./journal.ts";
import { createNodes } from "./nodes.ts";
import { createPeopleStore } from "./people.ts";
import type { Store } from "./ports.ts";
import { createPhotos } from "./photos.ts";
import { createPresence } from "./presence.ts";
import { createQuarantine } from "./quarantine.ts";
import { createReadings } from "./readings.ts";
import { createRecords } from "./records.ts";

export function openStore(folder: string, options: OpenOptions = {}): Store {
  const db = openDatabase(folder, options);
  return {
    readings: createReadings(db),
    journal: createJournal(db),
    calls: createCalls(db),
    runs: createRuns(db),
    records: createRecords(db),
    quarantine: createQuarantine(db),
    photos: createPhotos(db),
    presence: createPresence(db),
    feeds: createFeeds(db),
    people: createPeopleStore(db),
    nodes: createNodes(db),
    together: (work) => db.together(work),
    close: () => db.close(),
  };
}
