// Local times in their zones. Sources: the rules of the IANA time zone database for 2026, where the United States change
// on 8 March and 1 November at 2:00, the European Union on 29 March and 25 October at 1:00 UTC; India stands at +05:30.
import { describe, expect, it } from "vitest";
import { localReader } from "#contract/local-time.ts";

const at = (zone: string, text: string) => localReader(zone)(text)?.map((ms) => new Date(ms).toISOString()) ?? null;

describe("a local time", () => {
  it.each([
    ["UTC", "2026-02-03T12:00", "2026-02-03T12:00:00.000Z"],
    ["America/New_York", "2026-02-03T12:00:30", "2026-02-03T17:00:30.000Z"],
    ["America/New_York", "2026-07-03 12:00", "2026-07-03T16:00:00.000Z"],
    ["Asia/Kolkata", "2026-02-03T00:00", "2026-02-02T18:30:00.000Z"],
    ["Pacific/Kiritimati", "2026-01-01T00:00", "2025-12-31T10:00:00.000Z"],
  ])("in %s, %s is one moment", (zone, text, utc) => expect(at(zone, text)).toEqual([utc]));
  it("never was, in the hour that is left out in spring", () => {
    expect(at("America/New_York", "2026-03-08T02:30")).toEqual([]);
    expect(at("Europe/Berlin", "2026-03-29T02:00")).toEqual([]);
    expect(at("America/New_York", "2026-03-08T01:59")).toEqual(["2026-03-08T06:59:00.000Z"]);
    expect(at("America/New_York", "2026-03-08T03:00")).toEqual(["2026-03-08T07:00:00.000Z"]);
  });
  it("was twice, in the hour that comes twice in autumn", () => {
    expect(at("America/New_York", "2026-11-01T01:30")).toEqual([
      "2026-11-01T05:30:00.000Z",
      "2026-11-01T06:30:00.000Z",
    ]);
    expect(at("Europe/Berlin", "2026-10-25T02:00")).toEqual(["2026-10-25T00:00:00.000Z", "2026-10-25T01:00:00.000Z"]);
  });
  it.each(["2026-02-30T12:00", "2026-02-03T25:00", "2026-02-03", "2026-02-03T12:00Z", "noon", "2026-02-03T12:60"])(
    "%s is none",
    (text) => expect(at("UTC", text)).toBeNull(),
  );
});
