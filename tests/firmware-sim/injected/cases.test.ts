// What is injected: every kind alone on every night, every pair somewhere, asked while its traces are there; the same by seed.
import { describe, expect, it } from "vitest";
import { type CasePlan, casesOf, cleanNight, pairsANight, pairsOf } from "../../../firmware-sim/injected/cases.ts";
import {
  anotherCanJudge,
  INJECTED_KINDS,
  injectedFault,
  isRight,
  wentUnwatched,
} from "../../../firmware-sim/injected/faults.ts";
import { shedNode } from "../../../firmware-sim/scenario/shed.ts";
import { drawOf } from "../../../firmware-sim/study/draw.ts";
import { yearsIn } from "../../../firmware-sim/study/sample.ts";

const H = 3_600_000;
const years = yearsIn("tests/reference/weather");
const plan: CasePlan = { seed: 1, nights: 24, asks: 3, pairs: pairsANight(24) };
const nights = Array.from({ length: plan.nights }, (_, index) => cleanNight(years, plan.seed, index));
const all = nights.map((night) => casesOf(night, plan));

describe("the cases of 24 nights", () => {
  it("hold every kind alone once a night, and every pair of kinds at least once", () => {
    const pairs = new Set<string>();
    for (const cases of all) {
      const alone = cases.filter(({ injected }) => injected.length === 1).map(({ injected }) => injected[0]?.kind);
      expect(alone).toEqual([...INJECTED_KINDS]);
      for (const { injected } of cases)
        if (injected.length === 2)
          pairs.add(
            injected
              .map(({ kind }) => kind)
              .sort()
              .join("+"),
          );
    }
    const kinds = INJECTED_KINDS.length;
    expect(pairs.size).toBe((kinds * (kinds - 1)) / 2);
    expect(pairsOf(1).length).toBe(pairs.size);
    expect(pairsANight(200)).toBe(2);
  });

  it("are the same from the same seed, and others from another", () => {
    const told = (seed: number) => JSON.stringify(casesOf(cleanNight(years, seed, 5), { ...plan, seed }));
    expect(told(1)).toBe(JSON.stringify(all[5]));
    expect(told(2)).not.toBe(told(1));
  });

  it("are asked at the moments of the night, from their start to half a day after their end", () => {
    for (const [index, cases] of all.entries())
      for (const { asksMs, fromMs, toMs } of cases) {
        expect(asksMs.length).toBeGreaterThan(0);
        expect(asksMs.length).toBeLessThanOrEqual(3);
        for (const atMs of asksMs) {
          expect(nights[index]?.asksMs).toContain(atMs);
          expect(atMs).toBeGreaterThanOrEqual(fromMs);
          expect(atMs).toBeLessThanOrEqual(toMs + 12 * H);
        }
      }
  });

  it("let the second fault of a pair begin while the first is at work, on the same node or another of the floor", () => {
    const pairs = all.flat().filter(({ injected }) => injected.length === 2);
    const apart = pairs.filter(({ injected }) => injected[0]?.node !== injected[1]?.node);
    expect(apart.length).toBeGreaterThan(0);
    for (const { injected, nodes } of pairs) {
      const [one, two] = injected.map(({ fault }) => fault);
      expect(two?.fromMs).toBeGreaterThanOrEqual(one?.fromMs as number);
      expect(two?.fromMs).toBeLessThan(one?.toMs as number);
      expect(nodes.flatMap(({ faults }) => faults)).toHaveLength(2);
      for (const node of nodes) expect(node.faults.length === 0 || node.body.zone !== null).toBe(true);
    }
  });

  it("draw clocks that are minutes to hours off either way and that leap, and drifts both ways, beside a probe or alone", () => {
    const labels = new Set(all.flat().flatMap(({ injected }) => injected.map(({ label }) => label)));
    for (const label of [
      "wrong-clock ahead",
      "wrong-clock behind",
      "wrong-clock leaps",
      "drifting up alone",
      "drifting up beside another",
      "drifting down alone",
      "drifting down beside another",
      "frozen slab",
      "frozen air",
      "frozen rh",
      "poisoned within its accuracy",
      "poisoned beyond, alone",
      "poisoned beyond, beside another",
      "poisoned beyond, on record",
    ])
      expect(labels).toContain(label);
    const offs = Array.from({ length: 200 }, (_, seed) => {
      const wanted = { name: "x", node: shedNode(300), another: false, fromMs: 0, toMs: 10 * H };
      const { fault } = injectedFault(drawOf(seed), "wrong-clock", wanted);
      return fault.kind === "wrong-clock" ? Math.abs(fault.offMs) : 0;
    });
    expect(Math.min(...offs)).toBeLessThan(6 * 60_000);
    expect(Math.max(...offs)).toBeGreaterThan(8 * H);
    expect(Math.min(...offs)).toBeGreaterThanOrEqual(3 * 60_000);
    expect(Math.max(...offs)).toBeLessThanOrEqual(12 * H);
  });
});

describe("the right doubt", () => {
  const loose = injectedFault(drawOf(3), "loose", {
    name: "x",
    node: shedNode(300),
    another: false,
    fromMs: 0,
    toMs: H,
  });
  const on = loose.fault.kind === "loose" ? loose.fault.quantity : "";
  it("has the right kind on the right probe", () => {
    expect(isRight({ kind: "detached", probe: `n1/${on}` }, loose)).toBe(true);
    expect(isRight({ kind: "detached", probe: `n1/${on === "slab" ? "slab.2" : "slab"}` }, loose)).toBe(false);
    expect(isRight({ kind: "detached", probe: `n1b/${on}` }, loose)).toBe(false);
    expect(isRight({ kind: "clock", probe: `n1/${on}` }, loose)).toBe(false);
  });
  it("of a chip or a clock names its node", () => {
    const clock = injectedFault(drawOf(3), "wrong-clock", {
      name: "x",
      node: shedNode(300),
      another: false,
      fromMs: 0,
      toMs: H,
    });
    expect(isRight({ kind: "clock", probe: "n1/air" }, clock)).toBe(true);
    expect(isRight({ kind: "clock", probe: "n1b/air" }, clock)).toBe(false);
  });
});

describe("another that can judge", () => {
  const node = shedNode(300);
  const second = { ...node, slabs: { slab: "middle" }, body: { ...node.body, id: "n1b" } };
  const can = (kind: Parameters<typeof injectedFault>[1], floor = [node], atMs = H / 2) =>
    anotherCanJudge(
      floor,
      [injectedFault(drawOf(3), kind, { name: "x", node, another: false, fromMs: 0, toMs: H })],
      atMs,
    );
  it("is there beside one slab probe, and not where the only chip or the only node is taken", () => {
    expect([can("loose"), can("power-up-code"), can("drifting")]).toEqual([true, true, true]);
    expect([can("saturated"), can("silent"), can("fahrenheit"), can("wrong-clock")]).toEqual([
      false,
      false,
      false,
      false,
    ]);
    expect(can("loose", [second])).toBe(true);
  });
  it("is there on another node, and once the fault is over", () => {
    expect([can("saturated", [node, second]), can("silent", [node, second])]).toEqual([true, true]);
    expect(can("silent", [node], H)).toBe(true);
  });
  it("was not there for a while is remembered once it was longer than readings are held", () => {
    const gone = (kind: Parameters<typeof injectedFault>[1], atMs: number, floor = [node]) =>
      wentUnwatched(
        floor,
        [injectedFault(drawOf(3), kind, { name: "x", node, another: false, fromMs: 0, toMs: H })],
        atMs,
      );
    expect([gone("silent", H / 4), gone("silent", 0.6 * H), gone("silent", 5 * H)]).toEqual([false, true, true]);
    expect([gone("loose", 5 * H), gone("silent", 5 * H, [node, second])]).toEqual([false, false]);
  });
});

describe("a poisoned chip", () => {
  const draws = Array.from({ length: 400 }, (_, seed) => {
    const wanted = { name: "x", node: shedNode(300), another: seed % 2 === 0, fromMs: 0, toMs: 10 * H };
    return injectedFault(drawOf(seed), "poisoned", wanted);
  });
  it("loses from what nobody can tell to several times what it states, and lingers", () => {
    const doses = draws.flatMap(({ fault }) => (fault.kind === "poisoned" && fault.dose ? [fault.dose] : []));
    expect(doses).toHaveLength(draws.length);
    expect(Math.min(...doses.map(({ mostPct }) => mostPct))).toBeLessThan(2.5);
    expect(Math.max(...doses.map(({ mostPct }) => mostPct))).toBeGreaterThan(18);
    expect(draws.every(({ fault }) => fault.toMs === 72 * H)).toBe(true);
  });
  it("is on record on some of the nights beyond its accuracy, and then the solvent stands in the journal of that twin", () => {
    expect(draws.some(({ onRecord }) => onRecord === true)).toBe(true);
    const cases = all.flat().filter(({ injected }) => injected.length === 1);
    const wiped = cases.filter(({ journal }) => journal.length > 0);
    expect(wiped.length).toBeGreaterThan(0);
    for (const { injected, journal } of wiped) {
      expect(injected[0]?.onRecord).toBe(true);
      expect(journal).toMatchObject([{ did: "cleaned", solvent: true, confirmed: true }]);
    }
    expect(isRight({ kind: "solvent", probe: "n1/air" }, draws[0] as (typeof draws)[number])).toBe(true);
  });
});
