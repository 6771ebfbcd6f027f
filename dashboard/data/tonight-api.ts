// What the page of the night asks of the server beside the board. Loaded with it.
import type { AlarmBody } from "#contract/alarm.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { OnCallBody } from "#contract/notify.ts";
import { ask } from "./api.ts";

const at = (site: string) => `/sites/${encodeURIComponent(site)}`;

export const tonightApi = {
  onCall: (site: string) => ask<OnCallBody>(`${at(site)}/on-call`),
  /** Raised since a time, whatever became of them; newest first. */
  alarmsSince: async (site: string, fromIso: string) =>
    (
      await ask<{ readonly alarms: readonly AlarmBody[] }>(
        `${at(site)}/alarms?from=${encodeURIComponent(fromIso)}&limit=500`,
      )
    ).alarms,
  openAlarms: async (site: string) =>
    (await ask<{ readonly alarms: readonly AlarmBody[] }>(`${at(site)}/alarms?state=open&limit=500`)).alarms,
  entriesSince: async (site: string, fromIso: string) =>
    (await ask<{ readonly entries: readonly EntryBody[] }>(`${at(site)}/journal?from=${encodeURIComponent(fromIso)}`))
      .entries,
};
