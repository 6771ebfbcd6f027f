// Faults of a value: one that stops, a poisoned humidity sensor, a chip in the sun. Measured against the sound node.
import { describe, expect, it } from "vitest";
import { Building } from "../../../firmware-sim/building/building.ts";
import { dewPointOfC, riverWinter } from "../../../firmware-sim/building/weather.ts";
import { Firmware } from "../../../firmware-sim/node/firmware.ts";
import type { NodeFault } from "../../../firmware-sim/node/spec.ts";
import { shed, shedNode } from "../../../firmware-sim/scenario/shed.ts";

const T0 = Date.UTC(2026, 1, 3, 12);
const H = 3_600_000;
const weather = riverWinter({
  seed: 3,
  midnightMs: T0 - 12 * H,
  meanC: 8,
  swingK: 5,
  dewPointC: 6,
  mistK: 0.5,
  wanderK: 0,
  windMPerS: 3,
});

/** What a node says, by quantity, every five minutes for 60 h in a damp shed. */
function said(faults: readonly NodeFault[]): ReadonlyMap<string, readonly number[]> {
  const building = new Building(
    shed({ floor: "on-grade", shell: "loose", heat: null, startC: 8, dampKgPerH: 0.6 }, 0, T0 - 12 * H),
    weather,
    T0,
  );
  const firmware = new Firmware(shedNode(300, faults), 4, T0);
  const out = new Map<string, number[]>();
  for (let atMs = T0; atMs < T0 + 60 * H; atMs += 300_000) {
    building.advanceTo(atMs);
    firmware.keepTime(atMs);
    firmware.sample(atMs, building);
    for (let pack = firmware.nextPack(); pack !== null; pack = firmware.nextPack()) {
      firmware.sent(pack);
      for (const round of pack.fresh)
        for (const { quantity, value } of round.values) out.set(quantity, [...(out.get(quantity) ?? []), value]);
    }
  }
  return out;
}

const sound = said([]);
const span = { fromMs: T0 + 6 * H, toMs: T0 + 58 * H };
const at = (hour: number) => hour * 12;
const of = (from: ReadonlyMap<string, readonly number[]>, quantity: string) => from.get(quantity) ?? [];

describe("a frozen value", () => {
  it("repeats the last round before it, alone, and goes on afterwards", () => {
    const frozen = said([{ kind: "frozen", quantity: "slab", ...span }]);
    const held = of(frozen, "slab").slice(at(6), at(58));
    expect(new Set(held)).toEqual(new Set([of(sound, "slab")[at(6) - 1]]));
    expect(of(frozen, "slab").slice(at(58))).toEqual(of(sound, "slab").slice(at(58)));
    expect(of(frozen, "slab.2")).toEqual(of(sound, "slab.2"));
    expect(of(frozen, "rh")).toEqual(of(sound, "rh"));
  });
});

describe("a poisoned humidity sensor", () => {
  it("reads low by up to 8 % in damp air, more as time goes, and leaves the temperatures alone", () => {
    const poisoned = said([{ kind: "poisoned", ...span }]);
    const low = of(sound, "rh").map((rhPct, i) => rhPct - (of(poisoned, "rh")[i] as number));
    expect(low.slice(0, at(6)).every((each) => each === 0)).toBe(true);
    expect(low.slice(at(58)).every((each) => each === 0)).toBe(true);
    const damp = low
      .map((each, i) => ({ each, rhPct: of(sound, "rh")[i] as number }))
      .filter(({ rhPct }) => rhPct > 90);
    expect(damp.length).toBeGreaterThan(20);
    expect(low[at(57)] as number).toBeGreaterThan(low[at(7)] as number);
    expect(Math.max(...low)).toBeLessThan(8.4);
    expect(Math.max(...low)).toBeGreaterThan(5);
    expect(of(poisoned, "air")).toEqual(of(sound, "air"));
  });
});

describe("a chip in the sun", () => {
  it("is 3 K too warm and too dry for it, with the dew point that it had", () => {
    const struck = said([{ kind: "sun-struck", ...span }]);
    for (const hour of [8, 20, 40]) {
      const [air, rh] = ["air", "rh"].map((quantity) => of(struck, quantity)[at(hour)] as number) as [number, number];
      const [air0, rh0] = ["air", "rh"].map((quantity) => of(sound, quantity)[at(hour)] as number) as [number, number];
      expect(air - air0).toBeCloseTo(3, 1);
      expect(rh).toBeLessThan(rh0 - 10);
      // Bias and steps of the chip are those of another humidity, so the two dew points differ a little.
      expect(Math.abs(dewPointOfC(air, rh) - dewPointOfC(air0, rh0))).toBeLessThan(0.4);
    }
    expect(of(struck, "slab")).toEqual(of(sound, "slab"));
  });
});
