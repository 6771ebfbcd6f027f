// What the trust in a feed makes of real weather: one airport stands for the outdoor node, its neighbour for the feed.
// Source of the reports: tests/reference/weather/SOURCE.md (New York, 2013). The shares demanded are what was measured
// there, rounded to the lenient side.
import { describe, expect, it } from "vitest";
import { feedDoubtOf } from "#core/outlook/feed-doubt.ts";
import { PAST_STEPS, STEP_MS } from "#core/outlook/past.ts";
import { cFromF, fFromC } from "#core/units.ts";
import { numberOf, referenceRows } from "../../support/csv.ts";

const HOUR_MS = 3_600_000;
interface Report {
  readonly airC: number;
  readonly dewPointC: number;
}
const stations = new Map<string, Map<number, Report>>();
for (const row of referenceRows("weather/weather-nyc-asos-2013.csv")) {
  if (row.consistent !== "1") continue;
  const reports = stations.get(row.station as string) ?? new Map<number, Report>();
  reports.set(Date.parse(row.time_utc as string), { airC: numberOf(row, "t_C"), dewPointC: numberOf(row, "td_C") });
  stations.set(row.station as string, reports);
}
const node = stations.get("EWR") as Map<number, Report>;
const neighbour = stations.get("LGA") as Map<number, Report>;

/** On the hours only, which is all that is looked at. */
function heardBy(nowMs: number) {
  const pick = (name: keyof Report) =>
    Float64Array.from({ length: PAST_STEPS + 1 }, (_, step) => {
      return node.get(nowMs - (PAST_STEPS - step) * STEP_MS)?.[name] ?? Number.NaN;
    });
  return { airC: pick("airC"), dewPointC: pick("dewPointC") };
}

function shareOf(fault: string | null, backH: number, reread: (c: number) => number, shiftH = 0): number {
  let counted = 0;
  let met = 0;
  for (let moment = 0; moment < 80; moment++) {
    const nowMs = Date.parse("2013-01-05T12:00:00Z") + moment * 106 * HOUR_MS;
    const hours = Array.from({ length: 48 + backH + 1 }, (_, index) => nowMs + (index - backH) * HOUR_MS).flatMap(
      (atMs) => {
        const report = neighbour.get(atMs - shiftH * HOUR_MS);
        return report === undefined ? [] : [{ atMs, airC: reread(report.airC), dewPointC: reread(report.dewPointC) }];
      },
    );
    const doubt = feedDoubtOf([{ fetchedMs: nowMs, hours }], heardBy(nowMs), nowMs, nowMs);
    // Holes in the reports themselves.
    if (doubt?.fault === "ends") continue;
    counted++;
    if ((doubt?.fault ?? null) === fault) met++;
  }
  expect(counted).toBeGreaterThan(60);
  return met / counted;
}
const same = (c: number) => c;

describe("a neighbouring airport as the feed", () => {
  it.each([48, 24, 12, 0])("is believed when it is honest, with %i h of its past", (backH) => {
    expect(shareOf(null, backH, same)).toBeGreaterThan(0.95);
  });
  it.each([48, 12, 0])("is caught in another unit, with %i h of its past", (backH) => {
    expect(shareOf("unit", backH, fFromC)).toBeGreaterThan(0.95);
    expect(shareOf("unit", backH, cFromF)).toBeGreaterThan(0.9);
  });
  it.each([-14, -8, 8, 14])("is caught %i h off, with two days of its past", (shiftH) => {
    expect(shareOf("time-zone", 48, same, shiftH)).toBeGreaterThan(0.8);
  });
  it.each([-5, 5])("is caught %i h off more often than not, with two days of its past", (shiftH) => {
    expect(shareOf("time-zone", 48, same, shiftH)).toBeGreaterThan(0.6);
  });
  it("is not caught an hour off: the weather of two places differs by as much", () => {
    expect(shareOf(null, 48, same, 1)).toBeGreaterThan(0.9);
  });
});
