// The building around the floor: rough by its class, measured by its readings, or honestly unknown.
import { describe, expect, it } from "vitest";
import { leakWPerK, roughBuilding, statedBuilding } from "#core/heat/building.ts";
import { type BuildingPast, measuredBuilding } from "#core/heat/measured.ts";
import { heatEffect } from "#core/heat/warm.ts";
import { buildingOf } from "#core/heat/plan.ts";
import { loggedKW } from "#core/heat/past.ts";
import { zoneState } from "#core/zone/state.ts";
import { btuPerHFromKW, kFromFDifference, m3FromFt3 } from "#core/units.ts";
import {
  entry,
  ground,
  heardFrom,
  HOUR_MS,
  nightLog,
  NOON_MS,
  nodeOf,
  seriesOf,
  lively,
} from "../../support/night-log.ts";

const STEP_MS = 600_000;
const STEPS = 289;

/** Two days of a made-up building: heated by `kW` for some hours, then left alone; outdoors swings by the day. */
function pastOf(lossFactor: number, kW: number, offStep: number, noiseK = 0, outC = -2): BuildingPast {
  const guess = roughBuilding("loose", 150, 4.5);
  const truth = { ...guess, lossWPerK: guess.lossWPerK * lossFactor };
  const outdoorC = Float64Array.from({ length: STEPS }, (_, step) => outC + 4 * Math.sin(step / 23));
  const effect = heatEffect(
    truth,
    { kW, fuel: "diesel", vented: true },
    [{ fromStep: 30, toStep: offStep, targetC: 40 }],
    { airC: 6, slabC: 8, dewPointC: 0 },
    { airC: outdoorC, dewPointC: outdoorC },
    STEPS,
    STEP_MS,
  );
  const noisy = (column: Float64Array, phase: number) =>
    column.map((value, step) => value + noiseK * Math.sin(step * 7.3 + phase));
  return {
    stepMs: STEP_MS,
    airC: noisy(effect.with.airC, 0),
    slabC: noisy(effect.with.slabC, 2),
    outdoorC: noisy(outdoorC, 4),
    heatKW: Float64Array.from({ length: STEPS }, (_, step) => (step >= 30 && step < offStep ? kW : 0)),
  };
}
const guess = roughBuilding("loose", 150, 4.5);
const truthWPerK = (factor: number) => guess.lossWPerK * factor;

describe("a rough building", () => {
  it("leaks by the trade's rule: 0.018 Btu/h per cubic foot, air change and °F", () => {
    // Source: common practice in field manuals, BTU/h = 0.018 x ft3 x ACH x dF; 0.33 W in round metric figures.
    const volumeFt3 = 200_000;
    const btuPerH = btuPerHFromKW((leakWPerK(m3FromFt3(volumeFt3), 1) * kFromFDifference(30)) / 1000);
    expect(btuPerH / (0.018 * volumeFt3 * 30)).toBeGreaterThan(0.95);
    expect(btuPerH / (0.018 * volumeFt3 * 30)).toBeLessThan(1.05);
  });

  it("loses more the looser, the larger and the higher it is", () => {
    const losses = (["tight", "loose", "open"] as const).map((kind) => roughBuilding(kind, 100, 4).lossWPerK);
    expect(losses).toEqual([...losses].sort((a, b) => a - b));
    expect(roughBuilding("tight", 200, 4).lossWPerK).toBeGreaterThan(losses[0] as number);
    expect(roughBuilding("tight", 100, 6).lossWPerK).toBeGreaterThan(losses[0] as number);
    expect(statedBuilding("tight", 100, 4)).toEqual({ ...roughBuilding("tight", 100, 4), basis: "stated" });
  });
});

describe("a measured building", () => {
  it.each([0.5, 1, 2])("finds a loss of %f times the guess from two days with a heater and its stop", (factor) => {
    const found = measuredBuilding(guess, pastOf(factor, 25, 150));
    expect(found?.basis).toBe("measured");
    expect((found?.lossWPerK ?? 0) / truthWPerK(factor)).toBeGreaterThan(0.85);
    expect((found?.lossWPerK ?? 0) / truthWPerK(factor)).toBeLessThan(1.15);
  });

  it("finds it without any heater, from air that lies between slab and outdoors", () => {
    const found = measuredBuilding(guess, pastOf(1.5, 0, 30, 0, -9));
    expect((found?.lossWPerK ?? 0) / truthWPerK(1.5)).toBeGreaterThan(0.8);
    expect((found?.lossWPerK ?? 0) / truthWPerK(1.5)).toBeLessThan(1.2);
  });

  it("finds it through the noise of cheap probes", () => {
    const found = measuredBuilding(guess, pastOf(1, 25, 150, 0.2));
    expect((found?.lossWPerK ?? 0) / truthWPerK(1)).toBeGreaterThan(0.7);
    expect((found?.lossWPerK ?? 0) / truthWPerK(1)).toBeLessThan(1.3);
  });

  it("says nothing when nobody logged heat, outdoors is unknown, or inside is as outside", () => {
    const past = pastOf(1, 25, 150);
    const unknown = new Float64Array(STEPS).fill(Number.NaN);
    expect(measuredBuilding(guess, { ...past, heatKW: unknown })).toBeNull();
    expect(measuredBuilding(guess, { ...past, outdoorC: unknown })).toBeNull();
    expect(measuredBuilding(guess, { ...past, outdoorC: past.airC })).toBeNull();
    const short = (column: ArrayLike<number>) => Float64Array.from(column).subarray(0, 20);
    expect(
      measuredBuilding(guess, {
        stepMs: STEP_MS,
        airC: short(past.airC),
        slabC: short(past.slabC),
        outdoorC: short(past.outdoorC),
        heatKW: short(past.heatKW),
      }),
    ).toBeNull();
  });

  it("leaks never make up all of a small loss", () => {
    const found = measuredBuilding(guess, pastOf(0.25, 15, 150));
    expect(found === null || leakWPerK(found.volumeM3, found.airChangesPerH) <= 0.8 * found.lossWPerK + 1e-9).toBe(
      true,
    );
    expect(found?.airChangesPerH ?? 0).toBeLessThan(guess.airChangesPerH);
  });
});

describe("a building measured through its log", () => {
  const TRUTH = roughBuilding("loose", 80);
  const fromMs = NOON_MS - (STEPS - 1) * STEP_MS;
  const offMs = fromMs + 150 * STEP_MS;
  const past = pastOfLog(40);

  /** Two days of the log's own building: a heater for a day, then none. */
  function pastOfLog(kW: number) {
    const outdoorC = Float64Array.from({ length: STEPS }, (_, step) => -6 + 3 * Math.sin(step / 23));
    return {
      outdoorC,
      course: heatEffect(
        { ...TRUTH, lossWPerK: 1.6 * TRUTH.lossWPerK },
        { kW, fuel: "diesel", vented: true },
        [{ fromStep: 0, toStep: 150, targetC: 60 }],
        { airC: 6, slabC: 8, dewPointC: -4 },
        { airC: outdoorC, dewPointC: outdoorC },
        STEPS,
        STEP_MS,
      ).with,
    };
  }
  const on = entry("heating", fromMs - HOUR_MS, { on: true, kW: 40, fuel: "diesel", vented: true });
  const off = entry("heating", offMs, { on: false });
  const logOf = (journal: ReturnType<typeof entry>[], outdoors = true) => {
    const course = (column: Float64Array) => (atMs: number) =>
      column[Math.round((atMs - fromMs) / STEP_MS)] ?? Number.NaN;
    const stretch = { fromMs, toMs: NOON_MS };
    return nightLog({
      nodes: [nodeOf("n1"), ...(outdoors ? [nodeOf("yard", { zone: null })] : [])],
      journal: [...ground(NOON_MS), ...journal],
      series: [
        ...heardFrom("n1", { slab: course(past.course.slabC), air: course(past.course.airC), rh: lively(40) }, stretch),
        ...(outdoors ? [seriesOf("yard", "air", course(past.outdoorC), stretch)] : []),
      ],
    });
  };
  const found = (journal: ReturnType<typeof entry>[], outdoors = true) =>
    buildingOf(zoneState(logOf(journal, outdoors), "a", { nowMs: NOON_MS, heardByMs: NOON_MS }), null);

  it("by the heat in the journal and a node outdoors", () => {
    const building = found([on, off]);
    expect(building.basis).toBe("measured");
    expect(building.lossWPerK / TRUTH.lossWPerK).toBeGreaterThan(1.3);
    expect(building.lossWPerK / TRUTH.lossWPerK).toBeLessThan(1.9);
  });

  it("not without either", () => {
    expect(found([]).basis).toBe("rough");
    expect(found([on, off], false).basis).toBe("rough");
    expect(found([]).lossWPerK).toBe(TRUTH.lossWPerK);
  });

  it("counts a heater as known only while it is off, or runs flat out", () => {
    const heating = (fields: Record<string, unknown>, atMs = 0) =>
      entry("heating", atMs, fields) as Extract<ReturnType<typeof entry>, { did: "heating" }>;
    expect(loggedKW([], HOUR_MS, 10)).toBeNaN();
    expect(loggedKW([heating({ on: true })], HOUR_MS, 10)).toBeNaN();
    expect(loggedKW([heating({ on: true, kW: 20 })], HOUR_MS, 10)).toBe(20);
    expect(loggedKW([heating({ on: true, kW: 20, targetC: 18 })], HOUR_MS, 10)).toBe(20);
    expect(loggedKW([heating({ on: true, kW: 20, targetC: 18 })], HOUR_MS, 17.5)).toBeNaN();
    expect(loggedKW([heating({ on: true, kW: 20, toMs: HOUR_MS })], HOUR_MS, 10)).toBe(0);
    expect(loggedKW([heating({ on: true, kW: 20 }), heating({ on: false }, HOUR_MS)], 2 * HOUR_MS, 10)).toBe(0);
    expect(loggedKW([heating({ on: true, kW: 20, fromMs: 5 * HOUR_MS })], HOUR_MS, 10)).toBeNaN();
  });
});
