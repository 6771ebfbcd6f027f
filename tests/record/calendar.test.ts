// The calendar of a site, read back by a calendar library: names that stay, numbers that rise, lines that fit, secrets that end.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import ICAL from "ical.js";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { isoFromMs } from "#contract/primitives.ts";
import { createCalendars } from "../../server/record/calendar/calendars.ts";
import type { CalendarZone } from "../../server/record/calendar/ports.ts";
import { openStore } from "../../server/store/store.ts";
import { sampleBoard } from "../support/sample-night.ts";
import { SAMPLE_HAND_OVER } from "../support/sample-record.ts";

const NOW_MS = Date.parse("2026-02-03T12:00:00Z");
const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const folder = mkdtempSync(join(tmpdir(), "nightslab-calendar-"));
const store = openStore(folder);
afterAll(() => {
  store.close();
  rmSync(folder, { recursive: true, force: true });
});

const at = (hours: number) => isoFromMs(NOW_MS + hours * HOUR_MS);
const [SAMPLE] = sampleBoard(NOW_MS).zones;

/** A zone that waits for its window, with the hour to come back. */
function waiting(change: Partial<CalendarZone["call"]> = {}, name = "Slip bay, river door; \\ north"): CalendarZone {
  if (SAMPLE === undefined) throw new Error("the sample has zones");
  return {
    ...{ id: "slip", name, areaM2: 60, pourM2PerH: 30, handOver: null },
    call: {
      ...SAMPLE.call,
      ...{ zone: "slip", call: "wait", nextCoat: 1, pouring: false, pour: null, film: null },
      window: { state: "not-yet", opensAt: at(5), closesAt: at(20), earned: 0.4 },
      next: { call: "pour", earliest: at(5.5), likely: at(6), chance: 0.82 },
      ...change,
    },
  };
}

let nowMs = NOW_MS;
let zones: CalendarZone[];
let readers: (string | null)[];
let site: string;
let counted = 0;
const calendars = createCalendars({
  store: store.calendars,
  now: () => nowMs,
  site: (id) => (id.startsWith("s") ? { name: "Otter Landing, boathouse", timezone: "America/Chicago" } : null),
  zones: () => zones,
  mayRead: (person) => readers.includes(person),
  publicUrl: "https://floor.example",
});
beforeEach(() => {
  counted += 1;
  site = `s${counted}`;
  nowMs = NOW_MS;
  zones = [waiting()];
  readers = [null, "p-rosa"];
});

function address(language: "en" | "es" = "en", person: string | null = null): string {
  const made = calendars.makeCalendar(site, person, { label: "phone", language });
  return /calendar\/([A-Za-z0-9_-]{32})\.ics$/.exec(made?.path ?? "")?.[1] ?? expect.fail("no address");
}
const text = (token: string) => calendars.feed(token) ?? expect.fail("no calendar");

interface Seen {
  uid: string;
  summary: string;
  description: string;
  status: string;
  sequence: number;
  startMs: number;
  endMs: number;
  modifiedMs: number;
}

function seen(feed: string): Seen[] {
  const calendar = new ICAL.Component(ICAL.parse(feed) as unknown[]);
  return calendar.getAllSubcomponents("vevent").map((one) => {
    const time = (name: string) => (one.getFirstPropertyValue(name) as ICAL.Time).toJSDate().getTime();
    const value = (name: string) => String(one.getFirstPropertyValue(name));
    return {
      ...{ uid: value("uid"), summary: value("summary"), description: value("description"), status: value("status") },
      ...{ sequence: Number(value("sequence")), startMs: time("dtstart"), endMs: time("dtend") },
      modifiedMs: time("last-modified"),
    };
  });
}
const of = (feed: string, word: string) =>
  seen(feed).find(({ summary }) => summary.includes(word)) ?? expect.fail(`nothing that ${word}`);

describe("the calendar of a site", () => {
  it("tells windows and the hour to come back, not before when and how likely", () => {
    const feed = text(address());
    const back = of(feed, "come back to pour coat 2");
    expect(back.summary).toBe("Slip bay, river door; \\ north: come back to pour coat 2");
    expect([back.startMs, back.endMs]).toEqual([NOW_MS + 6 * HOUR_MS, NOW_MS + 8 * HOUR_MS]);
    // 17:30 UTC is 11:30 in Chicago in winter (IANA time zones).
    expect(back.description.replaceAll("\u202f", " ")).toMatch(/^Not before Tue,? 11:30 AM\. Chance 80 %\./);
    expect(of(feed, "window opens").startMs).toBe(NOW_MS + 5 * HOUR_MS);
    expect(of(feed, "window closes").endMs).toBe(NOW_MS + 20 * HOUR_MS);
    expect(new Set(seen(feed).map(({ status }) => status))).toEqual(new Set(["TENTATIVE"]));
  });

  it("speaks the language of its address, under the same names", () => {
    const [en, es] = [text(address("en")), text(address("es", "p-rosa"))];
    expect(seen(es).map(({ uid }) => uid)).toEqual(seen(en).map(({ uid }) => uid));
    expect(of(es, "volver para aplicar la mano 2").description).toContain("No antes de mar");
  });

  it("is written as RFC 5545 asks: CRLF, lines of 75 octets at most, UTC, all that it must have", () => {
    zones = [waiting({}, `Büro ${"größte Fläche, Nordhalle; ".repeat(8)}☂`)];
    const feed = text(address());
    expect(feed.endsWith("END:VCALENDAR\r\n")).toBe(true);
    expect(feed.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    const lines = feed.split("\r\n");
    expect(Math.max(...lines.map((line) => Buffer.byteLength(line)))).toBeLessThanOrEqual(75);
    expect(lines.some((line) => line.startsWith(" "))).toBe(true);
    expect(feed).toMatch(/\r\nDTSTART:\d{8}T\d{6}Z\r\n/);
    expect(feed).toContain("\r\nREFRESH-INTERVAL;VALUE=DURATION:PT30M\r\n");
    expect(feed.replaceAll("\r\n ", "")).toContain("größte Fläche\\, Nordhalle\\; ");
    for (const name of ["VERSION", "PRODID", "UID", "DTSTAMP", "SEQUENCE", "LAST-MODIFIED", "URL"])
      expect(feed).toMatch(new RegExp(`\r\n${name}:`));
    expect(of(feed, "window opens").summary).toContain("Nordhalle; größte");
  });

  it("keeps names and numbers while nothing changes, and raises the number where something does", () => {
    const token = address();
    const first = text(token);
    nowMs += 10 * MINUTE_MS;
    expect(text(token)).toBe(first);
    // Some minutes more or less are no other appointment.
    zones = [waiting({ next: { call: "pour", earliest: at(5.45), likely: at(5.9), chance: 0.81 } })];
    nowMs += 10 * MINUTE_MS;
    expect(text(token)).toBe(first);
    zones = [waiting({ next: { call: "pour", earliest: at(6.5), likely: at(8), chance: 0.6 } })];
    nowMs += 10 * MINUTE_MS;
    const third = text(token);
    const [before, after] = [of(first, "come back"), of(third, "come back")];
    expect(after).toMatchObject({ uid: before.uid, sequence: before.sequence + 1, modifiedMs: nowMs });
    expect(after.startMs).toBe(NOW_MS + 8 * HOUR_MS);
    expect(of(third, "window opens")).toEqual(of(first, "window opens"));
  });

  it("tells for a week that what no longer stands is cancelled; what has begun stays as it was", () => {
    const token = address();
    const first = text(token);
    zones = [waiting({ next: null, nextCoat: null })];
    nowMs = NOW_MS + 5.5 * HOUR_MS;
    const second = text(token);
    const gone = of(second, "come back");
    expect(gone).toMatchObject({
      uid: of(first, "come back").uid,
      status: "CANCELLED",
      sequence: 1,
      modifiedMs: nowMs,
    });
    expect(of(second, "window opens")).toEqual(of(first, "window opens"));
    nowMs += 6 * 24 * HOUR_MS;
    expect(of(text(token), "come back").status).toBe("CANCELLED");
    nowMs += 2 * 24 * HOUR_MS;
    expect(seen(text(token))).toEqual([]);
  });

  it("raises a cancelled one again under its name", () => {
    const token = address();
    const { uid } = of(text(token), "come back");
    zones = [waiting({ next: null })];
    nowMs += 10 * MINUTE_MS;
    expect(of(text(token), "come back").status).toBe("CANCELLED");
    zones = [waiting()];
    nowMs += 10 * MINUTE_MS;
    expect(of(text(token), "come back")).toMatchObject({ uid, status: "TENTATIVE", sequence: 2 });
  });

  it("tells the hand-over of the last coat only, by the slow side", () => {
    const uses = SAMPLE_HAND_OVER.uses.map((one) =>
      one.use === "walk-on" ? { ...one, state: "ahead" as const, notBefore: at(30), reachedAt: null } : one,
    );
    const film = { coat: 2, sheet: "top", name: "Top", pouredFrom: at(-5), pouredTo: at(-4), last: true };
    const done = waiting({ call: "finished", nextCoat: null, next: null });
    zones = [{ ...done, handOver: { ...SAMPLE_HAND_OVER, uses, film } }];
    const walk = of(text(address()), "walk on, not before");
    expect(walk.startMs).toBe(NOW_MS + 30 * HOUR_MS);
    expect(walk.description).toContain("No promise.");
    site = `${site}-b`;
    zones = [{ ...done, handOver: { ...SAMPLE_HAND_OVER, uses, film: { ...film, last: false } } }];
    expect(seen(text(address()))).toEqual([]);
  });

  it("is there for its address alone, until it is withdrawn or its maker may look no longer", () => {
    const [mine, hers] = [address("en", null), address("en", "p-rosa")];
    expect(calendars.feed("guess")).toBeNull();
    const [kept] = calendars.calendars(site, "p-rosa");
    expect(kept).toMatchObject({ label: "phone", seenAt: null });
    text(hers);
    expect(calendars.calendars(site, "p-rosa")[0]?.seenAt).toBe(isoFromMs(nowMs));
    expect(JSON.stringify(store.calendars.calendars(site))).not.toContain(hers);
    readers = [null];
    expect(calendars.feed(hers)).toBeNull();
    readers = [null, "p-rosa"];
    expect(calendars.withdrawCalendar(site, null, kept?.id ?? "")).toBe(false);
    expect(calendars.withdrawCalendar(site, "p-rosa", kept?.id ?? "")).toBe(true);
    expect(calendars.feed(hers)).toBeNull();
    expect(seen(text(mine))).toHaveLength(3);
  });
});
