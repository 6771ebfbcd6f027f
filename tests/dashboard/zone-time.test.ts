// The wall clock of a site, over the changes of the clock, and how times are said.
import { describe, expect, it } from "vitest";
import { clockOf } from "../../dashboard/text/clock.ts";
import { localInput, msFromLocalInput } from "../../dashboard/units/local-input.ts";
import { localFields, localHours } from "../../dashboard/units/zone-time.ts";
import { DICTIONARIES } from "./voice.ts";

// In 2026 clocks in America/Chicago go from 02:00 to 03:00 on 8 March and from 02:00 back to 01:00 on 1 November (IANA tz database).
const CHICAGO = "America/Chicago";
const ms = (iso: string) => Date.parse(iso);

describe("local times", () => {
  it("reads the wall clock", () => {
    expect(localFields(ms("2026-02-03T12:05:00Z"), CHICAGO)).toEqual({
      year: 2026,
      month: 2,
      day: 3,
      hour: 6,
      minute: 5,
      weekday: 2,
    });
    expect(localInput(ms("2026-07-03T04:05:00Z"), CHICAGO)).toBe("2026-07-02T23:05");
  });
  it("goes back to the moment", () => {
    for (const iso of [
      "2026-02-03T12:05:00Z",
      "2026-07-03T04:05:00Z",
      "2026-03-08T07:59:00Z",
      "2026-03-08T08:00:00Z",
      "2026-11-01T08:00:00Z",
    ]) {
      expect(msFromLocalInput(localInput(ms(iso), CHICAGO), CHICAGO)).toBe(ms(iso));
    }
  });
  it("takes a time that is shown twice as the first, one that is skipped as before the change", () => {
    expect(msFromLocalInput("2026-11-01T01:30", CHICAGO)).toBe(ms("2026-11-01T06:30:00Z"));
    expect(msFromLocalInput("2026-03-08T02:30", CHICAGO)).toBe(ms("2026-03-08T08:30:00Z"));
  });
  it("refuses what is no time", () => {
    for (const bad of ["", "2026-02-30", "2026-13-01T00:00", "soon"]) expect(msFromLocalInput(bad, CHICAGO)).toBeNaN();
  });
  it("puts ticks on local hours on the day that has 23", () => {
    const ticks = localHours(ms("2026-03-08T06:00:00Z"), ms("2026-03-09T05:00:00Z"), 6, CHICAGO);
    expect(ticks.map((at) => localInput(at, CHICAGO).slice(11))).toEqual(["00:00", "06:00", "12:00", "18:00", "00:00"]);
  });
  it("knows zones that are off by a quarter of an hour", () => {
    expect(
      localHours(ms("2026-02-03T00:00:00Z"), ms("2026-02-03T06:00:00Z"), 6, "Asia/Kathmandu").map((at) =>
        new Date(at).toISOString(),
      ),
    ).toEqual(["2026-02-03T00:15:00.000Z"]);
  });
});

describe("the clock's words", () => {
  const now = ms("2026-02-03T12:05:00Z");
  const us = clockOf(CHICAGO, DICTIONARIES.en, 12);
  const si = clockOf(CHICAGO, DICTIONARIES.es, 24);
  it.each([
    ["2026-02-03T19:40:00Z", "1:40 pm", "13:40"],
    ["2026-02-03T06:05:00Z", "12:05 am", "00:05"],
    ["2026-02-04T09:10:00Z", "Wed 3:10 am", "mié 03:10"],
    ["2026-02-20T18:00:00Z", "20 Feb 12:00 pm", "20 feb 12:00"],
    ["2026-02-02T19:00:00Z", "Mon 1:00 pm", "lun 13:00"],
  ])("%s", (at, inUs, inSi) => {
    expect(us.when(ms(at), now).replaceAll("\u00a0", " ")).toBe(inUs);
    expect(si.when(ms(at), now).replaceAll("\u00a0", " ")).toBe(inSi);
  });
  it("names the day at midnight ticks and the hour elsewhere", () => {
    expect(us.tick(ms("2026-02-04T06:00:00Z"))).toBe("Wed 4");
    expect(us.tick(ms("2026-02-03T18:00:00Z"))).toBe("12 pm");
    expect(si.tick(ms("2026-02-03T18:00:00Z"))).toBe("12:00");
  });
});
