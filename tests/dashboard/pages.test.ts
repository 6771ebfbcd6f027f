// Addresses, preferences, the spot check's form, the points of the chart.
import { describe, expect, it } from "vitest";
import { hrefs, routeFrom } from "../../dashboard/app/route.ts";
import { hoursOf, prefsFrom } from "../../dashboard/data/prefs.ts";
import { bodyOf, faultsFromServer } from "../../dashboard/features/spot-check/spot-body.ts";
import { chartPoints, MOST_POINTS } from "../../dashboard/features/zone/chart-data.ts";
import { degreeScale } from "../../dashboard/units/scale.ts";
import { sampleBoard } from "../support/sample-night.ts";
import { sampleSeries } from "../support/sample-zone.ts";
import { DICTIONARIES, NOW_MS } from "./voice.ts";
import { spotText } from "../../dashboard/text/spot.ts";

describe("addresses", () => {
  it.each([
    ["", { page: "board", site: null }],
    ["#/", { page: "board", site: null }],
    ["#/zone/slip", { page: "zone", site: null, part: "slip" }],
    ["#/spot-check", { page: "spot-check", site: null, part: null }],
    ["#/sites", { page: "sites", part: null }],
    ["#/site/a%20b/zone/c%2Fd", { page: "zone", site: "a b", part: "c/d" }],
    ["#/site/x/spot-check", { page: "spot-check", site: "x", part: null }],
    ["#/nowhere", { page: "unknown" }],
    ["#/zone/a/b", { page: "unknown" }],
    ["#/zone/%E0%A4%A", { page: "zone", site: null, part: "%E0%A4%A" }],
  ])("%s", (hash, route) => {
    expect(routeFrom(hash)).toEqual(route);
  });
  it("are read as they are written", () => {
    expect(routeFrom(hrefs.zone("a/b", "c d"))).toEqual({ page: "zone", site: "a/b", part: "c d" });
    expect(routeFrom(hrefs.board("x"))).toEqual({ page: "board", site: "x" });
  });
});

describe("preferences", () => {
  it("start from the device's language", () => {
    expect(prefsFrom(null, "es-MX")).toMatchObject({ language: "es", units: "si" });
    expect(prefsFrom(null, "es-US")).toMatchObject({ language: "es", units: "us" });
    expect(prefsFrom(null, "en-US")).toMatchObject({ language: "en", units: "us", theme: "auto" });
    expect(prefsFrom(null, "de-DE")).toMatchObject({ language: "en", units: "si" });
  });
  it("follow the units for the clock until somebody chooses one", () => {
    expect(hoursOf(prefsFrom(null, "en-US"))).toBe(12);
    expect(hoursOf(prefsFrom(null, "es-ES"))).toBe(24);
    expect(hoursOf(prefsFrom({ units: "us", hours: "24" }, "en-US"))).toBe(24);
    expect(hoursOf(prefsFrom({ units: "si", hours: "12" }, "es-ES"))).toBe(12);
  });
  it("take what was kept field by field, and only what makes sense", () => {
    expect(prefsFrom({ language: "es", units: "stones", theme: 7, by: "Rosa", site: 1 }, "en-US")).toEqual({
      language: "es",
      units: "us",
      hours: "auto",
      theme: "auto",
      by: "Rosa",
      site: null,
    });
  });
});

describe("the spot check's form", () => {
  const text = DICTIONARIES.en;
  it("asks in °C", () => {
    expect(bodyOf({ slab: "50", air: "59", humidity: "60", sheet: "s", base: "sealed" }, "us", text)).toEqual({
      ok: true,
      body: { slabC: 10, airC: 15, rhPct: 60, sheet: "s", base: "sealed" },
    });
  });
  it("names each field that is wrong", () => {
    const made = bodyOf({ slab: "", air: "400", humidity: "x", sheet: "", base: "porous" }, "us", text);
    expect(made).toEqual({
      ok: false,
      faults: {
        slab: spotText(text).need,
        air: "Enter a number from −40 °F to 140 °F.",
        humidity: spotText(text).need,
        sheet: spotText(text).pick,
      },
    });
  });
  it("puts the server's faults beside their fields", () => {
    expect(
      faultsFromServer([
        { field: "/sheet", reason: "is not known" },
        { field: "/elsewhere", reason: "x" },
      ]),
    ).toEqual({ sheet: "is not known" });
  });
});

describe("the points of the chart", () => {
  const outlook = sampleBoard().zones[0]?.outlook ?? null;
  const series = sampleSeries("slip", NOW_MS - 168 * 3_600_000, NOW_MS, 500);
  it("are at most five hundred, past before future, in the person's degrees", () => {
    const points = chartPoints(series, outlook, 3, "us");
    expect(points.length).toBeLessThanOrEqual(MOST_POINTS);
    expect(points.length).toBeGreaterThan(200);
    for (let index = 1; index < points.length; index += 1)
      expect(points[index]!.atMs).toBeGreaterThanOrEqual(points[index - 1]!.atMs);
    const past = points.find((point) => point.dew !== null);
    expect(past!.forbidden![1] - past!.forbidden![0]).toBeCloseTo(5.4, 6);
  });
  it("keep gaps", () => {
    const gap = {
      ...series,
      conditions: {
        ...series.conditions,
        slabColdC: series.conditions.slabColdC.map(() => null),
        dewPointC: series.conditions.dewPointC.map(() => null),
      },
    };
    for (const point of chartPoints(gap, null, 3, "si"))
      expect([point.slab, point.dew, point.forbidden]).toEqual([null, null, null]);
  });
  it("are none when nothing is known", () => {
    expect(chartPoints(null, null, 3, "si")).toEqual([]);
    expect(degreeScale([])).toEqual({ domain: [0, 10], ticks: [0, 5, 10] });
  });
  it("lie on a round scale that holds them", () => {
    expect(degreeScale([41.3, 57.2, null])).toEqual({ domain: [40, 60], ticks: [40, 45, 50, 55, 60] });
    expect(degreeScale([-0.2, 0.3])).toEqual({ domain: [-1, 1], ticks: [-1, 0, 1] });
  });
});
