// What alarms hand on to whoever tells people, and what they hear back of the ways that fail.
import type { AlarmBody, AlarmStepBody } from "#contract/alarm.ts";

export interface AlarmTeller {
  /**
   * One step of an alarm, once: `alarm` as it stands after it. Must return at once and not throw; the way to people is
   * its own work. How often it was repeated is the number of `escalated` at the end of its history.
   */
  tell(site: string, alarm: AlarmBody, step: AlarmStepBody): void;
}

/** A way of telling people that does not work now; `about` names it in words that may be read by people. */
export interface FailingChannel {
  readonly about: string;
  readonly sinceMs: number;
}

/** Asked every minute. */
export interface ChannelWatch {
  failing(site: string): readonly FailingChannel[];
}
