// Tables of people, their sessions, what lets somebody in once, links, and the audit.

/** Tokens, codes and passwords are never here, only what they hash to. */
export const PEOPLE = `
CREATE TABLE people (
  id TEXT PRIMARY KEY, name TEXT NOT NULL, name_key TEXT NOT NULL, role TEXT NOT NULL, sites TEXT,
  password TEXT NOT NULL, made_ms INTEGER NOT NULL, removed_ms INTEGER
);
-- A name is free again when its person has gone; the audit and the journal keep it as it was written.
CREATE UNIQUE INDEX people_by_name ON people (name_key) WHERE removed_ms IS NULL;

-- Ended ones stay for a while: they tell a device that has been here before from one that has not.
CREATE TABLE sessions (
  id TEXT PRIMARY KEY, token_hash TEXT NOT NULL UNIQUE, device_hash TEXT NOT NULL, person TEXT, link TEXT,
  agent TEXT NOT NULL, address TEXT NOT NULL, made_ms INTEGER NOT NULL, seen_ms INTEGER NOT NULL, ended_ms INTEGER
);
CREATE INDEX sessions_by_person ON sessions (person, device_hash);
CREATE INDEX sessions_by_link ON sessions (link);

CREATE TABLE tickets (
  id TEXT PRIMARY KEY, hash TEXT NOT NULL UNIQUE, kind TEXT NOT NULL, role TEXT, sites TEXT, person TEXT, note TEXT,
  by TEXT, made_ms INTEGER NOT NULL, expires_ms INTEGER NOT NULL, used_ms INTEGER
);
CREATE TABLE links (
  id TEXT PRIMARY KEY, hash TEXT NOT NULL UNIQUE, role TEXT NOT NULL, site TEXT NOT NULL, zone TEXT, label TEXT NOT NULL,
  by TEXT, made_ms INTEGER NOT NULL, expires_ms INTEGER, seen_ms INTEGER, withdrawn_ms INTEGER
);

CREATE TABLE audit (
  seq INTEGER PRIMARY KEY AUTOINCREMENT, at_ms INTEGER NOT NULL, who TEXT, role TEXT, did TEXT NOT NULL, site TEXT,
  about TEXT NOT NULL, address TEXT NOT NULL
);
CREATE TRIGGER audit_stays BEFORE UPDATE ON audit BEGIN SELECT raise(ABORT, 'the audit is only added to'); END;
CREATE TRIGGER audit_is_kept BEFORE DELETE ON audit BEGIN SELECT raise(ABORT, 'the audit is only added to'); END;
`;
