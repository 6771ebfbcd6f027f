// The schema, as the steps that lead to it. A step that has been shipped is never changed.
import type { Migration } from "./migrate.ts";
import { ALARMS } from "./schema-alarms.ts";
import { CALENDARS } from "./calendars.ts";
import { CHAIN } from "./schema-chain.ts";
import { OUTBOX } from "./schema-outbox.ts";
import { PEOPLE } from "./people-schema.ts";
import { PHOTOS_SCHEMA } from "./photos.ts";
import { SUMS } from "./schema-sums.ts";
import { THINNED } from "./schema-thinned.ts";
import { NODE_ACCESS } from "./schema-nodes.ts";
import { NOTIFY } from "./notify-schema.ts";
import { OFFICE } from "./office.ts";

/** Versions of what a person sets up: the newest of an id stands, a body of NULL says that it was removed. */
const versions = (table: string) => `
CREATE TABLE ${table} (
  site TEXT NOT NULL, id TEXT NOT NULL, version INTEGER NOT NULL, from_ms INTEGER NOT NULL, body TEXT,
  PRIMARY KEY (site, id, version)
) WITHOUT ROWID;`;

const FIRST = `
${["sites", "sheets", "zones", "nodes"].map(versions).join("\n")}

CREATE TABLE series (
  id INTEGER PRIMARY KEY, site TEXT NOT NULL, node TEXT NOT NULL, quantity TEXT NOT NULL,
  UNIQUE (site, node, quantity)
);
-- 25 bytes a row; with a row id it would be twice that, and summaries five times slower.
CREATE TABLE readings (
  series INTEGER NOT NULL, at_ms INTEGER NOT NULL, value REAL NOT NULL, heard_ms INTEGER NOT NULL,
  PRIMARY KEY (series, at_ms)
) WITHOUT ROWID;

CREATE TABLE journal (
  seq INTEGER PRIMARY KEY AUTOINCREMENT, id TEXT NOT NULL, site TEXT NOT NULL, zone TEXT,
  at_ms INTEGER NOT NULL, heard_ms INTEGER NOT NULL, who TEXT, body TEXT NOT NULL,
  prev_hash TEXT, hash TEXT,
  UNIQUE (site, id)
);
CREATE TABLE calls (
  seq INTEGER PRIMARY KEY AUTOINCREMENT, site TEXT NOT NULL, zone TEXT NOT NULL,
  at_ms INTEGER NOT NULL, heard_ms INTEGER NOT NULL, body TEXT NOT NULL,
  prev_hash TEXT, hash TEXT
);
CREATE INDEX calls_by_time ON calls (site, zone, at_ms);
CREATE TABLE runs (id INTEGER PRIMARY KEY AUTOINCREMENT, started_ms INTEGER NOT NULL, alive_ms INTEGER NOT NULL);

CREATE TABLE quarantine (
  site TEXT NOT NULL, node TEXT NOT NULL, reason TEXT NOT NULL, field TEXT NOT NULL, excerpt TEXT NOT NULL,
  count INTEGER NOT NULL, first_ms INTEGER NOT NULL, last_ms INTEGER NOT NULL,
  PRIMARY KEY (site, node, reason)
) WITHOUT ROWID;
CREATE TABLE presence (
  site TEXT NOT NULL, node TEXT NOT NULL, presence TEXT NOT NULL, heard_ms INTEGER NOT NULL,
  PRIMARY KEY (site, node)
) WITHOUT ROWID;
CREATE TABLE feed_fetches (
  site TEXT NOT NULL, fetched_ms INTEGER NOT NULL, body TEXT NOT NULL,
  PRIMARY KEY (site, fetched_ms)
) WITHOUT ROWID;
`;

/** Recipes of weather feeds, and which of them a fetch was read by: without one, by whatever stood before recipes did. */
const FEED_RECIPES = `
${versions("feed_recipes")}
ALTER TABLE feed_fetches ADD COLUMN recipe INTEGER;
`;

export const MIGRATIONS: readonly Migration[] = [
  { number: 1, name: "first schema", sql: FIRST },
  { number: 2, name: "recipes of weather feeds", sql: FEED_RECIPES },
  { number: 3, name: "letting nodes in", sql: `${versions("node_recipes")}${NODE_ACCESS}` },
  { number: 4, name: "pictures of the record", sql: PHOTOS_SCHEMA },
  { number: 5, name: "people, sessions, links and the audit", sql: PEOPLE },
  { number: 6, name: "the chain of evidence", sql: CHAIN },
  { number: 7, name: "the outbox to a time-series engine", sql: OUTBOX },
  { number: 8, name: "plans of sites", sql: versions("plans") },
  { number: 9, name: "telling people", sql: NOTIFY },
  { number: 10, name: "what age has taken away", sql: THINNED },
  { number: 11, name: "alarms", sql: ALARMS },
  { number: 12, name: "what an office heard of many sites", sql: OFFICE },
  { number: 13, name: "calendars", sql: CALENDARS },
  { number: 14, name: "sums of readings", sql: SUMS },
];
