// What the alarms page asks of the server. Loaded after the board.
import type { AlarmBody, AlarmState } from "#contract/alarm.ts";
import type { DeliveryBody } from "#contract/notify.ts";
import { ask, change } from "./api.ts";

const at = (site: string) => `/sites/${encodeURIComponent(site)}`;
const ofAlarm = (site: string, alarm: string) => `${at(site)}/alarms/${encodeURIComponent(alarm)}`;

export interface AlarmPage {
  readonly alarms: readonly AlarmBody[];
  /** Asks for the next page; null on the last. */
  readonly before: string | null;
}

const STANDING: readonly AlarmState[] = ["open", "acknowledged", "snoozed"];

export const alarmsApi = {
  /** All that are not over. */
  async standing(site: string): Promise<readonly AlarmBody[]> {
    const pages = await Promise.all(
      STANDING.map((state) => ask<AlarmPage>(`${at(site)}/alarms?state=${state}&limit=500`)),
    );
    return pages.flatMap(({ alarms }) => alarms);
  },
  /** Those that are over, newest first. */
  over: (site: string, before: string | null) =>
    ask<AlarmPage>(
      `${at(site)}/alarms?state=cleared&limit=50${before === null ? "" : `&before=${encodeURIComponent(before)}`}`,
    ),
  acknowledge: (site: string, alarm: string, by: string | null) =>
    ask<AlarmBody>(`${ofAlarm(site, alarm)}/acknowledge`, change("POST", { by })),
  snooze: (site: string, alarm: string, by: string | null, untilAt: string) =>
    ask<AlarmBody>(`${ofAlarm(site, alarm)}/snooze`, change("POST", { by, untilAt })),
  deliveries: async (site: string, alarm: string) =>
    (
      await ask<{ readonly deliveries: readonly DeliveryBody[] }>(
        `${at(site)}/deliveries?alarm=${encodeURIComponent(alarm)}`,
      )
    ).deliveries,
};
