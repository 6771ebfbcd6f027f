// What calendars need of the rest: the board of a site, people, and what is kept.
import type { CallBody } from "#contract/call.ts";
import type { HandOverBody } from "#contract/hand-over.ts";

export type Language = "en" | "es";

export const EVENT_KINDS = ["opens", "closes", "start-by", "back", "abrade", "walk-on", "traffic", "water"] as const;
export type EventKind = (typeof EVENT_KINDS)[number];

/** What stands in a calendar, in times that change only when something does. */
export interface EventFacts {
  readonly zone: string;
  readonly zoneName: string;
  /** As in the journal: counted from 0. */
  readonly coat: number;
  readonly kind: EventKind;
  readonly startMs: number;
  readonly endMs: number;
  /** Not before this; null where the event begins with it. */
  readonly earliestMs: number | null;
  readonly chance: number | null;
}

export interface KeptEvent extends EventFacts {
  readonly uid: string;
  readonly sequence: number;
  readonly modifiedMs: number;
  /** Since when it no longer stands; null while it does. */
  readonly cancelledMs: number | null;
}

export interface KeptCalendar {
  readonly id: string;
  readonly site: string;
  /** Null: made where nobody has to sign in. */
  readonly person: string | null;
  readonly label: string;
  readonly language: Language;
  readonly madeMs: number;
  readonly seenMs: number | null;
}

export interface CalendarStore {
  calendars(site: string): KeptCalendar[];
  addCalendar(hash: string, calendar: KeptCalendar): void;
  removeCalendar(id: string): void;
  calendarOf(hash: string): KeptCalendar | null;
  calendarSeen(id: string, nowMs: number): void;
  events(site: string): KeptEvent[];
  /** All events of the site from now on. */
  putEvents(site: string, events: readonly KeptEvent[]): void;
}

export interface CalendarZone {
  readonly id: string;
  readonly name: string;
  readonly areaM2: number;
  readonly pourM2PerH: number;
  readonly call: CallBody;
  /** Null where there is none, or it could not be made. */
  readonly handOver: HandOverBody | null;
}

export interface CalendarParts {
  readonly store: CalendarStore;
  readonly now: () => number;
  readonly site: (id: string) => { readonly name: string; readonly timezone: string } | null;
  readonly zones: (site: string) => readonly CalendarZone[];
  /** Whether this person, or with null anybody, may still look at the site. */
  readonly mayRead: (person: string | null, site: string) => boolean;
  /** Address of this server for links; null where it does not know it. */
  readonly publicUrl: string | null;
}
