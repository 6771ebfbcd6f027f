// Calendars of sites: made and withdrawn by whoever looks at a site, and told to whoever has the secret address.
import { createHash, randomBytes } from "node:crypto";
import type { CalendarBody, CalendarMadeBody, CalendarWish } from "#contract/calendar.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import type { CalendarParts, EventFacts, KeptCalendar } from "./ports.ts";
import { settled } from "./settle.ts";
import { wantedOf } from "./wanted.ts";
import { calendarText } from "./write.ts";

/** Hand-over asks for an outlook of each zone: programs that ask at once share one look. */
const LOOK_EVERY_MS = 60_000;
const MOST = 50;
const sha256 = (text: string) => createHash("sha256").update(text).digest("hex");

/** Tells nothing of the site to whoever reads it in a file. */
const uidIn =
  (site: string) =>
  ({ zone, coat, kind }: EventFacts): string =>
    `${sha256(JSON.stringify([site, zone, coat, kind])).slice(0, 32)}@nightslab`;

const bodyOf = ({ id, site, label, language, madeMs, seenMs }: KeptCalendar): CalendarBody => ({
  ...{ id, site, label, language },
  madeAt: isoFromMs(madeMs),
  seenAt: isoOrNull(seenMs),
});

export function createCalendars({ store, now, site: siteOf, zones, mayRead, publicUrl }: CalendarParts) {
  const looked = new Map<string, number>();

  function look(site: string): void {
    const nowMs = now();
    const last = looked.get(site);
    if (last !== undefined && nowMs >= last && nowMs - last < LOOK_EVERY_MS) return;
    store.putEvents(site, settled(store.events(site), zones(site).flatMap(wantedOf), uidIn(site), nowMs));
    looked.set(site, nowMs);
  }
  const of = (site: string, person: string | null) => store.calendars(site).filter((one) => one.person === person);

  return {
    calendars: (site: string, person: string | null): CalendarBody[] => of(site, person).map(bodyOf),

    /** null where there are too many. */
    makeCalendar(site: string, person: string | null, { label, language }: CalendarWish): CalendarMadeBody | null {
      if (of(site, person).length >= MOST) return null;
      const token = randomBytes(24).toString("base64url");
      const id = `k-${randomBytes(6).toString("hex")}`;
      const made: KeptCalendar = { id, site, person, label, language, madeMs: now(), seenMs: null };
      store.addCalendar(sha256(token), made);
      return { ...bodyOf(made), path: `/api/v1/calendar/${token}.ics` };
    },

    /** False where this person has none of that id. */
    withdrawCalendar(site: string, person: string | null, id: string): boolean {
      const found = of(site, person).some((one) => one.id === id);
      if (found) store.removeCalendar(id);
      return found;
    },

    /** null where no such address stands, or who made it may no longer look. */
    feed(token: string): string | null {
      const calendar = store.calendarOf(sha256(token));
      const site = calendar === null ? null : siteOf(calendar.site);
      if (calendar === null || site === null || !mayRead(calendar.person, calendar.site)) return null;
      look(calendar.site);
      store.calendarSeen(calendar.id, now());
      const page = `/#/site/${encodeURIComponent(calendar.site)}/zone/`;
      return calendarText(store.events(calendar.site), {
        ...{ name: site.name, timezone: site.timezone, language: calendar.language },
        urlOf: publicUrl === null ? null : (zone) => new URL(page + encodeURIComponent(zone), publicUrl).href,
      });
    },
  };
}
