// Tables of telling people: contacts, browsers, the on-call order, deliveries, ways that fail, sirens.

/** A delivery stands once for each alarm, step, contact and way: its key. Secrets of web hooks and keys of browsers stand here. */
export const NOTIFY = `
CREATE TABLE contacts (id TEXT PRIMARY KEY, body TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE pushes (
  id TEXT PRIMARY KEY, contact TEXT NOT NULL, endpoint TEXT NOT NULL, p256dh TEXT NOT NULL, auth TEXT NOT NULL,
  device TEXT NOT NULL, made_ms INTEGER NOT NULL
) WITHOUT ROWID;
CREATE TABLE on_call (site TEXT PRIMARY KEY, contacts TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE deliveries (
  seq INTEGER PRIMARY KEY AUTOINCREMENT, key TEXT NOT NULL UNIQUE, kind TEXT NOT NULL, site TEXT NOT NULL,
  alarm TEXT, step TEXT, level TEXT NOT NULL, contact TEXT NOT NULL, way TEXT NOT NULL,
  state TEXT NOT NULL, tries INTEGER NOT NULL, made_ms INTEGER NOT NULL, not_before_ms INTEGER NOT NULL,
  next_try_ms INTEGER NOT NULL, sent_ms INTEGER, last_error TEXT, title TEXT NOT NULL, body TEXT NOT NULL,
  about TEXT, replied_ms INTEGER
);
CREATE INDEX deliveries_waiting ON deliveries (contact, way, seq) WHERE state IN ('queued', 'failed');
CREATE INDEX deliveries_by_site ON deliveries (site, seq);
CREATE INDEX deliveries_by_alarm ON deliveries (alarm, seq);
CREATE TABLE failing_ways (
  contact TEXT NOT NULL, way TEXT NOT NULL, since_ms INTEGER NOT NULL, times INTEGER NOT NULL, last_error TEXT NOT NULL,
  PRIMARY KEY (contact, way)
) WITHOUT ROWID;
-- Only the SHA-256 of a siren's password is kept.
CREATE TABLE sirens (
  site TEXT NOT NULL, siren TEXT NOT NULL, key TEXT NOT NULL, made_ms INTEGER NOT NULL,
  PRIMARY KEY (site, siren)
) WITHOUT ROWID;
`;
