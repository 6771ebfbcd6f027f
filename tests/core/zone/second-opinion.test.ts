// Second opinions: a probe that promises more than the hand meter is doubted and widens the margin, until they agree.
import { describe, expect, it } from "vitest";
import { dewPointC } from "#core/air/dew-point.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { readingErrorOf } from "#core/judge/reading-error.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { neighbourPairs } from "#core/zone/neighbour-pairs.ts";
import { type Opinion, opinionsOf } from "#core/zone/second-opinion.ts";
import type { Node, Series } from "#core/zone/site.ts";
import { zoneState } from "#core/zone/state.ts";
import {
  type Course,
  entry,
  ground,
  heardFrom,
  HOUR_MS,
  lively,
  nightLog,
  nodeOf,
  NOON_MS,
} from "../../support/night-log.ts";

const stretch = { fromMs: NOON_MS - 50 * HOUR_MS, toMs: NOON_MS, everyS: 300 };
const ago = (hours: number) => NOON_MS - hours * HOUR_MS;
const hand = (hours: number, fields: object) => entry("measured", ago(hours), { instrument: "meter 4", ...fields });
const n1 = nodeOf("n1", { accuracy: { slabK: 0.3, airK: 0.2, rhPct: 1.5 } });

function at(
  journal: readonly JournalEntry[],
  says: Readonly<Record<string, Readonly<Record<string, Course>>>> = { n1: {} },
  nodes: readonly Node[] = Object.keys(says).map((id) => ({ ...n1, id })),
  nowMs = NOON_MS,
) {
  const series: Series[] = Object.entries(says).flatMap(([node, own]) =>
    heardFrom(node, { slab: lively(16), air: lively(17), rh: lively(45), ...own }, { ...stretch, toMs: nowMs }),
  );
  const log = nightLog({ nodes, series, journal: [...ground(NOON_MS), ...journal] });
  const moment = { nowMs, heardByMs: nowMs };
  const state = zoneState(log, "a", moment);
  const off = state.trust.doubts.filter(({ kind }) => kind === "off-from-hand");
  const opinions = opinionsOf(state.probes, state.record, moment);
  return { log, state, off, opinions, sureK: state.conditions.marginUncertaintyK as number };
}
const brief = (opinions: readonly Opinion[]) =>
  opinions.map(({ probe, of, offset, within, hopeful }) => [
    probe,
    of,
    Math.round(offset * 100) / 100,
    within,
    hopeful,
  ]);

describe("an offset", () => {
  it("is probe minus hand at that time, with meter, bound and whether both explain it", () => {
    const { opinions, off } = at([hand(3, { slabC: 15.4, airC: 16.8, rhPct: 46, calibratedOn: "2026-01-09" })]);
    expect(brief(opinions)).toEqual([
      ["n1/slab", "slab", 0.6, true, false],
      ["n1/air", "air", 0.2, true, false],
      ["n1/air", "rh", -1, true, false],
      ["n1/air", "dew", Math.round((dewPointC(17, 45) - dewPointC(16.8, 46)) * 100) / 100, true, false],
    ]);
    // Bounds of 0.3 K and of a careful hand meter, 1 K: root of the sum of squares.
    expect(opinions[0]).toMatchObject({ instrument: "meter 4", calibratedOn: "2026-01-09", handBound: 1 });
    expect(opinions[0]?.bound).toBeCloseTo(Math.hypot(0.3, 1), 9);
    expect(off).toEqual([]);
  });

  it("is of the probe beside which the meter was held, else of the coldest", () => {
    const says = { n1: { slab: lively(16) }, n2: { slab: lively(14) } };
    expect(brief(at([hand(3, { slabC: 14 })], says).opinions)).toEqual([["n2/slab", "slab", 0, true, false]]);
    const named = at([hand(3, { slabC: 14, rhPct: 45, probe: "n1/slab" })], says).opinions;
    expect(named.map(({ probe, of }) => `${probe} ${of}`)).toEqual(["n1/slab slab", "n1/air rh", "n1/air dew"]);
    expect(at([hand(3, { slabC: 14, probe: "n9/slab" })], says).opinions).toEqual([]);
  });

  it("needs a reading of the quarter hour before, a possible one, from where the probe lies now", () => {
    const mute = { n1: { slab: (atMs: number) => (atMs > ago(4) ? Number.NaN : 16) } };
    expect(at([hand(3.74, { slabC: 12 })], mute).opinions).toHaveLength(0);
    expect(at([hand(3.76, { slabC: 12 })], mute).opinions).toHaveLength(1);
    expect(at([hand(3, { slabC: 12 })], { n1: { slab: 85 } }).opinions).toEqual([]);
    expect(at([hand(3, { slabC: 12 }), entry("moved", ago(2), { probe: "n1/slab" })]).opinions).toEqual([]);
  });

  it("is found however long ago the hand reading is, from the readings of that time", () => {
    const long = { fromMs: ago(240), toMs: NOON_MS, everyS: 300 };
    const series = heardFrom("n1", { slab: lively(16), air: lively(17), rh: lively(45) }, long);
    const log = nightLog({ nodes: [n1], series, journal: [...ground(NOON_MS), hand(200, { slabC: 13 })] });
    const state = zoneState(log, "a", { nowMs: NOON_MS, heardByMs: NOON_MS });
    expect(state.trust.doubts).toMatchObject([{ probe: "n1/slab", kind: "off-from-hand", measured: 3 }]);
  });
});

describe("a probe that promises more than the hand", () => {
  const calm = at([]);

  it("is doubted, keeps its voice, and makes the margin that much less sure", () => {
    const { state, off, sureK } = at([hand(3, { slabC: 13.5 })]);
    expect(off).toEqual([
      { probe: "n1/slab", kind: "off-from-hand", sinceMs: ago(3), measured: 2.5, limit: Math.hypot(0.3, 1) },
    ]);
    expect(state.conditions.slabColdC).toBe(16);
    expect(state.conditions.marginK).toBe(calm.state.conditions.marginK);
    expect(sureK - calm.sureK).toBeCloseTo(2.5, 9);
  });

  it("drier in dew point: by the chip, in K", () => {
    const { off, sureK } = at([hand(3, { airC: 17, rhPct: 58 })]);
    expect(off).toMatchObject([{ probe: "n1/air", measured: dewPointC(17, 58) - dewPointC(17, 45) }]);
    expect(sureK - calm.sureK).toBeCloseTo(dewPointC(17, 58) - dewPointC(17, 45), 9);
    expect(at([hand(3, { rhPct: 58 })]).off).toHaveLength(1);
  });

  it("not when it is the other way, nor for a chip in the sun whose dew point is right", () => {
    expect(at([hand(3, { slabC: 20 })]).off).toEqual([]);
    expect(at([hand(3, { airC: 17, rhPct: 30 })]).off).toEqual([]);
    const shade = { airC: 12.3, rhPct: 60.6 };
    expect(Math.abs(dewPointC(17, 45) - dewPointC(shade.airC, shade.rhPct))).toBeLessThan(0.1);
    expect(at([hand(3, shade)]).off).toEqual([]);
  });

  it("until a later reading agrees; one that is off the other way does not", () => {
    expect(at([hand(3, { slabC: 13 }), hand(2, { slabC: 16.4 })]).off).toEqual([]);
    expect(at([hand(3, { slabC: 13 }), hand(2, { slabC: 19 })]).off).toHaveLength(1);
    expect(at([hand(3, { slabC: 16.4 }), hand(2, { slabC: 13 })]).off).toHaveLength(1);
  });

  it("until a person vouches for it after that, or retires it", () => {
    const trusted = (hours: number) => entry("trusted", ago(hours), { probe: "n1/slab", why: "meter was cold" });
    expect(at([hand(3, { slabC: 13 }), trusted(2)]).off).toEqual([]);
    expect(at([hand(3, { slabC: 13 }), trusted(4)]).off).toHaveLength(1);
    expect(at([hand(3, { slabC: 13 }), entry("retired", ago(1), { probe: "n1/slab" })]).off).toEqual([]);
  });

  it("counts only as far as it would become the worst spot, and in full when it falls silent", () => {
    const says = { n1: { slab: lively(16) }, n2: { slab: lively(14) } };
    const beside = [hand(3, { slabC: 13, probe: "n1/slab" })];
    const base = at([], says).sureK;
    expect(at(beside, says).sureK - base).toBeCloseTo(1, 9);
    const mute = { ...says, n1: { slab: (atMs: number) => (atMs > ago(1) ? Number.NaN : 16) } };
    expect(at(beside, mute).state.conditions.marginDoubtK).toBeCloseTo(3, 9);
  });

  it("asks for a check by hand where the margin no longer passes by its uncertainty, and is told", () => {
    const says = { n1: { rh: lively(60), slab: lively(14) } };
    const rules = (journal: readonly JournalEntry[]) => judgeZone(at(journal, says).log, "a", NOON_MS).call;
    expect(rules([]).call).toBe("pour");
    const off = rules([hand(3, { slabC: 11.5 })]);
    expect(off).toMatchObject({ call: "wait", limiting: "hand-check" });
    expect(off.rules.find(({ rule }) => rule === "data-conflict")).toMatchObject({
      outcome: "caution",
      probe: "n1/slab",
      detail: "off-from-hand",
    });
  });

  it("shifts the night ahead down, and does not widen its spread", () => {
    const base = readingErrorOf(calm.state);
    const doubted = readingErrorOf(at([hand(3, { slabC: 13.5 })]).state);
    expect(doubted).toEqual({
      ...base,
      marginK: expect.closeTo(base.marginK, 9),
      slabK: expect.closeTo(base.slabK, 9),
      doubtK: 2.5,
      slabDoubtK: 2.5,
    });
  });
});

describe("neighbours", () => {
  it("are compared now, over the day, and by their distance", () => {
    const place = (xM: number) => ({ probes: { slab: { xM, yM: 0 }, air: { xM, yM: 3 } } });
    const nodes = [
      { ...n1, ...place(1) },
      { ...n1, id: "n2", ...place(5) },
    ];
    const cold = (atMs: number) => (atMs > ago(3) ? 12 : 15);
    const { state } = at([], { n1: { slab: 16, air: 17, rh: 45 }, n2: { slab: cold, air: 16, rh: 50 } }, nodes);
    const [slab, air, rh, ...more] = neighbourPairs(state.probes, NOON_MS);
    expect(more).toEqual([]);
    expect(slab).toMatchObject({ of: "slab", a: "n1/slab", b: "n2/slab", apartM: 4 });
    expect(slab).toMatchObject({ now: 4, dayMedian: 1 });
    expect(air).toMatchObject({ of: "air", apartM: 4 });
    expect(rh).toMatchObject({ of: "rh", a: "n1/rh", b: "n2/rh", apartM: 4, now: -5 });
    expect(neighbourPairs(state.probes, NOON_MS + 2 * HOUR_MS)[0]?.now).toBeNull();
  });
});
