// Sums of readings in the database: what charts of months are drawn from. Derived, never evidence; they may go at any time.

/**
 * A row holds the sums of one series over half a day. NULL: to be made anew, read the readings. Empty: nothing worth
 * holding, read the readings. Whoever stores a reading of a time before `sums_before` must void the row of its half day in
 * the same transaction; whatever takes one away or changes it, by whatever program, voids it here.
 */
export const SUMS = `
CREATE TABLE sums (
  series INTEGER NOT NULL, half_day INTEGER NOT NULL, body BLOB,
  PRIMARY KEY (series, half_day)
);
CREATE INDEX sums_due ON sums (series, half_day) WHERE body IS NULL;
CREATE TABLE sums_before (one INTEGER PRIMARY KEY CHECK (one = 1), before_ms INTEGER NOT NULL);
INSERT INTO sums_before VALUES (1, 0);
CREATE TRIGGER sums_reading_gone AFTER DELETE ON readings BEGIN
  UPDATE sums SET body = NULL
  WHERE series = old.series AND half_day = old.at_ms / 43200000 AND body IS NOT NULL;
END;
CREATE TRIGGER sums_reading_changed AFTER UPDATE ON readings BEGIN
  UPDATE sums SET body = NULL
  WHERE body IS NOT NULL AND ((series = old.series AND half_day = old.at_ms / 43200000)
    OR (series = new.series AND half_day = new.at_ms / 43200000));
END;
`;
