// What the study takes for true, on courses made by hand: cure, closing, dew, nights, and what is fit.
import { describe, expect, it } from "vitest";
import { isoFromMs } from "#contract/primitives.ts";
import { FAST_EPOXY, ONE_LINE_EPOXY, POLYASPARTIC_TOP, SLOW_EPOXY } from "../../../firmware-sim/scenario/sheets.ts";
import type { Scenario } from "../../../firmware-sim/scenario/scenario.ts";
import { shed, shedNode, SHED_ZONE } from "../../../firmware-sim/scenario/shed.ts";
import { hoursOf } from "../../../firmware-sim/night/clocks.ts";
import { closesAtMs, filmTruth } from "../../../firmware-sim/study/film-truth.ts";
import { truthOf } from "../../../firmware-sim/study/fit.ts";
import { dewSafeGains, nightTruth } from "../../../firmware-sim/study/night-truth.ts";
import { type Course, STEP_MS } from "../../../firmware-sim/study/play.ts";

const H = 3_600_000;
const T0 = Date.UTC(2026, 1, 3);
const STEPS_A_DAY = (24 * H) / STEP_MS;

/** A floor of so many days: slab, air and dew point as functions of the hour. */
function course(days: number, at: (hour: number) => { slabC: number; dewPointC: number; hotC?: number }): Course {
  const length = days * STEPS_A_DAY;
  const of = (value: (hour: number) => number) => Float64Array.from({ length }, (_, k) => value((k * STEP_MS) / H));
  return {
    fromMs: T0,
    length,
    coldC: of((hour) => at(hour).slabC),
    hotC: of((hour) => at(hour).hotC ?? at(hour).slabC),
    airC: of((hour) => at(hour).slabC + 1),
    rhPct: of(() => 60),
    dewPointC: of((hour) => at(hour).dewPointC),
    marginK: of((hour) => at(hour).slabC - at(hour).dewPointC),
    riseKPerH: of(() => 0),
    wetGPerM2: of(() => 0),
  };
}

const unsure = (of: Course) => new Float64Array(of.length).fill(0.5);

describe("hours of a sheet", () => {
  it("stand at its rows, run straight in the logarithm between them, and end as the design says", () => {
    expect(hoursOf(SLOW_EPOXY, "recoatFromH")(15)).toBe(16);
    expect(hoursOf(SLOW_EPOXY, "recoatFromH")(12.5)).toBeCloseTo(Math.sqrt(26 * 16), 9);
    expect(hoursOf(SLOW_EPOXY, "recoatFromH")(9)).toBe(Number.POSITIVE_INFINITY);
    expect(hoursOf(SLOW_EPOXY, "recoatFromH")(40)).toBe(5);
    expect(hoursOf(SLOW_EPOXY, "recoatUntilH")(2)).toBe(60);
    // The last slope (25 to 18 h in 5 K) halves in 10.55 K: halving in 10 K is steeper.
    expect(hoursOf(SLOW_EPOXY, "recoatUntilH")(40)).toBeCloseTo(9, 9);
    expect(hoursOf(SLOW_EPOXY, "dewSafeH")(35)).toBeCloseTo(1.3 * 5, 9);
    // Arrhenius with 70 kJ/mol from 21 to 11 °C: exp(70000 / 8.314463 x (1/284.15 - 1/294.15)) = 2.738.
    expect(hoursOf(ONE_LINE_EPOXY, "recoatFromH")(11)).toBeCloseTo(11 * 2.738, 1);
    expect(hoursOf(ONE_LINE_EPOXY, "recoatFromH")(6.9)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("a film", () => {
  const pour = { coat: 0, fromMs: T0 + 2 * H, toMs: T0 + 4 * H };

  it("earns by its coldest spot from the end of its pour", () => {
    const floor = course(3, () => ({ slabC: 15, dewPointC: 5 }));
    const film = filmTruth(SLOW_EPOXY, floor, pour, unsure(floor), []);
    const step = (hour: number) => Math.round((hour * H) / STEP_MS);
    expect(film.earned[step(4) - 1]).toBe(0);
    expect(film.earned[step(12)]).toBeCloseTo(8 / 16, 1);
    expect(((film.opensMs as number) - pour.toMs) / H).toBeCloseTo(16, 0);
    expect(film.sensitive[step(2)]).toBe(1);
    expect(film.sensitive[step(21)]).toBe(0);
  });

  it("closes so many hours after the start of its pour, by its hottest hour or by the sum, whichever is earlier", () => {
    const steady = course(4, () => ({ slabC: 15, dewPointC: 5 }));
    expect(((closesAtMs(SLOW_EPOXY, steady, pour.fromMs) as number) - pour.fromMs) / H).toBeCloseTo(46, 1);
    // Two hot hours at 25 °C: the strict maximum is 25 h from then on, for good.
    const hotOnce = course(4, (hour) => ({ slabC: 15, dewPointC: 5, hotC: hour >= 10 && hour < 12 ? 25 : 15 }));
    expect(((closesAtMs(SLOW_EPOXY, hotOnce, pour.fromMs) as number) - pour.fromMs) / H).toBeCloseTo(25, 1);
    // Found late, it closes when it is found: 25 h are long over when the slab gets hot after 40 h.
    const hotLate = course(4, (hour) => ({ slabC: 15, dewPointC: 5, hotC: hour >= 42 ? 25 : 15 }));
    const late = ((closesAtMs(SLOW_EPOXY, hotLate, pour.fromMs) as number) - pour.fromMs) / H;
    expect(late).toBeGreaterThanOrEqual(40);
    expect(late).toBeLessThan(42);
    expect(closesAtMs({ ...SLOW_EPOXY, window: "open" }, steady, pour.fromMs)).toBeNull();
  });

  it("counts dew and low margins only while it is sensitive, and forgets the latter when it is found clean", () => {
    const floor = course(3, (hour) => ({ slabC: 15, dewPointC: hour >= 8 && hour < 9 ? 15.2 : hour > 40 ? 15.2 : 5 }));
    const plain = filmTruth(SLOW_EPOXY, floor, pour, unsure(floor), []);
    const looked = filmTruth(SLOW_EPOXY, floor, pour, unsure(floor), [T0 + 10 * H]);
    expect(plain.dewedMin.at(-1)).toBe(60);
    expect(plain.belowMin.at(-1)).toBe(60);
    expect(looked.belowMin.at(-1)).toBe(0);
    expect(looked.dewedMin.at(-1)).toBe(60);
  });
});

describe("a night", () => {
  it("lasts from the first square metre until the coat is past dew, and holds only if all of it does", () => {
    // Polyaspartic at 10 °C: 4 h from the end of a pour of one hour.
    const floor = course(2, (hour) => ({ slabC: 10, dewPointC: hour >= 12 && hour < 13 ? 8 : 4 }));
    const gains = dewSafeGains(POLYASPARTIC_TOP, floor);
    const from = (hour: number) => nightTruth(POLYASPARTIC_TOP, floor, gains, (hour * H) / STEP_MS, 12);
    expect(((from(2).endStep as number) * STEP_MS) / H - 2).toBeCloseTo(5, 0);
    expect(from(2)).toMatchObject({ holds: true, lowestMarginK: 6, softMin: 0, dewedMin: 0 });
    expect(from(8)).toMatchObject({ holds: false, lowestMarginK: 2, softMin: 60, dewedMin: 0 });
    expect(from(13)).toMatchObject({ holds: true });
    // Nothing is known of the end: it does not hold.
    expect(from(46)).toMatchObject({ holds: false, endStep: null });
  });

  it("fails when the slab falls below the least of the sheet", () => {
    const floor = course(2, (hour) => ({ slabC: hour >= 6 && hour < 7 ? 1.5 : 5, dewPointC: -5 }));
    const gains = dewSafeGains(FAST_EPOXY, floor);
    expect(nightTruth(FAST_EPOXY, floor, gains, 0, 12)).toMatchObject({ holds: false, coldestC: 1.5 });
  });
});

function scenarioWith(journal: Scenario["journal"]): Scenario {
  return {
    id: "by-hand",
    title: "by hand",
    seed: 1,
    openedAtMs: T0 + 24 * H,
    fromMs: T0,
    settleMs: 0,
    site: { id: "by-hand", timezone: "UTC", altitudeM: 0 },
    sheets: [FAST_EPOXY, POLYASPARTIC_TOP],
    zones: [
      {
        id: SHED_ZONE,
        name: "Floor",
        areaM2: 80,
        pourM2PerH: 80,
        system: [FAST_EPOXY.id, POLYASPARTIC_TOP.id],
        base: "porous",
      },
    ],
    nodes: [shedNode(300)],
    building: shed({ floor: "on-grade", shell: "tight", heat: null, startC: 10 }, 0, T0),
    weather: () => ({ airC: 5, dewPointC: 0, windMPerS: 1, sunWPerM2: 0, cloud: 1 }),
    journal,
    expect: [],
  };
}
const at = (hour: number, did: object) =>
  ({ at: isoFromMs(T0 + hour * H), zone: SHED_ZONE, ...did }) as Scenario["journal"][number];
const READY = [at(1, { did: "abraded", how: "ground" }), at(2, { did: "cleaned" })];
const POURED = [...READY, at(4, { did: "poured", coat: 0, from: isoFromMs(T0 + 3 * H), to: isoFromMs(T0 + 4 * H) })];

describe("fit", () => {
  const step = (hour: number) => Math.round((hour * H) / STEP_MS);

  it("asks for an hour of good limits, a clean bare slab and a night that holds", () => {
    const floor = course(4, (hour) => ({ slabC: 10, dewPointC: hour < 30 ? 8 : 4 }));
    const truth = truthOf(scenarioWith(READY), floor, false);
    expect(truth.fit(step(29))).toBe(false);
    expect(truth.fit(step(30.9))).toBe(false);
    expect(truth.fit(step(31))).toBe(true);
    expect(truth.comfortable(step(31))).toBe(false);
    expect(truth.comfortable(step(45))).toBe(true);
    expect(truth.comesFitMs(step(24), 36)).toBe(T0 + 31 * H);
    expect(truth.comesFitMs(step(24), 6)).toBeNull();
    const dusty = truthOf(scenarioWith([at(1, { did: "abraded", how: "ground" })]), floor, false);
    expect(dusty.fit(step(40))).toBe(false);
    expect(dusty.comesFitMs(step(24), 36)).toBeNull();
  });

  it("asks for a bare porous slab that does not warm fast; a sealed one may", () => {
    const floor = course(4, () => ({ slabC: 10, dewPointC: 4 }));
    floor.riseKPerH.fill(1.5);
    expect(truthOf(scenarioWith(READY), floor, false).fit(step(40))).toBe(false);
    expect(truthOf(scenarioWith(POURED), floor, false).fit(step(20))).toBe(true);
  });

  it("asks for a film that is hard, unhurt and open until the last square metre", () => {
    // Fast epoxy at 12 °C: hard after 6 h from its end, closed 24 h after its start at hour 3.
    const floor = course(4, () => ({ slabC: 12, dewPointC: 4 }));
    const truth = truthOf(scenarioWith(POURED), floor, false);
    expect(truth.fit(step(9))).toBe(false);
    expect(truth.fit(step(11))).toBe(true);
    expect(truth.fit(step(25.9))).toBe(true);
    expect(truth.fit(step(26.2))).toBe(false);
    expect(truth.comfortable(step(24.5))).toBe(true);
    expect(truth.comfortable(step(25.5))).toBe(false);
    const dewed = course(4, (hour) => ({ slabC: 12, dewPointC: hour >= 6 && hour < 6.5 ? 12.5 : 4 }));
    expect(truthOf(scenarioWith(POURED), dewed, false).fit(step(20))).toBe(false);
  });
});
