// Alarms for tests of doors and screens.
import type { AlarmBody } from "#contract/alarm.ts";

export function sampleAlarm(more: Partial<AlarmBody> = {}): AlarmBody {
  const raisedAt = more.raisedAt ?? "2026-02-03T11:40:00Z";
  const level = more.level ?? "wake";
  return {
    id: "a1",
    site: "boathouse",
    kind: "margin-ahead",
    level,
    state: "open",
    zones: ["slip"],
    raisedAt,
    changedAt: raisedAt,
    clearedAt: null,
    acknowledgedBy: null,
    acknowledgedAt: null,
    snoozedUntil: null,
    facts: { expectedAt: "2026-02-04T03:10:00Z", chance: 0.64, measured: 1.2, limit: 3, unit: "K", about: null },
    history: [{ at: raisedAt, step: "raised", by: null, level }],
    ...more,
  };
}

export interface AlarmReply {
  readonly by: string | null;
  readonly untilAt?: string | null;
}

/** As the server answers: acknowledged, or put off where a time is given. */
export function answeredAlarm(alarm: AlarmBody, { by, untilAt = null }: AlarmReply, at: string): AlarmBody {
  return untilAt === null
    ? { ...alarm, state: "acknowledged", acknowledgedBy: by, acknowledgedAt: at }
    : { ...alarm, state: "snoozed", snoozedUntil: untilAt };
}
