// The outbox in the database: what is still due at the time-series engine, and what it refused.

/**
 * `outbox_due` names readings in the order in which they were heard; their values stand in `readings`. `outbox_history`
 * names what had been kept before there was a target: it is read along the key, series by series.
 */
export const OUTBOX = `
CREATE TABLE outbox_target (
  one INTEGER PRIMARY KEY CHECK (one = 1), target TEXT, calls_seq INTEGER NOT NULL
);
INSERT INTO outbox_target VALUES (1, NULL, 0);
CREATE TABLE outbox_due (seq INTEGER PRIMARY KEY, series INTEGER NOT NULL, at_ms INTEGER NOT NULL);
CREATE INDEX outbox_due_by_time ON outbox_due (at_ms);
CREATE TABLE outbox_history (series INTEGER PRIMARY KEY, next_ms INTEGER NOT NULL, to_ms INTEGER NOT NULL);
CREATE TABLE outbox_refused (
  id INTEGER PRIMARY KEY, line TEXT NOT NULL, reason TEXT NOT NULL, refused_ms INTEGER NOT NULL
);
`;
