// Salt checks: what a chip was off by, what it said in its bag, and how the margin takes it.
import { describe, expect, it } from "vitest";
import { dewPointSlope } from "#core/air/dew-point.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { saltChecksOf, saltErrorPct } from "#core/zone/salt-check.ts";
import { zoneState } from "#core/zone/state.ts";
import { entry, ground, heardFrom, HOUR_MS, lively, nightLog, nodeOf, NOON_MS } from "../../support/night-log.ts";

const ago = (hours: number) => NOON_MS - hours * HOUR_MS;
const CHECK = { probe: "n1/rh", salt: "sodium-chloride", soakH: 12, readPct: 75.47, airC: 20 };
const check = (hours: number, fields: object = {}) => entry("salt-checked", ago(hours), { ...CHECK, ...fields });
const bagged = (hours: number) => entry("salt-bagged", ago(hours), { probe: "n1/rh", salt: "sodium-chloride" });

/** Two chips; the first says 75 % for `inBag` hours before now. */
function at(journal: readonly JournalEntry[], bag: readonly [number, number] = [0, 0], nowMs = NOON_MS) {
  const stretch = { fromMs: ago(60), toMs: nowMs, everyS: 300 };
  const rh = (atMs: number) => (atMs >= ago(bag[0]) && atMs <= ago(bag[1]) ? 75 : 45);
  const series = [
    ...heardFrom("n1", { slab: lively(16), air: lively(17), rh }, stretch),
    ...heardFrom("n2", { air: lively(17), rh: lively(44) }, stretch),
  ];
  const nodes = [nodeOf("n1"), nodeOf("n2")];
  const log = nightLog({ nodes, series, journal: [...ground(NOON_MS), ...journal] });
  return zoneState(log, "a", { nowMs, heardByMs: nowMs });
}
const sureK = (journal: readonly JournalEntry[]) => at(journal).conditions.marginUncertaintyK as number;

describe("the error of a check", () => {
  it("is read minus point; it counts after 8 h, the latest of each salt, the worse of the two", () => {
    // Common practice for the soak: 8 to 12 h.
    const checks = saltChecksOf(
      at([
        check(300, { readPct: 69.47 }),
        check(200, { readPct: 73.47 }),
        check(190, { salt: "magnesium-chloride", readPct: 36.07 }),
        check(180, { soakH: 7.9, readPct: 60 }),
      ]).record,
    );
    expect(checks.map(({ errorPct, valid }) => [Math.round(errorPct * 1e6) / 1e6, valid])).toEqual([
      [-6, true],
      [-2, true],
      [3, true],
      [-15.47, false],
    ]);
    expect(saltErrorPct(checks, "n1")).toBeCloseTo(3, 9);
    expect(saltErrorPct(checks, "n2")).toBe(0);
  });

  it("beyond the stated accuracy widens the margin to itself, either way; within it changes nothing", () => {
    const base = sureK([]);
    expect(sureK([check(100, { readPct: 76.4 })])).toBe(base);
    const off = sureK([check(100, { readPct: 71.47 })]);
    expect(sureK([check(100, { readPct: 79.47 })])).toBeCloseTo(off, 9);
    const { airMinC, rhMaxPct } = at([]).conditions;
    const slope = dewPointSlope(airMinC as number, rhMaxPct as number);
    expect(off).toBeCloseTo(Math.hypot(0.3, slope.kPerK * 0.2, slope.kPerRhPct * 4), 6);
    expect(sureK([check(100, { soakH: 5, readPct: 60 })])).toBe(base);
  });
});

describe("a chip in its bag", () => {
  it("does not speak for the zone, from the bagging on, and an hour after it came out", () => {
    const worst = (journal: readonly JournalEntry[], bag: [number, number], nowMs = NOON_MS) =>
      at(journal, bag, nowMs).conditions.rhMaxPct as number;
    expect(worst([], [2, 0])).toBe(75);
    // It keeps its vote by what it said before: within 2 % of the other.
    expect(worst([bagged(2)], [2, 0])).toBeLessThan(46);
    expect(worst([bagged(14), check(2, { readPct: 75 })], [14, 1.5])).toBeLessThan(46);
    expect(at([bagged(14), check(0.5)], [14, 0.5]).airVoices).toBe(1);
    expect(at([bagged(14), check(1.2)], [14, 1.2]).airVoices).toBe(2);
  });

  it("nor where only its end was told: its soak is left out", () => {
    const state = at([check(2)], [14, 2]);
    const values = state.probes.chips.find(({ node }) => node.id === "n1")?.rh.values ?? [];
    expect(Math.max(...values)).toBeLessThan(46);
    expect(values.length).toBeGreaterThan(300);
  });

  it("for days is silent, not forgotten, and laid back it speaks again", () => {
    const chips = at([bagged(58)], [58, 0]).probes.chips.map(({ node, rh }) => [node.id, rh.atMs.length > 0]);
    expect(chips).toEqual([
      ["n1", true],
      ["n2", true],
    ]);
    expect(at([bagged(58), entry("moved", ago(3), { probe: "n1/rh" })], [58, 3]).airVoices).toBe(2);
  });
});
