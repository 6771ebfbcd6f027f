// What heat does to a room: the trade's lags and damp rooms, the balance of energy, and what must never depend on power.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { roughBuilding, statedBuilding } from "#core/heat/building.ts";
import type { FloorBase } from "#core/heat/floor.ts";
import { USUAL_FLOOR } from "#core/heat/floor.ts";
import { heatEffect, type HeatSetting } from "#core/heat/warm.ts";
import { cFromF, fFromC, ft2FromM2, kFromFDifference, kWFromBtuPerH, m2FromFt2, mFromFt } from "#core/units.ts";
import { numberOf, referenceRows } from "../../support/csv.ts";

const STEP_MS = 600_000;
const HALL = roughBuilding("tight", 93, 4.5);
const flat = (value: number, steps: number) => new Float64Array(steps).fill(value);
const outdoors = (airC: number, dewPointC: number, steps: number) => ({
  airC: flat(airC, steps),
  dewPointC: flat(dewPointC, steps),
});
const floorOn = (base: FloorBase, thicknessM = 0.15, filmWPerM2K = 8): HeatSetting => ({
  floor: { ...USUAL_FLOOR, base, thicknessM, filmWPerM2K },
});

describe("the trade's table of lags", () => {
  // Source: tests/reference/site-heat: computed, one-dimensional, round properties; limit 25 % of the change.
  const rows = referenceRows("site-heat/slab-lag.csv");
  const settings: Record<string, HeatSetting> = {
    "on grade, uninsulated": floorOn({ kind: "on-grade" }),
    "on grade, insulated below": floorOn({ kind: "insulated" }),
    "suspended 8 in, warm both sides": floorOn({ kind: "suspended", below: "room" }, 0.2032),
    "suspended 8 in, 35 F air below": floorOn({ kind: "suspended", below: "outdoors" }, 0.2032),
    "on grade, still air": floorOn({ kind: "on-grade" }, 0.15, 5),
  };
  const steps = 96 * 6 + 1;

  it.each(Object.keys(settings))("%s: the surface at every printed hour", (situation) => {
    // A heater beyond all needs holds the air at 70 °F from the first minute on.
    const outC = situation.endsWith("below") && situation.startsWith("suspended") ? cFromF(35) : cFromF(40);
    const effect = heatEffect(
      HALL,
      { kW: 1e5, fuel: "electric", vented: true },
      [{ fromStep: 0, toStep: steps, targetC: cFromF(70) }],
      { airC: cFromF(40), slabC: cFromF(40), dewPointC: -2 },
      outdoors(outC, -2, steps),
      steps,
      STEP_MS,
      settings[situation],
    );
    const printed = rows.filter((row) => row.case === situation && row.quantity === "surfaceF");
    expect(printed).toHaveLength(8);
    for (const row of printed) {
      const riseF = fFromC(effect.with.slabC[numberOf(row, "hours") * 6] as number) - 40;
      const wantF = numberOf(row, "expected") - 40;
      expect(riseF / wantF, `${situation} ${row.hours} h`).toBeGreaterThan(0.75);
      expect(riseF / wantF, `${situation} ${row.hours} h`).toBeLessThan(1.25);
    }
  });

  it("the heat that a slab on grade takes", () => {
    // Without shell, leaks and things in the room all heat goes into air and slab.
    const bare = { ...HALL, lossWPerK: 0, wallMassJPerK: 0, wallWPerK: 0, floorM2: m2FromFt2(1000), volumeM3: 1 };
    const effect = heatEffect(
      bare,
      { kW: 1e5, fuel: "electric", vented: true },
      [{ fromStep: 0, toStep: steps, targetC: cFromF(70) }],
      { airC: cFromF(40), slabC: cFromF(40), dewPointC: -2 },
      outdoors(cFromF(40), -2, steps),
      steps,
      STEP_MS,
      floorOn({ kind: "on-grade" }),
    );
    const printed = rows.filter((row) => row.quantity === "heatKWhPer1000Ft2");
    expect(printed).toHaveLength(8);
    for (const row of printed) {
      const kWh = effect.energyKWh.slice(0, numberOf(row, "hours") * 6 + 1).reduce((sum, value) => sum + value, 0);
      expect(kWh / numberOf(row, "expected"), `${row.hours} h`).toBeGreaterThan(0.75);
      expect(kWh / numberOf(row, "expected"), `${row.hours} h`).toBeLessThan(1.25);
    }
    expect(ft2FromM2(bare.floorM2)).toBeCloseTo(1000, 6);
  });

  it("a slab after the heater goes off, and a warm-up morning", () => {
    // The air is given, so it is made to run as printed: a tiny room that loses all to an outdoors of that course.
    const glass = { ...HALL, lossWPerK: 1e9, wallMassJPerK: 0, wallWPerK: 0 };
    const courses: Record<string, { fromF: number; airF: (h: number) => number }> = {
      "heater off at 60 F": { fromF: 60, airF: (h) => 35 + 25 * Math.exp(-h / 3) },
      "warm-up morning from 45 F": { fromF: 45, airF: (h) => Math.min(68, 45 + (23 * h) / 3) },
    };
    for (const [situation, { fromF, airF }] of Object.entries(courses)) {
      const airC = Float64Array.from({ length: 24 * 6 + 1 }, (_, step) => cFromF(airF(step / 6)));
      const effect = heatEffect(
        glass,
        { kW: 0, fuel: "electric", vented: true },
        [],
        { airC: cFromF(fromF), slabC: cFromF(fromF), dewPointC: -2 },
        { airC, dewPointC: flat(-2, airC.length) },
        airC.length,
        STEP_MS,
        floorOn({ kind: "on-grade" }),
      );
      const printed = rows.filter((row) => row.case === situation && row.quantity === "surfaceF");
      expect(printed.length).toBeGreaterThanOrEqual(4);
      for (const row of printed) {
        const gotF = fFromC(effect.without.slabC[numberOf(row, "hours") * 6] as number);
        // Printed in whole degrees, and changes of one or two of them.
        const offK = Math.abs(kFromFDifference(gotF - numberOf(row, "expected")));
        const changeK = Math.abs(kFromFDifference(numberOf(row, "expected") - fromF));
        expect(offK, `${situation} ${row.hours} h`).toBeLessThan(0.25 * changeK + kFromFDifference(0.5));
      }
    }
  });
});

describe("fumes in the room", () => {
  it("settle at the dew points of the trade's table", () => {
    // Source: tests/reference/site-heat: hall of 10 000 ft² by 20 ft, outdoors 35 °F and 85 %, 300 000 Btu/h of propane.
    // The table counts the fuel's gross heat; the product the wetter net one, so the same water comes from less power.
    const grossShare = 46.35 / 50.35;
    const kW = kWFromBtuPerH(300_000) * grossShare;
    const outC = cFromF(35);
    const outDewC = cFromF(31);
    const steps = 300;
    for (const row of referenceRows("site-heat/ventilation.csv")) {
      const building = {
        ...statedBuilding("tight", m2FromFt2(10_000), mFromFt(20)),
        airChangesPerH: numberOf(row, "airChangesPerH"),
        // A floor so small that no dew on it bends the balance, and a loss that the heater just feeds at 65 °F.
        floorM2: 1e-6,
        lossWPerK: (1000 * kW) / kFromFDifference(30),
      };
      const heater = { kW: numberOf(row, "heaterWater") === 1 ? kW : 0, fuel: "propane", vented: false } as const;
      const effect = heatEffect(
        building,
        heater,
        [{ fromStep: 0, toStep: steps, targetC: 40 }],
        { airC: cFromF(65), slabC: cFromF(65), dewPointC: outDewC },
        outdoors(outC, outDewC, steps),
        steps,
        STEP_MS,
        { steadyKW: heater.kW === 0 ? kW : 0 },
      );
      const dewC = effect.with.dewPointC[steps - 1] as number;
      expect(Math.abs(dewC - cFromF(numberOf(row, "dewPointF"))), `${row.airChangesPerH} ACH`).toBeLessThan(0.6);
    }
  });

  it("leave dew on a floor that is colder than they are damp", () => {
    const run = (floorM2: number) =>
      heatEffect(
        { ...roughBuilding("tight", 200, 4), airChangesPerH: 0.25, floorM2 },
        { kW: 20, fuel: "propane", vented: false },
        [{ fromStep: 0, toStep: 73, targetC: 30 }],
        { airC: 5, slabC: 4, dewPointC: 2 },
        outdoors(2, 0, 73),
        73,
        STEP_MS,
      ).waterGPerKg[72] as number;
    expect(run(200)).toBeLessThan(run(1e-6));
    expect(run(200)).toBeGreaterThan(0);
  });
});

describe("the balance", () => {
  it("closes: what the heater gave is lost, in the floor, in the walls, or in the air", () => {
    const steps = 145;
    // An end on a coarse stretch: the last states of air, walls and cells can be had from the differences alone.
    const building = { ...roughBuilding("loose", 150, 5), wallMassJPerK: 0, wallWPerK: 0 };
    const effect = heatEffect(
      building,
      { kW: 30, fuel: "propane", vented: true },
      [{ fromStep: 0, toStep: 100, targetC: 18 }],
      { airC: 6, slabC: 7, dewPointC: 2 },
      outdoors(1, -1, steps),
      steps,
      STEP_MS,
    );
    const givenKWh = effect.energyKWh.reduce((sum, value) => sum + value, 0);
    const { airK, slabK } = effect;
    let lostKWh = 0;
    let floorKWh = 0;
    for (let step = 1; step < steps; step++) {
      // Between steps the differences run nearly straight, except in the hour after a switch.
      lostKWh += (building.lossWPerK * ((airK[step] as number) + (airK[step - 1] as number))) / 2 / 6000;
      const below = (at: number) => (airK[at] as number) - (slabK[at] as number);
      floorKWh += (8 * building.floorM2 * (below(step) + below(step - 1))) / 2 / 6000;
    }
    const airKWh = (1.2 * 1006 * building.volumeM3 * (airK[steps - 1] as number)) / 3.6e6;
    expect((lostKWh + floorKWh + airKWh) / givenKWh).toBeCloseTo(1, 1);
    expect(Math.abs(lostKWh + floorKWh + airKWh - givenKWh) / givenKWh).toBeLessThan(0.03);
  });
});

describe("what must hold for any heater", () => {
  const start = { airC: 7, slabC: 8, dewPointC: 4 };
  const steps = 217;
  const reach = (kW: number, fromStep = 0) => {
    const effect = heatEffect(
      HALL,
      { kW, fuel: "kerosene", vented: false },
      [{ fromStep, toStep: steps, targetC: 18 }],
      start,
      outdoors(2, 0, steps),
      steps,
      STEP_MS,
    );
    const step = effect.with.airC.findIndex((airC) => airC >= 17.9);
    return { effect, step: step < 0 ? steps : step };
  };

  it("more power never reaches the target later, and never leaves the slab colder", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 80, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (kW, more) => {
          const weak = reach(kW);
          const strong = reach(kW * more);
          expect(strong.step).toBeLessThanOrEqual(weak.step);
          for (let step = 0; step < steps; step++)
            expect(strong.effect.slabK[step] as number).toBeGreaterThanOrEqual(
              (weak.effect.slabK[step] as number) - 1e-9,
            );
        },
      ),
      { numRuns: 40 },
    );
  });

  it("the thermostat is never passed by heat, nor the slab by the air", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 500, noNaN: true }), fc.integer({ min: 0, max: 200 }), (kW, fromStep) => {
        const { effect } = reach(kW, fromStep);
        for (let step = 0; step < steps; step++) {
          expect(effect.with.airC[step] as number).toBeLessThanOrEqual(
            Math.max(18, effect.without.airC[step] as number) + 1e-6,
          );
          expect(effect.slabK[step] as number).toBeGreaterThanOrEqual(0);
          expect(effect.slabK[step] as number).toBeLessThanOrEqual(18 - 2);
        }
      }),
      { numRuns: 40 },
    );
  });

  it("without power, without a stretch, or before it begins nothing changes at all", () => {
    const none = reach(0).effect;
    expect([...none.airK, ...none.slabK, ...none.waterGPerKg, ...none.energyKWh].every((value) => value === 0)).toBe(
      true,
    );
    expect(none.with).toEqual(none.without);
    const late = reach(20, 100).effect;
    expect([...late.airK.slice(0, 101)].every((value) => value === 0)).toBe(true);
    expect(late.airK[101] as number).toBeGreaterThan(0);
  });
});
