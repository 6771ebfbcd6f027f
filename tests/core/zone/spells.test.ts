// Spells of doubt: what a fault has spoiled stays out of the past after it ended, and one bad probe does not silence the rest.
import { describe, expect, it } from "vitest";
import { dewPointC, rhPctFromDewPoint } from "#core/air/dew-point.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { Series } from "#core/zone/site.ts";
import { zoneState } from "#core/zone/state.ts";
import {
  type Course,
  ground,
  heardFrom,
  HOUR_MS,
  lively,
  MINUTE_MS,
  nightLog,
  nodeOf,
  NOON_MS,
  poured,
} from "../../support/night-log.ts";

type Says = Readonly<Record<string, Course>>;
type Shift = (series: Series) => Series;
const stretch = { fromMs: NOON_MS - 50 * HOUR_MS, toMs: NOON_MS, everyS: 300 };
const ago = (hours: number) => NOON_MS - hours * HOUR_MS;
const usual = { slab: lively(16), air: lively(17), rh: lively(45) };
const fahrenheit = (valueC: number) => valueC * 1.8 + 32;
/** `bad` between two times, else `good`. */
const between =
  (fromH: number, toH: number, bad: Course, good: Course): Course =>
  (atMs) => {
    const course = atMs >= ago(fromH) && atMs < ago(toH) ? bad : good;
    return typeof course === "number" ? course : course(atMs);
  };

function judged(n1: Says, n2: Says | null = null, journal: readonly JournalEntry[] = [], shift: Shift = (one) => one) {
  const log = nightLog({
    nodes: n2 === null ? [nodeOf("n1")] : [nodeOf("n1"), nodeOf("n2")],
    series: [
      ...heardFrom("n1", { ...usual, ...n1 }, stretch).map(shift),
      ...(n2 === null ? [] : heardFrom("n2", { ...usual, ...n2 }, stretch)),
    ],
    journal: [...ground(NOON_MS, 22), ...journal],
  });
  const state = zoneState(log, "a", { nowMs: NOON_MS, heardByMs: NOON_MS });
  const kinds = state.trust.doubts.map((doubt) => `${doubt.probe} ${doubt.kind}`);
  const { line } = state;
  const at = (column: Float64Array, hours: number) => column[line.atMs.indexOf(ago(hours))] ?? Number.NaN;
  return { state, kinds, at, line, call: judgeZone(log, "a", NOON_MS).call };
}
const outcome = (call: ReturnType<typeof judged>["call"], rule: string) =>
  call.rules.find((result) => result.rule === rule)?.outcome;

describe("a node that spoke in another unit for a while", () => {
  const inF = (fromH: number, toH: number): Says => ({
    slab: between(fromH, toH, fahrenheit(16), lively(16)),
    air: between(fromH, toH, fahrenheit(17), lively(17)),
  });
  it("is quiet there and heard before and after: nothing of it is hot, and a film has a gap to be looked at", () => {
    const { kinds, at, line, state, call } = judged(inF(8, 4), null, [poured(0, ago(20))]);
    expect(kinds).toEqual([]);
    expect(at(line.slabHotC, 6)).toBeNaN();
    expect([at(line.slabHotC, 9), at(line.slabHotC, 3)]).toEqual([16, 16]);
    expect(state.film?.closing.hottestHourC).toBeLessThan(16.1);
    expect(state.exposure?.gapMin).toBeCloseTo(245, 0);
    expect(call.limiting).toBe("inspect-due");
  });
  it("leaves the zone to the other node, its slab probe at its worst offset", () => {
    const { kinds, state, call } = judged(
      { slab: between(6, -1, fahrenheit(15), 15), air: between(6, -1, fahrenheit(17), lively(17)) },
      {},
    );
    expect(kinds).toEqual(["n1/slab unit", "n1/air unit"]);
    expect(state.conditions.slabColdC).toBeCloseTo(14.9375, 4);
    expect([call.call, outcome(call, "unit-doubt")]).toEqual(["pour", "caution"]);
  });
  it("is seen in the cold too, where its numbers alone might be a warm hall", () => {
    const cold = { slab: between(2, -1, fahrenheit(4), 4), air: between(2, -1, fahrenheit(5), 5) };
    expect(judged(cold).kinds).toEqual(["n1/slab unit", "n1/air unit"]);
    expect(judged({ slab: lively(4), air: between(2, -1, 24, 5) }).kinds).toEqual([]);
  });
});

describe("a slab probe that leaps onto the air", () => {
  const air = lively(19);
  it("has come off at that moment, and what it says from then on earns nothing", () => {
    const { kinds, at, line, call } = judged({ slab: between(5, -1, 19, lively(15)), air });
    expect(kinds).toEqual(["n1/slab detached"]);
    expect(at(line.slabColdC, 3)).toBeNaN();
    expect(at(line.slabColdC, 6)).toBe(15);
    expect(call.limiting).toBe("data-fault");
  });
  it("lies on the slab again when it leaves the air", () => {
    const { kinds, at, line } = judged({ slab: between(9, 4, 19, lively(15)), air });
    expect(kinds).toEqual([]);
    expect([at(line.slabColdC, 6), at(line.slabColdC, 3)]).toEqual([Number.NaN, 15]);
  });
  it("is not a slab that the sun warms, nor one that leaps elsewhere", () => {
    const warmed = (atMs: number) => 15 + 4 * Math.min(1, Math.max(0, (atMs - ago(5)) / HOUR_MS));
    expect(judged({ slab: lively(warmed), air }).kinds).toEqual([]);
    expect(judged({ slab: between(5, -1, 17, lively(15)), air }).kinds).toEqual([]);
  });
  it("takes its neighbour out of no conflict that it alone has made", () => {
    const nodes = [nodeOf("n1", { probes: { slab: { xM: 1, yM: 1 }, "slab.2": { xM: 1.5, yM: 1 } } })];
    const series = heardFrom("n1", { ...usual, air, "slab.2": between(3, -1, 19, lively(15.5)) }, stretch);
    const log = nightLog({ nodes, series, journal: ground(NOON_MS) });
    const { call } = judgeZone(log, "a", NOON_MS);
    expect([outcome(call, "data-conflict"), outcome(call, "data-fault")]).toEqual(["pass", "caution"]);
    expect(call.conditions.slabColdC).toBeLessThan(16);
  });
});

describe("a slab probe that goes there and back with the air", () => {
  /** Falls by 1.5 K from ten hours ago and rises by 2 K from six hours ago. */
  const air = (atMs: number) => {
    const hours = (atMs - ago(10)) / HOUR_MS;
    return 17 - Math.min(1.5, Math.max(0, (hours * 1.5) / 4)) + Math.min(2, Math.max(0, ((hours - 4) * 2) / 3));
  };
  const found = (slab: (atMs: number) => number) => judged({ air: lively(air), slab: lively(slab) }).kinds;
  it("has come off, although neither way went far", () => {
    expect(found((atMs) => air(atMs) - 0.2)).toEqual(["n1/slab detached"]);
  });
  it("is not a slab that turns later, nor one that shows a part of it", () => {
    expect(found((atMs) => air(atMs - 1.5 * HOUR_MS) - 0.2)).toEqual([]);
    expect(found((atMs) => 17 + 0.6 * (air(atMs) - 17))).toEqual([]);
  });
});

describe("humidity that leaps to its stop", () => {
  const wet = (fromH: number, toH: number) => ({ rh: between(fromH, toH, 100, lively(45)) });
  it("is a drop on the chip: no dew on the film, but a gap", () => {
    const { kinds, state } = judged(wet(8, 4), null, [poured(0, ago(20))]);
    expect(kinds).toEqual([]);
    expect([state.exposure?.dewMin, state.exposure?.belowMin]).toEqual([0, 0]);
    expect(state.exposure?.gapMin).toBeGreaterThan(235);
  });
  it("still wets a floor in the sums, since nobody can tell it from dew", () => {
    expect(judged({ slab: 15, ...wet(6, 1.5) }).state.water.gPerM2).toBeGreaterThan(10);
  });
  it("leaves the air to another chip, and keeps the vote of what it said before", () => {
    const { kinds, state, call } = judged({ rh: between(6, -1, 100, lively(50)) }, {});
    expect(kinds).toEqual(["n1/rh saturated"]);
    expect(state.conditions.dewPointC).toBeCloseTo(
      dewPointC(17.0625, 50.0625) - dewPointC(17.0625, 45.0625) + dewPointC(17, 45),
      1,
    );
    expect(call.call).toBe("pour");
  });
  it("is not damp that comes in an hour, nor steam that passes", () => {
    const slow = (atMs: number) => 45 + 55 * Math.min(1, Math.max(0, (atMs - ago(5)) / HOUR_MS));
    expect(judged({ rh: slow }).kinds).toEqual([]);
    expect(judged({ rh: between(3, 1.2, 100, lively(45)) }).kinds).toEqual([]);
  });
});

describe("a value that stopped, of a probe whose noise is known", () => {
  const cooling = (atMs: number) => 17 - 1.2 * Math.max(0, (atMs - ago(3)) / HOUR_MS);
  const air = lively(cooling);
  const rh: Course = (atMs) =>
    atMs < ago(2) ? rhPctFromDewPoint(cooling(atMs), 5) + (Math.round(atMs / MINUTE_MS) % 3) / 10 : 46.3;
  it("is told sooner, and stays out when it moves again", () => {
    expect(judged({ air, rh }).kinds).toEqual(["n1/rh frozen"]);
    const over = judged({ air, rh: between(9, 5, 46.3, lively(45)) });
    expect(over.kinds).toEqual([]);
  });
  it("is spared where the probe has stood still as long before", () => {
    expect(judged({ air, rh: (atMs) => Math.round(rhPctFromDewPoint(cooling(atMs), 5) / 10) * 10 }).kinds).toEqual([]);
  });
});

describe("a clock that was behind for a while", () => {
  it("leaves no readings of that time, and the node speaks again", () => {
    const behind: Shift = (series) => {
      const wrong = (atMs: number) => atMs >= ago(10) && atMs < ago(6);
      const kept = series.atMs.map((atMs, index) => ({
        atMs: wrong(atMs) ? atMs - 40 * MINUTE_MS : atMs,
        heardMs: atMs,
        value: series.values[index] as number,
      }));
      kept.sort((a, b) => a.atMs - b.atMs);
      return {
        ...series,
        atMs: kept.map(({ atMs }) => atMs),
        values: kept.map(({ value }) => value),
        heardMs: kept.map(({ heardMs }) => heardMs),
      };
    };
    const { kinds, at, line } = judged({}, null, [], behind);
    expect(kinds).toEqual([]);
    expect(line.atMs.indexOf(ago(8))).toBe(-1);
    expect([at(line.slabColdC, 11), at(line.slabColdC, 5)]).toEqual([16, 16]);
  });
});
