// Water on the surface: what washing leaves, what dew leaves, how it dries, and what a person finds.
import { describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { zoneState } from "#core/zone/state.ts";
import { entry, ground, HOUR_MS, nightLog, NOON_MS, poured } from "../../support/night-log.ts";

const ago = (hours: number) => NOON_MS - hours * HOUR_MS;
type Says = Readonly<Record<string, number | ((atMs: number) => number)>>;

function zone(work: readonly JournalEntry[], says: Says = {}, film = false) {
  const journal = film ? [...ground(ago(40)), poured(0, ago(30)), ...work] : [...ground(ago(60)), ...work];
  const log = nightLog({ says, journal, hours: 60 });
  const at = (nowMs: number) => zoneState(log, "a", { nowMs, heardByMs: nowMs }).water;
  return { at, call: () => judgeZone(log, "a", NOON_MS).call };
}
const washed = (hours: number) => [entry("washed", ago(hours)), entry("cleaned", ago(hours - 0.1))];

describe("after washing", () => {
  it("200 g/m2 stand on the floor and dry within plausible hours", () => {
    // Slab 16 °C, dew point 4.9 °C: vapour pressures 1818 and 866 Pa; by the Lewis relation at 2 W/m2K 46.9 g/m2 an hour.
    const { at } = zone(washed(12));
    expect(at(ago(12)).gPerM2).toBe(200);
    expect(at(ago(11)).gPerM2).toBeCloseTo(153, -0.5);
    expect(at(ago(8)).gPerM2).toBeCloseTo(14, -0.5);
    expect(at(ago(7.5)).gPerM2).toBe(0);
  });

  it("damp air dries it slower, a slab at the dew point not at all", () => {
    expect(zone(washed(5), { rh: 70 }).at(NOON_MS).gPerM2).toBeGreaterThan(zone(washed(5)).at(NOON_MS).gPerM2 + 50);
    expect(zone(washed(12), { slab: 4.9 }).at(NOON_MS).gPerM2).toBeGreaterThan(199);
  });

  it("a gap dries nothing", () => {
    const silent = (atMs: number) => (atMs > ago(9) && atMs < ago(3) ? Number.NaN : 16);
    const { at } = zone(washed(10), { slab: silent });
    expect(at(ago(3)).gPerM2).toBeCloseTo(at(ago(9)).gPerM2, 9);
    expect(at(NOON_MS).gPerM2).toBeLessThan(at(ago(3)).gPerM2);
  });

  it("the zone waits until it is balanced dry, or found dry or clean", () => {
    expect(zone(washed(2)).call()).toMatchObject({ call: "wait", limiting: "surface-damp" });
    expect(zone(washed(10)).call().call).toBe("pour");
    for (const surface of ["dry", "clean"]) {
      expect(zone([...washed(2), entry("inspected", ago(0.5), { surface })], {}, true).call().call).toBe("pour");
    }
  });
});

describe("dew", () => {
  const wet = (atMs: number) => (atMs > ago(6) && atMs <= ago(4) ? 100 : 30);
  it("that formed on the slab has to dry", () => {
    // Slab 15 °C under saturated air of 17 °C: 232 Pa, 22.8 g/m2 an hour at 4 W/m2K.
    const { at } = zone([], { slab: 15, rh: wet });
    expect(at(ago(4)).gPerM2).toBeCloseTo(46, -1);
    expect(at(NOON_MS).gPerM2).toBe(0);
  });
});

describe("found damp", () => {
  it("stands until found dry or clean, whatever the sums say and however long ago", () => {
    for (const hours of [2, 20, 55]) {
      expect(zone([entry("inspected", ago(hours), { surface: "damp" })]).call(), `${hours} h`).toMatchObject({
        call: "wait",
        limiting: "surface-damp",
      });
    }
    const dry = [entry("inspected", ago(55), { surface: "damp" }), entry("inspected", ago(1), { surface: "dry" })];
    expect(zone(dry).call().call).toBe("pour");
  });

  it("clears only what happened before it", () => {
    const again = [entry("inspected", ago(2), { surface: "dry" }), entry("inspected", ago(1), { surface: "damp" })];
    expect(zone(again).call().limiting).toBe("surface-damp");
  });

  it("before the coat went down says nothing of the film", () => {
    expect(zone([entry("inspected", ago(35), { surface: "damp" })], {}, true).call().call).toBe("pour");
  });

  it("washing long ago on a slab that was not watched counts from when it is watched again", () => {
    const watched = (atMs: number) => (atMs < ago(49) ? Number.NaN : 4.9);
    expect(
      zone(washed(55), { slab: watched })
        .call()
        .rules.find((rule) => rule.rule === "surface-damp")?.outcome,
    ).toBe("stop");
  });
});
