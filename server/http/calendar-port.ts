// The port of the door towards calendars. `person` is null where nobody has to sign in.
import type { CalendarBody, CalendarMadeBody, CalendarWish } from "#contract/calendar.ts";

export interface CalendarDesk {
  calendars(site: string, person: string | null): readonly CalendarBody[];
  /** null where there are too many. */
  makeCalendar(site: string, person: string | null, wish: CalendarWish): CalendarMadeBody | null;
  withdrawCalendar(site: string, person: string | null, calendar: string): boolean;
  /** The calendar behind a secret address; null where there is none. */
  feed(token: string): string | null;
}
