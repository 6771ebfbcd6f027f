// What the material page reckons on its own: the clock of a mix, starts and times, the order as a table, codes on pails, words.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CallBody } from "#contract/call.ts";
import type { TakeoffBody } from "#contract/takeoff.ts";
import { MATERIAL_REASONS } from "#core/takeoff/material-check.ts";
import { countdown, mixMoment, type MixRun, mixRunFrom } from "../../dashboard/features/material/mix-clock.ts";
import { orderCsv } from "../../dashboard/features/material/order-csv.ts";
import { nextBatch, plannedPour, startsOf, termsOf } from "../../dashboard/features/material/plan-times.ts";
import { codeIn, type DetectorMaker } from "../../dashboard/features/material/read-code.ts";
import { materialText } from "../../dashboard/text/material.ts";
import { showMass, showUse, showVolume } from "../../dashboard/units/show-material.ts";
import { lFromUsGal, mmFromMil } from "#core/units.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { SAMPLE_AT_MS, SAMPLE_SHEETS } from "../support/sample-site.ts";
import { sampleTakeoff } from "../support/sample-takeoff.ts";
import { DICTIONARIES } from "./voice.ts";

const MIN = 60_000;
const run: MixRun = {
  ...{ coat: 0, batch: 2, startedMs: 1_000_000, at: "2026-02-03T22:10:00Z", volumeL: 11.4 },
  ...{ mixMin: 3, restMin: 5, lifeMin: 14 },
};
const takeoff = sampleTakeoff(
  SAMPLE_BOARD.zones.map(({ zone }) => zone),
  SAMPLE_SHEETS,
);

describe("the clock of a mix", () => {
  it.each([
    [0, "mixing", 3],
    [2.5, "mixing", 0.5],
    [3, "resting", 5],
    [8, "pail", 6],
    [14, "dead", 0],
    [600, "dead", 0],
  ])("after %d min: %s", (gone, stage, left) => {
    const moment = mixMoment(run, run.startedMs + gone * MIN);
    expect(moment.stage).toBe(stage);
    expect(moment.leftMs).toBe(left * MIN);
  });

  it("depends on the wall clock alone: whoever looks again later sees what is left then", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 20 * MIN }), fc.integer({ min: 0, max: 20 * MIN }), (a, b) => {
        const [early, late] = [Math.min(a, b), Math.max(a, b)];
        const before = mixMoment(run, run.startedMs + early).lifeLeftMs;
        expect(mixMoment(run, run.startedMs + late).lifeLeftMs).toBe(Math.max(0, before - (late - early)));
      }),
    );
  });

  it("a life that is shorter than the stirring ends it; a clock set back starts anew, never longer", () => {
    expect(mixMoment({ ...run, lifeMin: 2 }, run.startedMs + MIN)).toEqual({
      stage: "mixing",
      leftMs: MIN,
      lifeLeftMs: MIN,
    });
    expect(mixMoment(run, run.startedMs - 99 * MIN).lifeLeftMs).toBe(14 * MIN);
  });

  it("is written as minutes and seconds, rounded up", () => {
    expect([0, 1, 1000, 59_001, 60_000, 754_300].map(countdown)).toEqual([
      "0:00",
      "0:01",
      "0:01",
      "1:00",
      "1:00",
      "12:35",
    ]);
  });

  it("is read back from the device, and what is none or of yesterday is none", () => {
    const kept: unknown = JSON.parse(JSON.stringify(run));
    expect(mixRunFrom(kept, run.startedMs + MIN)).toEqual(run);
    expect(mixRunFrom(kept, run.startedMs + 13 * 60 * MIN)).toBeNull();
    for (const odd of [null, 7, {}, { ...run, lifeMin: "14" }, { ...run, at: undefined }])
      expect(mixRunFrom(odd, run.startedMs)).toBeNull();
  });
});

describe("starts and times", () => {
  const [zone] = takeoff.zones;
  const coat = zone?.coats.find(({ batches }) => batches !== null);
  if (zone === undefined || coat === undefined) throw new Error("the sample has no coat with batches");
  const terms = termsOf(coat, zone.areaM2);
  if (terms === null) throw new Error("no terms");
  const durationMs = (zone.areaM2 / coat.placeM2PerH) * 60 * MIN;
  const pour = (latestStartMs: number): CallBody => ({
    ...(SAMPLE_BOARD.zones[0] as (typeof SAMPLE_BOARD.zones)[number]).call,
    call: "pour",
    pour: {
      latestStartAt: new Date(latestStartMs).toISOString(),
      lastMixAt: new Date(latestStartMs + durationMs - 20 * MIN).toISOString(),
      finishBy: new Date(latestStartMs + durationMs).toISOString(),
      batchCapL: 3,
      fitsM2: zone.areaM2,
    },
  });

  it("the latest start keeps the last mix of the call too", () => {
    const call = pour(SAMPLE_AT_MS + 120 * MIN);
    const { latest, now } = startsOf(terms, call, SAMPLE_AT_MS);
    expect(now).toBe(SAMPLE_AT_MS + (coat.mixMin + coat.restMin) * MIN);
    expect(plannedPour(terms, call, latest as number).late).toEqual([]);
    expect(plannedPour(terms, call, (latest as number) + MIN).late.length).toBeGreaterThan(0);
  });

  it("a start now that is too late says what is late, and offers no other", () => {
    const call = pour(SAMPLE_AT_MS - 10 * MIN);
    const starts = startsOf(terms, call, SAMPLE_AT_MS);
    expect(Object.keys(starts)).toEqual(["now"]);
    expect(plannedPour(terms, call, starts.now as number).late).toContain("start");
  });

  it("a wait offers the foreseen opening first, and judges no times", () => {
    const likely = new Date(SAMPLE_AT_MS + 300 * MIN).toISOString();
    const call: CallBody = {
      ...pour(0),
      call: "wait",
      pour: null,
      next: { call: "pour", earliest: likely, likely, chance: 0.8 },
    };
    const starts = startsOf(terms, call, SAMPLE_AT_MS);
    expect(Object.keys(starts)).toEqual(["next", "now"]);
    expect(starts.next).toBe(SAMPLE_AT_MS + 300 * MIN);
    expect(plannedPour(terms, call, starts.now as number).late).toEqual([]);
  });

  it("the next batch is one more than anybody wrote", () => {
    const mixed = [1, 3].map((batch) => ({ batch, at: "2026-02-03T22:10:00Z", volumeL: null }));
    expect(nextBatch({ ...coat, mixed: [] }, 0)).toBe(1);
    expect(nextBatch({ ...coat, mixed }, 2)).toBe(4);
    expect(nextBatch({ ...coat, mixed }, 5)).toBe(6);
  });
});

describe("the order as a table", () => {
  const words = materialText(DICTIONARIES.en);
  const line = {
    ...{ sheet: "e1", name: 'Body, "2:1"', coats: 2, areaM2: 100, needL: lFromUsGal(9.9) },
    ...{ kitL: lFromUsGal(3), kits: 4 },
  };
  it("has the units of whoever copies it in its head, and fields by RFC 4180", () => {
    const csv = orderCsv([line], "us", words);
    expect(csv).toBe(
      'Product,Sheet,Coats,Area ft2,Volume US gal,Kit US gal,Kits\r\n"Body, ""2:1""",e1,2,1076.4,9.9,3,4\r\n',
    );
    expect(orderCsv([line], "si", words)).toContain(",100,37.48,11.36,4");
  });
  it("leaves open what is unknown, and lets no name become a formula", () => {
    const odd = { ...line, name: "=1+1", needL: null, kitL: null, kits: null };
    expect(orderCsv([odd], "si", words).split("\r\n")[1]).toBe("'=1+1,e1,2,100,,,");
  });
});

describe("amounts", () => {
  it.each([
    [lFromUsGal(3.01), "3.01\u00a0gal", "11.4\u00a0L"],
    [lFromUsGal(0.1), "12.8\u00a0fl\u00a0oz", "379\u00a0mL"],
    [lFromUsGal(112.5), "113\u00a0gal", "426\u00a0L"],
  ])("%d L", (litres, us, si) => {
    expect([showVolume(litres, "us"), showVolume(litres, "si")]).toEqual([us, si]);
  });
  it("use is a coverage and a film, mass in pounds or kilograms", () => {
    expect(showUse(mmFromMil(16), "us")).toBe("100\u00a0ft²/gal (16\u00a0mil)");
    expect(showUse(0.2, "si")).toBe("0.2\u00a0L/m² (200\u00a0µm)");
    expect([showMass(10, "us"), showMass(0.35, "si")]).toEqual(["22\u00a0lb", "350\u00a0g"]);
  });
});

describe("codes on a pail", () => {
  const reader = (...codes: string[]): DetectorMaker =>
    class {
      detect = async () => codes.map((rawValue) => ({ rawValue }));
    };
  it("the longest of them, without its blanks; none is none", async () => {
    const picture = {} as ImageBitmap;
    expect(await codeIn(picture, reader("4011", " 26-0107-A3 "))).toBe("26-0107-A3");
    expect(await codeIn(picture, reader(" "))).toBeNull();
    expect(await codeIn(picture, reader())).toBeNull();
  });
});

describe("words", () => {
  it.each(["en", "es"] as const)("%s has one for every doubt and state, and promises nothing", (language) => {
    const words = materialText(DICTIONARIES[language]);
    for (const reason of MATERIAL_REASONS) expect(words.doubts[reason].length).toBeGreaterThan(10);
    const states = new Set<TakeoffBody["zones"][number]["coats"][number]["state"]>(
      takeoff.zones.flatMap(({ coats }) => coats.map(({ state }) => state)),
    );
    for (const state of states) expect(words.states[state]).not.toBe("");
    const all = JSON.stringify(words).toLowerCase();
    expect(all.replaceAll("safety sheet", "")).not.toMatch(/\bsafe\b|guarante|garantiz|\bsegur[oa]\b/);
  });
});
