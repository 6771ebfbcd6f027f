// The port of the door towards the alarms.
import type { AlarmBody, AlarmState } from "#contract/alarm.ts";
import type { Answer } from "./answer.ts";

export interface AlarmListWish {
  /** null = any. */
  readonly state: AlarmState | null;
  readonly fromMs: number | null;
  /** Id of the last alarm of the page before. */
  readonly before: string | null;
  readonly limit: number;
}

export interface AlarmDesk {
  /** Newest first. `before`: what to ask the next page with; null on the last. */
  alarms(
    site: string,
    wish: AlarmListWish,
  ): Answer<{ readonly alarms: readonly AlarmBody[]; readonly before: string | null }>;
  /** Conflict when it is over. Acknowledged twice, the first name stands. */
  acknowledgeAlarm(site: string, alarm: string, by: string | null): Answer<AlarmBody>;
  snoozeAlarm(site: string, alarm: string, by: string | null, untilMs: number): Answer<AlarmBody>;
}
