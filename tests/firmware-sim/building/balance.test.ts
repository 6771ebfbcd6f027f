// The simulated building keeps its books: heat and water that it holds is what came in, and it repeats by seed.
import { describe, expect, it } from "vitest";
import { sumBooks } from "../../../firmware-sim/building/account.ts";
import { Building } from "../../../firmware-sim/building/building.ts";
import { shed, SHED_ZONE } from "../../../firmware-sim/scenario/shed.ts";
import { hourlyWeather, riverWinter, type Weather } from "../../../firmware-sim/building/weather.ts";
import { heronReach } from "../../../firmware-sim/scenario/heron-reach/demo-night.ts";
import { worldOf } from "../../../firmware-sim/scenario/play.ts";

const H = 3_600_000;
const T0 = Date.UTC(2026, 0, 12, 18);
const steady = (airC: number, dewPointC: number, windMPerS = 0): Weather =>
  hourlyWeather([{ atMs: T0, airC, dewPointC, windMPerS, sunWPerM2: 0, cloud: 1 }]);

describe("books of the building", () => {
  it("close over three changing days: heat within a millionth, water within a milligram", () => {
    const scenario = heronReach(T0, 5);
    const { building } = worldOf(scenario);
    const held = building.held();
    const heat = sumBooks(building.heatBooks);
    const water = sumBooks(building.waterBooks);
    building.advanceTo(T0 + 18 * H);
    const now = building.held();
    const heatIn = sumBooks(building.heatBooks) - heat;
    expect(Math.abs(now.heatJ - held.heatJ - heatIn) / Math.abs(now.heatJ)).toBeLessThan(1e-6);
    expect(Math.abs(now.waterKg - held.waterKg - (sumBooks(building.waterBooks) - water))).toBeLessThan(1e-6);
    expect(building.heatBooks.heaterJ).toBeGreaterThan(1e8);
    expect(building.waterBooks.airBorderKg).not.toBe(0);
  });

  it("hold the film of water that dew leaves, and dry it again", () => {
    // Warm wet air enters a cold shed for a day, then cold dry air.
    const hours = [0, 24, 26, 80].map((h) => ({
      atMs: T0 + h * H,
      airC: h <= 24 ? 12 : 6,
      dewPointC: h <= 24 ? 11.4 : -4,
      windMPerS: 4,
      sunWPerM2: 0,
      cloud: 1,
    }));
    const building = new Building(
      shed({ floor: "on-grade", shell: "loose", heat: null, startC: 5, groundC: 5 }, 0, T0),
      hourlyWeather(hours),
      T0,
    );
    building.advanceTo(T0 + 20 * H);
    const wet = building.surfaceOf(SHED_ZONE, "middle");
    expect(wet.filmKgPerM2).toBeGreaterThan(0.01);
    expect(wet.slabC).toBeLessThan(building.roomOf(SHED_ZONE).dewPointC);
    const held = building.held();
    const water = sumBooks(building.waterBooks);
    building.advanceTo(T0 + 80 * H);
    expect(building.surfaceOf(SHED_ZONE, "middle").filmKgPerM2).toBe(0);
    expect(building.held().waterKg - held.waterKg).toBeCloseTo(sumBooks(building.waterBooks) - water, 6);
  });
});

describe("steady states", () => {
  it("an empty room ends at the temperature and water of outdoors", () => {
    const building = new Building(
      shed({ floor: "insulated", shell: "loose", heat: null, startC: 15, groundC: 4, dampKgPerH: 0 }, 0, T0),
      steady(4, 1),
      T0,
    );
    building.advanceTo(T0 + 40 * 24 * H);
    expect(building.roomOf(SHED_ZONE).airC).toBeCloseTo(4, 1);
    expect(building.roomOf(SHED_ZONE).dewPointC).toBeCloseTo(1, 1);
  });

  it("unvented heat leaves the water that its fumes bring against the air that carries it off", () => {
    const damp = (unvented: boolean) => {
      const building = new Building(
        shed(
          {
            floor: "insulated",
            shell: "tight",
            startC: 12,
            dampKgPerH: 0,
            heat: { powerKw: 12, targets: [{ fromMs: 0, targetC: 18 }], unvented },
          },
          0,
          T0,
        ),
        steady(2, -2),
        T0,
      );
      building.advanceTo(T0 + 10 * 24 * H);
      const fumes = building.waterBooks.fumesKg;
      const heat = building.heatBooks.heaterJ;
      return { dewPointC: building.roomOf(SHED_ZONE).dewPointC, fumesPerKwh: fumes / (heat / 3.6e6) };
    };
    // 0.117 to 0.127 kg of water per kWh of propane heat: stoichiometry, on net or gross heat.
    expect(damp(true).fumesPerKwh).toBeCloseTo(0.12, 6);
    expect(damp(false).fumesPerKwh).toBe(0);
    expect(damp(true).dewPointC).toBeGreaterThan(damp(false).dewPointC + 4);
  });

  it("a heater without fuel left stays off, and its thermostat cycles before", () => {
    const building = new Building(
      shed(
        {
          floor: "on-grade",
          shell: "loose",
          startC: 12,
          heat: { powerKw: 24, hysteresisK: 2, targets: [{ fromMs: 0, targetC: 15 }], fuel: { kwh: 120, fromMs: T0 } },
        },
        0,
        T0,
      ),
      steady(-2, -5, 3),
      T0,
    );
    let switches = 0;
    let was = false;
    for (let minute = 0; minute < 6 * 60; minute++) {
      building.advanceTo(T0 + minute * 60_000);
      const { heaterOn } = building.roomOf(SHED_ZONE);
      if (heaterOn !== was) switches += 1;
      was = heaterOn;
    }
    expect(switches).toBeGreaterThan(4);
    building.advanceTo(T0 + 48 * H);
    expect(building.heatBooks.heaterJ / 3.6e6).toBeCloseTo(120, 0);
    expect(building.roomOf(SHED_ZONE).heaterOn).toBe(false);
    expect(building.roomOf(SHED_ZONE).airC).toBeLessThan(5);
  });
});

describe("seed", () => {
  const course = (seed: number) => {
    const weather = riverWinter({
      seed,
      midnightMs: T0,
      meanC: 5,
      swingK: 4,
      dewPointC: 1,
      mistK: 1,
      wanderK: 0.6,
      windMPerS: 3,
    });
    return [0, 7, 19, 31].map((h) => weather(T0 + h * H));
  };
  it("repeats the weather, and another seed changes it", () => {
    expect(course(3)).toEqual(course(3));
    expect(course(3)).not.toEqual(course(4));
  });
});
