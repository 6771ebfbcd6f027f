// The chain of evidence in the database: which day kept what, and the heads of closed days.

/**
 * `heard_days` bounds the times of the readings that a day kept, to whole hours, so that a day is read along the key.
 * `late_kept` holds the few readings that were heard on a day already closed (a night file taken in, a clock set back):
 * they belong to the day that kept them, and the closed day stays as it was.
 */
export const CHAIN = `
ALTER TABLE journal ADD COLUMN day INTEGER;
ALTER TABLE calls ADD COLUMN day INTEGER;
CREATE INDEX journal_by_day ON journal (site, day);
CREATE INDEX calls_by_day ON calls (site, day);
CREATE TABLE heard_days (
  site TEXT NOT NULL, day INTEGER NOT NULL, from_ms INTEGER NOT NULL, to_ms INTEGER NOT NULL,
  PRIMARY KEY (site, day)
) WITHOUT ROWID;
INSERT INTO heard_days
  SELECT site, heard_ms / 86400000, min(at_ms) - 3600000, max(at_ms) + 3600000
  FROM readings JOIN series ON series.id = readings.series GROUP BY 1, 2;
CREATE TABLE late_kept (
  series INTEGER NOT NULL, at_ms INTEGER NOT NULL, day INTEGER NOT NULL,
  PRIMARY KEY (series, at_ms)
) WITHOUT ROWID;
CREATE TABLE day_heads (
  site TEXT NOT NULL, day INTEGER NOT NULL, head TEXT NOT NULL, body TEXT NOT NULL, digests TEXT NOT NULL,
  anchored_ms INTEGER,
  PRIMARY KEY (site, day)
) WITHOUT ROWID;
`;
