// The schema of what lets nodes in: join secrets, own keys, knocks, what is held of newcomers, and recipes of their payloads.

/** Versions of the list of recipes stand in a table of the usual form, which `schema.ts` makes. */
export const NODE_ACCESS = `
CREATE TABLE join_secrets (site TEXT PRIMARY KEY, secret TEXT NOT NULL, from_ms INTEGER NOT NULL) WITHOUT ROWID;
-- Only the SHA-256 of a node's password is kept.
CREATE TABLE node_keys (
  site TEXT NOT NULL, node TEXT NOT NULL, key TEXT NOT NULL, from_ms INTEGER NOT NULL,
  PRIMARY KEY (site, node)
) WITHOUT ROWID;
CREATE TABLE knocks (
  site TEXT NOT NULL, node TEXT NOT NULL, body TEXT NOT NULL, address TEXT, state TEXT NOT NULL,
  first_ms INTEGER NOT NULL, last_ms INTEGER NOT NULL, times INTEGER NOT NULL, others INTEGER NOT NULL,
  PRIMARY KEY (site, node)
) WITHOUT ROWID;
CREATE TABLE held (
  seq INTEGER PRIMARY KEY AUTOINCREMENT, site TEXT NOT NULL, node TEXT NOT NULL,
  topic TEXT NOT NULL, payload TEXT NOT NULL, heard_ms INTEGER NOT NULL
);
CREATE INDEX held_by_node ON held (site, node);
CREATE TABLE node_lives (
  site TEXT NOT NULL, node TEXT NOT NULL, retired_ms INTEGER NOT NULL, replaced_by TEXT,
  PRIMARY KEY (site, node)
) WITHOUT ROWID;
-- A device that was carried to another zone goes on there as another node; what it measured before stays where it was.
CREATE TABLE devices (
  site TEXT NOT NULL, device TEXT NOT NULL, from_ms INTEGER NOT NULL, node TEXT NOT NULL,
  PRIMARY KEY (site, device, from_ms)
) WITHOUT ROWID;
`;
