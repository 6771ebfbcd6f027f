// Calendars in the running server: what they read of sites and people.
import type { CallBody } from "#contract/call.ts";
import type { HandOverBody } from "#contract/hand-over.ts";
import type { LiveSite } from "./live/live-site.ts";
import { createCalendars } from "./record/calendar/calendars.ts";
import type { CalendarZone } from "./record/calendar/ports.ts";
import type { Settings } from "./settings.ts";
import type { EmbeddedStore } from "./store/store.ts";

export interface CalendarAppParts {
  readonly settings: Pick<Settings, "accounts" | "publicUrl">;
  readonly store: EmbeddedStore;
  readonly now: () => number;
  readonly sites: { get(site: string): LiveSite | null };
  readonly callOf: (site: string, zone: string) => CallBody | null;
  readonly handOver: (site: string, zone: string) => { readonly ok: boolean; readonly value?: HandOverBody };
  readonly failed: (what: string, error: unknown) => void;
}

export function createCalendarApp({ settings, store, now, sites, callOf, handOver, failed }: CalendarAppParts) {
  /** A zone that cannot be told costs its own hand-over only. */
  function handOverOf(site: string, call: CallBody): HandOverBody | null {
    if (call.film === null || call.nextCoat !== null) return null;
    try {
      return handOver(site, call.zone).value ?? null;
    } catch (error) {
      failed(`the hand-over of ${site}/${call.zone} for calendars`, error);
      return null;
    }
  }
  return createCalendars({
    store: store.calendars,
    now,
    publicUrl: settings.publicUrl ?? null,
    site(id) {
      const record = sites.get(id)?.record.site;
      return record === undefined ? null : { name: record.name ?? id, timezone: record.timezone };
    },
    zones: (site) =>
      (sites.get(site)?.zones(now()) ?? []).flatMap(({ id, name, areaM2, pourM2PerH }): CalendarZone[] => {
        const call = callOf(site, id);
        return call === null ? [] : [{ id, name, areaM2, pourM2PerH, call, handOver: handOverOf(site, call) }];
      }),
    mayRead(person, site) {
      if (settings.accounts === "off") return true;
      const known = person === null ? null : store.people.person(person);
      if (known === null || known.role === "client") return false;
      return known.sites === null || known.sites.includes(site);
    },
  });
}
