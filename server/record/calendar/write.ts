// A calendar as text: RFC 5545, escaped by the library, times in UTC.
import ICAL from "ical.js";
import type { KeptEvent, Language } from "./ports.ts";
import { calendarWords } from "./words.ts";
import type { CalendarWords } from "./words-form.ts";

export interface CalendarHead {
  readonly name: string;
  readonly timezone: string;
  readonly language: Language;
  /** Of a zone; null where the server does not know its own address. */
  readonly urlOf: ((zone: string) => string) | null;
}

/** RFC 7986, 5.7: programs ask again after this. */
const ASK_AGAIN = "PT30M";
/** Of these the end is what counts. */
const ENDS: readonly KeptEvent["kind"][] = ["closes", "start-by"];

function utc(atMs: number): ICAL.Time {
  return ICAL.Time.fromJSDate(new Date(Math.floor(atMs / 1000) * 1000), true);
}

const LINE_OCTETS = 75;

/** RFC 5545, 3.1: lines of 75 octets, what follows begins with a space. The library leaves that space out of its count. */
function folded(text: string): string {
  const lines = text.replaceAll("\r\n ", "").split("\r\n");
  return lines.map((line) => `${foldedLine(line)}\r\n`).join("");
}

function foldedLine(line: string): string {
  let made = "";
  let octets = 0;
  for (const letter of line) {
    const size = Buffer.byteLength(letter);
    if (octets + size > LINE_OCTETS) {
      made += "\r\n ";
      octets = 1;
    }
    made += letter;
    octets += size;
  }
  return made;
}

function describe(event: KeptEvent, words: CalendarWords, clock: (atMs: number) => string): string {
  const { kind, earliestMs, chance } = event;
  return [
    ...(ENDS.includes(kind) ? [words.by(clock(event.endMs))] : [words.notBefore(clock(earliestMs ?? event.startMs))]),
    ...(chance === null ? [] : [words.chance(`${Math.round(Math.min(0.99, Math.max(0.01, chance)) * 100)} %`)]),
    words.advice[kind],
    words.look,
  ].join(" ");
}

export function calendarText(events: readonly KeptEvent[], head: CalendarHead): string {
  const words = calendarWords(head.language);
  const format = new Intl.DateTimeFormat(words.locale, {
    timeZone: head.timezone,
    weekday: "short",
    hour: "numeric",
    minute: "2-digit",
    ...(head.language === "es" ? { hourCycle: "h23" as const } : {}),
  });
  const clock = (atMs: number) => format.format(atMs);
  const calendar = new ICAL.Component("vcalendar");
  const put = (to: ICAL.Component, name: string, value: string | number | ICAL.Time) =>
    to.addPropertyWithValue(name, value);
  put(calendar, "version", "2.0");
  put(calendar, "prodid", "-//Nightslab//Floor hours//EN");
  put(calendar, "method", "PUBLISH");
  put(calendar, "name", words.title(head.name));
  put(calendar, "x-wr-calname", words.title(head.name));
  const again = new ICAL.Property("refresh-interval");
  again.setValue(ICAL.Duration.fromString(ASK_AGAIN));
  calendar.addProperty(again);
  put(calendar, "x-published-ttl", ASK_AGAIN);
  for (const event of events) {
    const one = new ICAL.Component("vevent");
    put(one, "uid", event.uid);
    put(one, "sequence", event.sequence);
    put(one, "dtstamp", utc(event.modifiedMs));
    put(one, "last-modified", utc(event.modifiedMs));
    put(one, "dtstart", utc(event.startMs));
    put(one, "dtend", utc(event.endMs));
    put(one, "summary", words.summary[event.kind](event.zoneName, event.coat + 1));
    put(one, "description", describe(event, words, clock));
    put(one, "location", head.name);
    if (head.urlOf !== null) put(one, "url", head.urlOf(event.zone));
    put(one, "status", event.cancelledMs === null ? "TENTATIVE" : "CANCELLED");
    // A forecast blocks nobody's day.
    put(one, "transp", "TRANSPARENT");
    calendar.addSubcomponent(one);
  }
  return folded(calendar.toString());
}
