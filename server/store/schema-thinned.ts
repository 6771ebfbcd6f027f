// What age has taken away: series of closed days whose rows were thinned or deleted while their digest stands.

/** `rows_left` of a series that is being thinned is what was there before: never less than what is found. */
export const THINNED = `
CREATE TABLE thinned (
  site TEXT NOT NULL, day INTEGER NOT NULL, node TEXT NOT NULL, quantity TEXT NOT NULL,
  rows_left INTEGER NOT NULL, at_ms INTEGER NOT NULL,
  PRIMARY KEY (site, day, node, quantity)
) WITHOUT ROWID;
CREATE TABLE thinned_through (
  site TEXT NOT NULL, how TEXT NOT NULL, day INTEGER NOT NULL,
  PRIMARY KEY (site, how)
) WITHOUT ROWID;
`;
