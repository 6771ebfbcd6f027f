// Who else knows: a third probe between two in conflict, the small swings of the air, a neighbour's humidity, solvent on record.
import { describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { Node } from "#core/zone/site.ts";
import { zoneState } from "#core/zone/state.ts";
import {
  type Course,
  entry,
  ground,
  heardFrom,
  HOUR_MS,
  lively,
  MINUTE_MS,
  nightLog,
  nodeOf,
  NOON_MS,
  poured,
  slowEpoxy,
} from "../../support/night-log.ts";

type Says = Readonly<Record<string, Course>>;
const stretch = { fromMs: NOON_MS - 50 * HOUR_MS, toMs: NOON_MS + 12 * HOUR_MS, everyS: 300 };
const ago = (hours: number) => NOON_MS - hours * HOUR_MS;
const usual = { air: lively(17), rh: lively(45) };

interface Asked {
  readonly nodes?: readonly Node[];
  readonly journal?: readonly JournalEntry[];
  readonly nowMs?: number;
  readonly sheets?: readonly (typeof slowEpoxy)[];
}

function judged(says: Readonly<Record<string, Says>>, asked: Asked = {}) {
  const { journal = [], nowMs = NOON_MS, sheets = [slowEpoxy] } = asked;
  const log = nightLog({
    sheets,
    nodes: asked.nodes ?? Object.keys(says).map((id) => nodeOf(id)),
    series: Object.entries(says).flatMap(([id, of]) => heardFrom(id, of, stretch)),
    journal: [...ground(NOON_MS), ...journal],
  });
  const state = zoneState(log, "a", { nowMs, heardByMs: nowMs });
  const kinds = state.trust.doubts.map((doubt) => `${doubt.probe} ${doubt.kind}`);
  const { call } = judgeZone(log, "a", nowMs);
  return { state, kinds, call, outcome: (id: string) => call.rules.find(({ rule }) => rule === id)?.outcome };
}

describe("a third voice between two that cannot both be right", () => {
  const beside = {
    slab: { place: "middle", xM: 5, yM: 4 },
    "slab.2": { place: "middle", xM: 5.3, yM: 4 },
  };
  const nodes = [nodeOf("n1", { probes: beside }), nodeOf("n2")];
  /** Walks away from so many hours ago on, and comes back after noon. */
  const walks = (hours: number, kPerH: number) => (atMs: number) =>
    atMs > NOON_MS ? 16 : 16 + (kPerH * Math.max(0, atMs - ago(hours))) / HOUR_MS;
  const three = (walking: Course, third: Course = 15.5, asked: Asked = {}) =>
    judged(
      { n1: { slab: lively(16), "slab.2": lively(walking), ...usual }, n2: { slab: lively(third), ...usual } },
      { nodes, ...asked },
    );

  it("tells which one, and the zone goes on with the vote of that one", () => {
    const up = three(walks(4, 0.9));
    expect(up.kinds).toEqual(["n1/slab.2 outvoted"]);
    expect([up.outcome("data-conflict"), up.outcome("data-fault")]).toEqual(["pass", "caution"]);
    expect(up.state.conditions.slabColdC).toBeCloseTo(15.5, 1);
    const down = three(walks(4, -0.9));
    expect(down.kinds).toEqual(["n1/slab.2 outvoted"]);
    expect(down.state.trust.doubts[0]?.sinceMs).toBeLessThan(ago(2.5));
    // What it was off by before it left the others stays in its vote.
    expect(down.state.conditions.slabColdC).toBeLessThanOrEqual(15.5);
    expect(down.state.conditions.slabColdC).toBeGreaterThan(14.5);
    expect(down.call.call).toBe("pour");
  });
  it("needs an hour of conflict and half a day of past, and says nothing where it went its own way", () => {
    const both = ["n1/slab conflict", "n1/slab.2 conflict"];
    expect(three(walks(2.8, 0.9)).kinds).toEqual(both);
    expect(three(walks(4, 0.9), (atMs) => (atMs < ago(14) ? Number.NaN : 15.5)).kinds).toEqual(both);
    const wandering = (atMs: number) => (atMs < ago(4) ? 15.5 : 15.5 + (0.45 * (atMs - ago(4))) / HOUR_MS);
    expect(three(walks(4, 0.9), wandering).kinds).toEqual(both);
  });
  it("is not asked where there is none, and the one outvoted speaks again after an hour of good behaviour", () => {
    const alone = judged({ n1: { slab: lively(16), "slab.2": lively(walks(4, 0.9)), ...usual } }, { nodes });
    expect(alone.call.limiting).toBe("data-conflict");
    const later = (minutes: number) => three(walks(4, 0.9), 15.5, { nowMs: NOON_MS + minutes * MINUTE_MS }).kinds;
    expect(later(40)).toEqual(["n1/slab.2 outvoted"]);
    expect(later(70)).toEqual([]);
  });
});

describe("a slab probe that mirrors the small swings of the air", () => {
  /** A heater that cycles by 0.6 K in forty minutes. */
  const cycling = (atMs: number) => 17 + 0.3 * Math.sin((2 * Math.PI * atMs) / (40 * MINUTE_MS));
  const found = (slab: Course) => judged({ n1: { slab, air: cycling, rh: lively(45) } }).kinds;
  it("has come off, though nothing leapt and the air never moved by a kelvin", () => {
    const loose = (atMs: number) => (atMs < ago(6) ? 16.6 : 0.93 * cycling(atMs) + 0.07 * 16.6);
    expect(found(lively(loose))).toEqual(["n1/slab detached"]);
  });
  it("is not a slab that shows half of them, nor one that stands elsewhere than the air", () => {
    expect(found((atMs) => 16.6 + 0.5 * (cycling(atMs) - 17))).toEqual([]);
    expect(found((atMs) => cycling(atMs) - 1.5)).toEqual([]);
    expect(found(lively(16.9))).toEqual([]);
  });
});

describe("solvent on record", () => {
  const damp = { slab: lively(16), air: lively(17), rh: lively(60) };
  const wiped = (hours: number, fields = {}) => [
    entry("cleaned", ago(hours), { solvent: true, confirmed: true, ...fields }),
  ];
  const lone = (journal: readonly JournalEntry[], says: Says = damp) => judged({ n1: says }, { journal });
  const unsureK = (of: ReturnType<typeof judged>) => of.state.conditions.marginUncertaintyK as number;

  it("doubts the chips of its zone for two days and makes the margin less sure by what they may have lost", () => {
    const plain = lone([entry("cleaned", ago(5))]);
    const found = lone(wiped(5));
    expect(plain.kinds).toEqual([]);
    expect(found.kinds).toEqual(["n1/air solvent"]);
    // Half of 8 %RH at 60 %RH, which is a kelvin of dew point.
    expect(unsureK(found) - unsureK(plain)).toBeCloseTo(0.99, 1);
    expect(found.state.conditions.marginDoubtK).toBeCloseTo(0.99, 1);
    expect(lone(wiped(47)).kinds).toEqual(["n1/air solvent"]);
    expect(lone(wiped(49)).kinds).toEqual([]);
    expect(lone(wiped(5), { ...damp, rh: lively(29) }).kinds).toEqual([]);
  });
  it("is the solvent of a coat too, by its sheet", () => {
    const coat = { ...slowEpoxy, material: { hazards: ["solvent" as const] } };
    const found = (sheet: typeof slowEpoxy) =>
      judged({ n1: damp }, { journal: [poured(0, ago(20))], sheets: [sheet] }).kinds;
    expect(found(coat)).toEqual(["n1/air solvent"]);
    expect(found(slowEpoxy)).toEqual([]);
  });
  it("is settled by a meter that agrees after it has had time to soak in, by a salt check, or by a person", () => {
    const measured = (hours: number, rhPct: number) => entry("measured", ago(hours), { airC: 17, rhPct });
    expect(lone([...wiped(9), measured(4.5, 60)]).kinds).toEqual([]);
    expect(lone([...wiped(9), measured(6, 60)]).kinds).toEqual(["n1/air solvent"]);
    expect(lone([...wiped(9), measured(4.5, 68)]).kinds).toContain("n1/air solvent");
    const salt = { probe: "n1/rh", salt: "sodium-chloride", soakH: 12, airC: 17, readPct: 75 };
    expect(lone([...wiped(20), entry("salt-checked", ago(2), salt)]).kinds).toEqual([]);
    expect(lone([...wiped(20), entry("salt-checked", ago(2), { ...salt, readPct: 71 })]).kinds).toEqual([
      "n1/air solvent",
    ]);
    expect(
      lone([...wiped(9), entry("trusted", ago(1), { probe: "n1/air", why: "outside when we wiped" })]).kinds,
    ).toEqual([]);
  });
});

describe("the vote of a probe that has a neighbour within a metre", () => {
  it("is by that neighbour, not by one that lies in another climate", () => {
    const probes = {
      slab: { place: "middle", xM: 5, yM: 4 },
      "slab.2": { place: "middle", xM: 5.3, yM: 4 },
      "slab.3": { place: "door", xM: 0.5, yM: 4 },
    };
    /** The door swings by 4 K each day, the middle does not. */
    const door = (atMs: number) => 12 + 4 * Math.cos((2 * Math.PI * (atMs - NOON_MS)) / (24 * HOUR_MS));
    const gone = (atMs: number) => (atMs > ago(2) ? Number.NaN : 16);
    const voted = (patch: object) =>
      judged(
        { n1: { slab: gone, "slab.2": lively(16.2), "slab.3": lively(door), ...usual } },
        { nodes: [nodeOf("n1", { probes: { ...probes, ...patch } })] },
      ).state.conditions;
    const hotC = (patch: object) => voted(patch).slabHotC as number;
    expect(hotC({})).toBeCloseTo(16.2, 1);
    expect(hotC({ "slab.2": { place: "middle", xM: 8, yM: 4 } })).toBeGreaterThan(17);
    expect(hotC({ slab: { place: "door edge", xM: 5, yM: 4 } })).toBeGreaterThan(17);
  });
});
