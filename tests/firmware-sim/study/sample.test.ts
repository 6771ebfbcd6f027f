// The sampler: the same seed gives the same night, and a few hundred nights hold every kind of floor, heat, film and fault.
import { describe, expect, it } from "vitest";
import { FAULT_KINDS } from "../../../firmware-sim/study/sample-nodes.ts";
import { HEAT_KINDS } from "../../../firmware-sim/study/sample-heat.ts";
import { sampleNight, yearsIn } from "../../../firmware-sim/study/sample.ts";

const H = 3_600_000;
const years = yearsIn("tests/reference/weather");
const nights = Array.from({ length: 330 }, (_, index) => sampleNight(years, 1, index, true));
const share = (holds: (night: (typeof nights)[number]) => boolean) => nights.filter(holds).length / nights.length;
/** A night without the one thing in it that cannot be compared: its weather is a function. */
const told = ({ scenario, ...rest }: (typeof nights)[number]) =>
  JSON.stringify({ ...rest, scenario: { ...scenario, weather: scenario.weather(scenario.openedAtMs) } });

describe("a sampled night", () => {
  it("is the same from the same seed and index, and another from another", () => {
    expect(told(sampleNight(years, 1, 7, true))).toBe(told(nights[7] as (typeof nights)[number]));
    expect(told(sampleNight(years, 2, 7, true))).not.toBe(told(nights[7] as (typeof nights)[number]));
    expect(told(nights[8] as (typeof nights)[number])).not.toBe(told(nights[7] as (typeof nights)[number]));
  });

  it("differs by nothing but the fault when faults are left out", () => {
    for (const night of nights.slice(0, 30)) {
      const sound = sampleNight(years, 1, night.index, false);
      const bare = { ...night, fault: null };
      const nodes = night.scenario.nodes.map((node) => ({ ...node, faults: [] }));
      expect(told(sound)).toBe(told({ ...bare, scenario: { ...night.scenario, nodes } }));
    }
  });

  it("is asked every two hours from 14:00 over a day, and between", () => {
    for (const { asksMs, scenario } of nights) {
      const even = asksMs.filter((atMs) => (atMs - scenario.openedAtMs) % (2 * H) === 0);
      expect(even.length).toBeGreaterThanOrEqual(13);
      expect(asksMs.length).toBeGreaterThan(13);
      expect((asksMs.at(-1) as number) - (asksMs[0] as number)).toBe(24 * H);
    }
  });

  it("has its last coat within its readings and before it is asked", () => {
    for (const { scenario, stage } of nights) {
      const pours = scenario.journal.filter((entry) => entry.did === "poured");
      expect(pours.length).toBe({ bare: 0, first: 1, second: 2 }[stage]);
      const last = pours.at(-1);
      if (last === undefined) continue;
      expect(Date.parse(last.from)).toBeGreaterThan(scenario.fromMs);
      expect(Date.parse(last.to)).toBeLessThan(scenario.openedAtMs);
    }
  });

  it("knows of a feed only what was fetched before it was asked, with an error that grows", () => {
    const errors = { near: [] as number[], far: [] as number[] };
    for (const { feeds, scenario, asksMs } of nights) {
      for (const { fetchedMs, hours } of feeds) {
        expect(fetchedMs).toBeLessThanOrEqual(asksMs.at(-1) as number);
        for (const [h, list] of [
          [1, errors.near],
          [36, errors.far],
        ] as const) {
          const hour = hours[h];
          if (hour !== undefined) list.push(hour.airC - scenario.weather(hour.atMs).airC);
        }
      }
    }
    const spread = (list: readonly number[]) => Math.sqrt(list.reduce((sum, each) => sum + each ** 2, 0) / list.length);
    // 2 K after 36 h with 0.7 K of place: usual size of a short-range forecast error, from memory.
    expect(spread(errors.near)).toBeLessThan(1.2);
    expect(spread(errors.far)).toBeGreaterThan(1.6);
    expect(spread(errors.far)).toBeLessThan(2.9);
  });
});

describe("330 nights", () => {
  it("hold every station, month, floor, heat, stage and fault", () => {
    const kinds = (of: (night: (typeof nights)[number]) => string) => new Set(nights.map(of));
    expect(kinds(({ station }) => station).size).toBe(4);
    expect(kinds(({ scenario }) => scenario.title.slice(-5, -3)).size).toBe(12);
    expect(kinds(({ floor }) => floor).size).toBe(3);
    expect(kinds(({ heat }) => heat)).toEqual(new Set(HEAT_KINDS));
    expect(kinds(({ stage }) => stage).size).toBe(3);
    expect(kinds(({ fault }) => fault ?? "none")).toEqual(new Set([...FAULT_KINDS, "none"]));
    expect(kinds(({ scenario }) => scenario.zones[0]?.system.at(-1) ?? "").size).toBe(2);
  });

  it("know as much of outdoors, of heat and of their past as was meant", () => {
    expect(Math.abs(share(({ outdoor }) => outdoor === "none") - 0.3)).toBeLessThan(0.08);
    expect(Math.abs(share(({ outdoor }) => outdoor === "node" || outdoor === "both") - 0.5)).toBeLessThan(0.08);
    expect(Math.abs(share(({ outdoor }) => outdoor === "feed" || outdoor === "both") - 0.34)).toBeLessThan(0.08);
    expect(Math.abs(share(({ fault }) => fault !== null) - 1 / 3)).toBeLessThan(0.08);
    const heated = nights.filter(({ heat }) => heat !== "none");
    expect(heated.length).toBeGreaterThan(80);
    expect(Math.abs(heated.filter(({ heatLogged }) => heatLogged).length / heated.length - 0.5)).toBeLessThan(0.13);
    const young = share(({ scenario }) => scenario.openedAtMs - scenario.fromMs < 50 * H);
    expect(Math.abs(young - 0.1)).toBeLessThan(0.05);
  });
});
