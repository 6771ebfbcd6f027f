// The night maker: its weather is the stations' own, its files repeat to the byte, and what it calls true is true.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { SheetBody } from "#contract/sheet.ts";
import { ASK_HOURS, afternoonMs, feedOf, HOUR_MS, scenarioOf } from "../../../firmware-sim/night/night.ts";
import { NIGHTS } from "../../../firmware-sim/night/recipes.ts";
import { stationOf, weatherHours } from "../../../firmware-sim/night/stations.ts";
import { hoursOf } from "../../../firmware-sim/night/clocks.ts";
import { type TrueMoment, trueCourse, trueFilm, trueNight } from "../../../firmware-sim/night/truth.ts";
import { clearSkyWPerM2 } from "../../../firmware-sim/building/sun.ts";
import { nightFileOf } from "../../../firmware-sim/scenario/night-file.ts";
import { readingsUntil } from "../../../firmware-sim/scenario/play.ts";
import { FAST_EPOXY, ONE_LINE_EPOXY, SLOW_EPOXY } from "../../../firmware-sim/scenario/sheets.ts";
import { SHED_ZONE } from "../../../firmware-sim/scenario/shed.ts";

const folder = new URL("../../reference/weather", import.meta.url).pathname;
const recipeOf = (id: string) => {
  const recipe = NIGHTS.find((each) => each.id === id);
  if (recipe === undefined) throw new Error(`no recipe ${id}`);
  return recipe;
};

describe("weather of the stations", () => {
  it("is read in order, without reports that failed their own check", () => {
    const hours = weatherHours(folder, stationOf("LGA"));
    expect(hours.length).toBeGreaterThan(7000);
    for (let i = 1; i < hours.length; i++) expect(hours[i]?.atMs).toBeGreaterThan(hours[i - 1]?.atMs ?? 0);
    // First report of the file: 2013-01-01T06:00Z at EWR, 3.9 C, dew point -3.3 C.
    expect(weatherHours(folder, stationOf("EWR"))[0]).toMatchObject({
      atMs: Date.UTC(2013, 0, 1, 6),
      airC: 3.9,
      dewPointC: -3.3,
      windMPerS: 4.6,
    });
  });
  it("places 16:00 by the station's clock", () => {
    expect(afternoonMs(stationOf("LGA"), "2013-01-18")).toBe(Date.UTC(2013, 0, 18, 21));
    expect(afternoonMs(stationOf("alamosa"), "2015-12-31")).toBe(Date.UTC(2015, 11, 31, 23));
  });
  it("shines by day: nothing at midnight, near 480 W/m2 on a clear December noon at 40 degrees", () => {
    // 1098 sin 26.6 degrees exp(-0.057 / sin 26.6 degrees) = 433 W/m2 (Haurwitz, by hand).
    expect(clearSkyWPerM2(40, -75, Date.UTC(2013, 11, 21, 17))).toBeCloseTo(433, -1);
    expect(clearSkyWPerM2(40, -75, Date.UTC(2013, 11, 21, 5))).toBe(0);
  });
});

describe("night files", () => {
  it.each(["bare-06", "second-09", "bare-13"])("%s is made again to the byte", (id) => {
    const recipe = recipeOf(id);
    const hours = weatherHours(folder, stationOf(recipe.station));
    const scenario = scenarioOf(recipe, hours, 1);
    const asks = ASK_HOURS.map((after) => ({ atMs: scenario.openedAtMs + after * HOUR_MS, zone: SHED_ZONE }));
    const readings = readingsUntil(scenario, scenario.openedAtMs + 18 * HOUR_MS).filter((each) =>
      /^(slab|air|rh)/.test(each.quantity),
    );
    const text = `${JSON.stringify({ ...nightFileOf(scenario, readings, asks), ...feedOf(recipe, hours) })}\n`;
    expect(text).toBe(readFileSync(new URL(`../../golden/nights/${id}.json`, import.meta.url), "utf8"));
  });
  it("of the node without network say when they were heard", () => {
    const file = JSON.parse(readFileSync(new URL("../../golden/nights/second-09.json", import.meta.url), "utf8")) as {
      readings: { heardS?: number }[];
    };
    const late = file.readings.map((reading) => reading.heardS ?? 0);
    expect(Math.max(...late)).toBe(6 * 3600);
    expect(late.filter((heardS) => heardS > 0).length).toBe(4 * 36);
  });
});

describe("truth", () => {
  const flat = (slabC: number, marginK: number, hours: number, fromMs = 0): TrueMoment[] =>
    Array.from({ length: hours * 12 + 1 }, (_, i) => ({
      atMs: fromMs + i * 300_000,
      coldC: slabC,
      hotC: slabC + 1,
      airC: 20,
      rhPct: 50,
      dewPointC: slabC - marginK,
      marginK,
      filmGPerM2: 0,
    }));

  it("reads hours off a sheet: printed rows, log between them, none below", () => {
    expect(hoursOf(SLOW_EPOXY, "recoatFromH")(15)).toBeCloseTo(16, 9);
    expect(hoursOf(SLOW_EPOXY, "recoatFromH")(12.5)).toBeCloseTo(Math.sqrt(26 * 16), 9);
    expect(hoursOf(SLOW_EPOXY, "recoatFromH")(9)).toBe(Number.POSITIVE_INFINITY);
    expect(hoursOf(SLOW_EPOXY, "recoatUntilH")(9)).toBe(60);
    // Beyond the rows that print it: 1.3 times the recoat minimum, here the 5 hours of the hottest row.
    expect(hoursOf(SLOW_EPOXY, "dewSafeH")(40)).toBeCloseTo(6.5, 9);
    // exp(70000 / 8.314 * (1/283.15 - 1/294.15)) = 3.04 times the 11 hours at 21 C.
    expect(hoursOf(ONE_LINE_EPOXY, "recoatFromH")(10)).toBeCloseTo(33.45, 1);
    const open: SheetBody = { ...SLOW_EPOXY, cure: [] };
    expect(hoursOf(open, "dewSafeH")(12)).toBe(Number.POSITIVE_INFINITY);
  });

  it("of a night looks as far as the coat is sensitive", () => {
    const course = [...flat(7, 5, 12), ...flat(7, 2, 12, 12 * HOUR_MS + 300_000)];
    // 1 h of pouring and 11.5 h at 7 C: the fall after 12 h is just met; poured two hours later, met fully.
    expect(trueNight(FAST_EPOXY, course, 0, 1)).toMatchObject({ lowestMarginK: 2, holds: false });
    expect(trueNight(FAST_EPOXY, flat(7, 5, 24), 0, 1)).toMatchObject({
      lowestMarginK: 5,
      holds: true,
      hours: expect.closeTo(12.45, 1) as number,
    });
    expect(trueNight(FAST_EPOXY, flat(1.5, 5, 40), 0, 1)).toMatchObject({ holds: false, hours: 36 });
  });

  it("of a film agrees with the course of its slab", () => {
    const recipe = recipeOf("second-01");
    const scenario = scenarioOf(recipe, weatherHours(folder, stationOf(recipe.station)), 1);
    const course = trueCourse(scenario, SHED_ZONE, scenario.openedAtMs + 16 * HOUR_MS);
    const film = trueFilm(scenario, course, SHED_ZONE, scenario.openedAtMs + 16 * HOUR_MS);
    const meanC = course
      .filter((now) => now.atMs > scenario.openedAtMs - 23.6 * HOUR_MS)
      .reduce((sum, now, _, all) => sum + now.coldC / all.length, 0);
    expect(film?.recoatEarned).toBeCloseTo(39.6 / hoursOf(SLOW_EPOXY, "recoatFromH")(meanC), 1);
    expect(film?.closedAtMs).toBeGreaterThan(scenario.openedAtMs);
    expect(film?.dewedMin).toBe(0);
    expect(trueFilm(scenario, course, SHED_ZONE, scenario.openedAtMs - 40 * HOUR_MS)).toBeNull();
  });
});
