// The node's program: what it keeps without a network, what it repeats, and that it never states a time it does not know.
import { beforeAll, describe, expect, it } from "vitest";
import { readingFromRecord } from "#contract/reading.ts";
import { resolveSenml } from "#contract/senml.ts";
import { Building } from "../../../firmware-sim/building/building.ts";
import { hourlyWeather } from "../../../firmware-sim/building/weather.ts";
import { NodeClock } from "../../../firmware-sim/node/clock.ts";
import { Firmware, type Pack } from "../../../firmware-sim/node/firmware.ts";
import type { NodeFault, SimNode } from "../../../firmware-sim/node/spec.ts";
import { biasOf, quantise, sense } from "../../../firmware-sim/node/sensor.ts";
import { shed, shedNode } from "../../../firmware-sim/scenario/shed.ts";

const T0 = Date.UTC(2026, 1, 3, 12);
const H = 3_600_000;
const weather = hourlyWeather([{ atMs: T0, airC: 3, dewPointC: 0, windMPerS: 2, sunWPerM2: 0, cloud: 1 }]);
const buildingAt = () =>
  new Building(shed({ floor: "on-grade", shell: "tight", heat: null, startC: 9 }, 0, T0), weather, T0);

function nodeWith(faults: readonly NodeFault[], drift = 0): SimNode {
  return { ...shedNode(300, faults), drift };
}

/** Lets a node sample to `hours`, telling it the time when `timeAt` says so; returns it with its building. */
function run(node: SimNode, hours: number, tell = (_: number) => true): Firmware {
  const building = buildingAt();
  const firmware = new Firmware(node, 4, T0);
  for (let atMs = firmware.nextSampleMs(T0); atMs <= T0 + hours * H; atMs = firmware.nextSampleMs(atMs + 1)) {
    building.advanceTo(atMs);
    if (tell(atMs)) firmware.keepTime(atMs);
    firmware.sample(atMs, building);
  }
  return firmware;
}

function drain(firmware: Firmware): Pack[] {
  const packs: Pack[] = [];
  for (let pack = firmware.nextPack(); pack !== null; pack = firmware.nextPack()) {
    packs.push(pack);
    firmware.sent(pack);
  }
  return packs;
}

const keyed = (pack: Pack) => {
  const resolved = resolveSenml(pack.records, 0);
  if (!resolved.ok) throw new Error("not SenML");
  return resolved.value.map((record) => {
    const reading = readingFromRecord(record);
    if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
    return [`${reading.value.node}/${reading.value.quantity}@${reading.value.atMs}`, reading.value.value] as const;
  });
};

describe("packs", () => {
  it("repeat the last three rounds with the same times and values, so that any one lost packet of everyday heals", () => {
    const building = buildingAt();
    const firmware = new Firmware(nodeWith([], 40), 4, T0);
    const packs: Pack[] = [];
    for (let atMs = T0; atMs < T0 + 6 * H; atMs += 300_000) {
      building.advanceTo(atMs);
      firmware.keepTime(atMs);
      firmware.sample(atMs, building);
      packs.push(...drain(firmware));
    }
    const told = packs.map(keyed);
    const all = new Map(told.flat());
    expect(told.length).toBe(72);
    expect(told.flat().filter(([key, value]) => all.get(key) !== value)).toEqual([]);
    for (let lost = 0; lost < told.length - 3; lost++) {
      const heard = new Set(told.flatMap((pack, i) => (i === lost ? [] : pack.map(([key]) => key))));
      expect(heard.size).toBe(all.size);
    }
  });

  it("wait through a night without network and come out whole and in order", () => {
    const outage: NodeFault = { kind: "no-network", fromMs: T0 + H, toMs: T0 + 9 * H };
    const firmware = run(nodeWith([outage]), 10);
    const rounds = drain(firmware).flatMap((pack) => pack.fresh);
    expect(rounds.map((round) => round.atS)).toEqual(Array.from({ length: 121 }, (_, i) => T0 / 1000 + i * 300));
    expect(firmware.buffer.lost).toBe(0);
  });

  it("keep three days and count what had to go", () => {
    const firmware = run(nodeWith([]), 80, (atMs) => atMs >= T0 + 79 * H);
    expect(firmware.buffer.count()).toBe(72 * 12 + 1);
    expect(firmware.buffer.lost).toBe(80 * 12 + 1 - (72 * 12 + 1));
  });
});

describe("time", () => {
  it("is never stated before the clock was set", () => {
    const firmware = run(nodeWith([]), 2, () => false);
    expect(firmware.buffer.count()).toBe(25);
    expect(firmware.nextPack()).toBeNull();
  });

  it("of rounds from before the clock was set is right once it is", () => {
    const firmware = run(nodeWith([], 30), 3, (atMs) => atMs >= T0 + 2.5 * H);
    const stamps = drain(firmware).flatMap((pack) => pack.fresh.map((round) => round.atS));
    // 30 ppm over two and a half hours is 0.27 s: within the second that a stamp is rounded to.
    for (const [i, atS] of stamps.entries()) expect(Math.abs(atS - (T0 / 1000 + i * 300))).toBeLessThanOrEqual(1);
  });

  it("stays right over two days of a poor oscillator, through two settings of the clock", () => {
    const clock = new NodeClock(T0, 200);
    clock.set(T0);
    clock.set(T0 + 24 * H);
    for (const hours of [0, 7, 24, 31, 48]) {
      const stamp = clock.utcMs(clock.uptimeMs(T0 + hours * H));
      expect(Math.abs((stamp ?? 0) - (T0 + hours * H))).toBeLessThan(5);
    }
  });

  it("is wrong by exactly the skew of the network's clock, and by nothing else", () => {
    const firmware = new Firmware(nodeWith([], 12), 4, T0, -300_000);
    const building = buildingAt();
    firmware.keepTime(T0);
    firmware.sample(T0, building);
    expect(firmware.nextPack()?.fresh[0]?.atS).toBe(T0 / 1000 - 300);
  });
});

describe("a clock that was set wrong", () => {
  it("stamps off by so much from the start of the fault, by another amount from its leap, and right afterwards", () => {
    const fault: NodeFault = {
      kind: "wrong-clock",
      offMs: -3_607_000,
      leap: { atMs: T0 + 4 * H, offMs: 601_000 },
      fromMs: T0 + 2 * H,
      toMs: T0 + 6 * H,
    };
    const offS = drain(run(nodeWith([fault]), 8))
      .flatMap((pack) => pack.fresh)
      .map(({ atS }, i) => atS - (T0 / 1000 + i * 300));
    const from = (hour: number) => hour * 12;
    expect(new Set(offS.slice(0, from(2)))).toEqual(new Set([0]));
    expect(new Set(offS.slice(from(2), from(4)))).toEqual(new Set([-3607]));
    expect(new Set(offS.slice(from(4), from(6)))).toEqual(new Set([601]));
    expect(new Set(offS.slice(from(6)))).toEqual(new Set([0]));
  });
});

describe("sensors", () => {
  let values: number[];
  beforeAll(() => {
    values = Array.from({ length: 400 }, (_, i) =>
      sense({ seed: 9, name: "a/slab", bound: 0.3, step: 0.0625 }, 12.3, i),
    );
  });
  it("stay within the stated accuracy and step", () => {
    for (let probe = 0; probe < 200; probe++) {
      expect(Math.abs(biasOf({ seed: 2, name: `p${probe}/slab`, bound: 0.3, step: 0.0625 }))).toBeLessThanOrEqual(0.24);
    }
    expect(Math.max(...values.map((value) => Math.abs(value - 12.3)))).toBeLessThan(0.4);
    for (const value of values) expect(Math.abs(value / 0.0625 - Math.round(value / 0.0625))).toBeLessThan(1e-3);
  });
  it("quantise without a tail", () => expect(quantise(7.3000001, 0.1)).toBe(7.3));

  it("say what is wrong with them as the fault says", () => {
    const faults: NodeFault[] = [
      { kind: "power-up-code", quantity: "slab", fromMs: T0, toMs: T0 + H },
      { kind: "loose", quantity: "slab.2", fromMs: T0, toMs: T0 + H },
      { kind: "saturated", fromMs: T0, toMs: T0 + H },
      { kind: "silent", fromMs: T0 + H, toMs: T0 + 2 * H },
    ];
    const building = buildingAt();
    building.advanceTo(T0 + 0.5 * H);
    const firmware = new Firmware(nodeWith(faults), 4, T0);
    firmware.keepTime(T0 + 0.5 * H);
    firmware.sample(T0 + 0.5 * H, building);
    const said = new Map(firmware.nextPack()?.fresh[0]?.values.map(({ quantity, value }) => [quantity, value]));
    expect(said.get("slab")).toBe(85);
    expect(said.get("rh")).toBe(100);
    const { airC } = building.roomOf("floor");
    expect(Math.abs((said.get("slab.2") ?? 0) - airC)).toBeLessThan(0.7);
    building.advanceTo(T0 + 1.5 * H);
    firmware.sample(T0 + 1.5 * H, building);
    expect(firmware.buffer.count()).toBe(1);
  });
});
