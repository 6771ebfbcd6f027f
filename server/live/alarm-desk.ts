// The desk of alarms: the list, and what people answer.
import type { AlarmBody, AlarmState } from "#contract/alarm.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";
import type { AlarmAnswer } from "#core/alarm/machine.ts";
import type { Alarms } from "./alarms.ts";
import { type Answer, good, refuse } from "./answer.ts";
import type { Moments } from "./moments.ts";
import type { Sites } from "./sites.ts";

const SNOOZE_LONGEST_MS = 12 * 3_600_000;

interface PageWish {
  readonly state: AlarmState | null;
  readonly fromMs: number | null;
  readonly before: { readonly raisedMs: number; readonly id: string } | null;
  readonly limit: number;
}

export interface AlarmDeskParts {
  readonly sites: Sites;
  readonly moments: Moments;
  readonly alarms: Pick<Alarms, "answer" | "standing">;
  readonly book: {
    page(site: string, wish: PageWish): AlarmBody[];
    find(site: string, id: string): AlarmBody | null;
  };
}

export interface AlarmListWish {
  readonly state: AlarmState | null;
  readonly fromMs: number | null;
  /** Id of the last alarm of the page before. */
  readonly before: string | null;
  readonly limit: number;
}

export function createAlarmDesk({ sites, moments, alarms, book }: AlarmDeskParts) {
  const noAlarm = (id: string) => refuse("missing", "/alarm", `no alarm "${id}" on this site`);

  /** Numbers of an alarm that stands move on between its steps. */
  const fresh = (site: string, kept: readonly AlarmBody[]): AlarmBody[] => {
    const standing = new Map(alarms.standing(site).map((alarm) => [alarm.id, alarm]));
    return kept.map((alarm) => standing.get(alarm.id) ?? alarm);
  };

  const find = (site: string, id: string): AlarmBody | null =>
    alarms.standing(site).find((alarm) => alarm.id === id) ?? book.find(site, id);

  function answered(site: string, id: string, answer: AlarmAnswer): Answer<AlarmBody> {
    if (sites.get(site) === null) return refuse("missing", "/site", `no site "${site}"`);
    if (find(site, id) === null) return noAlarm(id);
    const alarm = alarms.answer(site, id, answer);
    return alarm === null ? refuse("conflict", "/alarm", "is over: nobody needs to answer it") : good(alarm);
  }

  return {
    alarms(
      site: string,
      { state, fromMs, before, limit }: AlarmListWish,
    ): Answer<{ readonly alarms: readonly AlarmBody[]; readonly before: string | null }> {
      if (sites.get(site) === null) return refuse("missing", "/site", `no site "${site}"`);
      const last = before === null ? null : find(site, before);
      if (before !== null && last === null) return refuse("invalid", "/before", `no alarm "${before}" on this site`);
      const page = book.page(site, {
        state,
        fromMs,
        before: last === null ? null : { raisedMs: msFromIso(last.raisedAt), id: last.id },
        limit,
      });
      return good({ alarms: fresh(site, page), before: page.length < limit ? null : (page.at(-1)?.id ?? null) });
    },

    acknowledgeAlarm: (site: string, id: string, by: string | null): Answer<AlarmBody> =>
      answered(site, id, { did: "acknowledge", by }),

    /** `untilMs`: later than now, and at most twelve hours ahead. */
    snoozeAlarm(site: string, id: string, by: string | null, untilMs: number): Answer<AlarmBody> {
      const nowMs = moments.now();
      if (untilMs <= nowMs) return refuse("invalid", "/untilAt", `must be later than ${isoFromMs(nowMs)}`);
      if (untilMs > nowMs + SNOOZE_LONGEST_MS) return refuse("invalid", "/untilAt", "must be at most 12 hours ahead");
      return answered(site, id, { did: "snooze", by, untilMs });
    },

    /** What whoever tells people needs of the book. */
    alarmBook: {
      open: (site: string): readonly AlarmBody[] => alarms.standing(site),
      find,
      acknowledge: (site: string, id: string, by: string): boolean =>
        alarms.answer(site, id, { did: "acknowledge", by }) !== null,
    },
  };
}
