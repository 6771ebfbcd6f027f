// Tables of alarms: each as it stands, what became of it step by step, and the machine of a site as the last run left it.

export const ALARMS = `
CREATE TABLE alarms (
  site TEXT NOT NULL, id TEXT NOT NULL, raised_ms INTEGER NOT NULL, state TEXT NOT NULL, body TEXT NOT NULL,
  PRIMARY KEY (site, id)
) WITHOUT ROWID;
CREATE INDEX alarms_by_time ON alarms (site, raised_ms, id);
-- Only ever added to.
CREATE TABLE alarm_events (
  seq INTEGER PRIMARY KEY AUTOINCREMENT, site TEXT NOT NULL, alarm TEXT NOT NULL, at_ms INTEGER NOT NULL,
  step TEXT NOT NULL, body TEXT NOT NULL
);
CREATE INDEX alarm_events_by_alarm ON alarm_events (site, alarm, seq);
CREATE TABLE alarm_machines (site TEXT PRIMARY KEY, at_ms INTEGER NOT NULL, body TEXT NOT NULL) WITHOUT ROWID;
`;
