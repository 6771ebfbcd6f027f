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
  it("by a dose soaks in while there is vapour and recovers slowly afterwards", () => {
    const dose = { mostPct: 16, growH: 2, vapourUntilMs: T0 + 16 * H, recoverH: 24 };
    const poisoned = of(said([{ kind: "poisoned", dose, ...span }]), "rh");
    // The share of the dose that is at work, whatever the damp of the hour.
    const share = (hour: number) => {
      const damp = ((of(sound, "rh")[at(hour)] as number) - 30) / 60;
      return ((of(sound, "rh")[at(hour)] as number) - (poisoned[at(hour)] as number)) / (16 * Math.min(1, damp));
    };
    expect(share(7)).toBeCloseTo(1 - Math.exp(-1 / 2), 1);
    expect(share(15)).toBeGreaterThan(0.9);
    expect(share(40)).toBeCloseTo(Math.exp(-1), 1);
    expect(poisoned.slice(0, at(6))).toEqual(of(sound, "rh").slice(0, at(6)));
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

describe("a node in the other unit", () => {
  it("sends its temperatures in °F, to a tenth, and its humidity as it was", () => {
    const other = said([{ kind: "fahrenheit", ...span }]);
    for (const quantity of ["slab", "slab.2", "air", "dew"]) {
      const [values, celsius] = [of(other, quantity), of(sound, quantity)];
      expect(values.slice(0, at(6))).toEqual(celsius.slice(0, at(6)));
      expect(values.slice(at(58))).toEqual(celsius.slice(at(58)));
      for (let i = at(6); i < at(58); i++)
        expect(Math.abs((values[i] as number) - (1.8 * (celsius[i] as number) + 32))).toBeLessThanOrEqual(0.0501);
    }
    expect(of(other, "rh")).toEqual(of(sound, "rh"));
    expect(of(other, "battery")).toEqual(of(sound, "battery"));
  });
});

describe("a drifting probe", () => {
  it.each([0.5, -0.5])("walks %s K an hour away from the truth until it has walked its most, alone", (kPerH) => {
    const drifted = said([{ kind: "drifting", quantity: "slab", kPerH, mostK: 3, ...span }]);
    const off = of(drifted, "slab").map((value, i) => value - (of(sound, "slab")[i] as number));
    expect(off.slice(0, at(6)).every((each) => each === 0)).toBe(true);
    // A step of the converter, a sixteenth of a degree, on either side.
    for (const [hour, walkedK] of [
      [8, 1],
      [10, 2],
      [12, 3],
      [40, 3],
    ] as const)
      expect(Math.abs((off[at(hour)] as number) - Math.sign(kPerH) * walkedK)).toBeLessThanOrEqual(0.0626);
    expect(off.slice(at(58)).every((each) => each === 0)).toBe(true);
    expect(of(drifted, "slab.2")).toEqual(of(sound, "slab.2"));
    expect(of(drifted, "air")).toEqual(of(sound, "air"));
  });
});

describe("an old cell in the cold", () => {
  it("tells less of itself, the less the colder it is, and nothing else changes above its frost", () => {
    const weak = said([{ kind: "weak-battery", ...span }]);
    const [told, fresh, air] = [of(weak, "battery"), of(sound, "battery"), of(sound, "air")];
    for (const hour of [8, 20, 40]) {
      const sagPct = (fresh[at(hour)] as number) - (told[at(hour)] as number);
      const meantPct = 40 + 2 * Math.max(0, 10 - (air[at(hour)] as number));
      expect(sagPct).toBeGreaterThanOrEqual(40);
      // The chip's own error and whole percents.
      expect(Math.abs(sagPct - meantPct)).toBeLessThan(2);
    }
    expect(of(weak, "slab")).toEqual(of(sound, "slab"));
    expect(of(weak, "rh")).toEqual(of(sound, "rh"));
  });
});
