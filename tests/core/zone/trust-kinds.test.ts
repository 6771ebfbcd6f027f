// Frozen values, humidity that reads low, error codes, and the way back: seen where they are, spared where they only look so.
import { describe, expect, it } from "vitest";
import { dewPointC, rhPctFromDewPoint } from "#core/air/dew-point.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
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
} from "../../support/night-log.ts";

type Says = Readonly<Record<string, Course>>;
const stretch = { fromMs: NOON_MS - 50 * HOUR_MS, toMs: NOON_MS + 6 * HOUR_MS, everyS: 300 };
const ago = (hours: number) => NOON_MS - hours * HOUR_MS;

function judged(n1: Says, n2: Says | null = null, nowMs = NOON_MS, journal: readonly JournalEntry[] = []) {
  const usual = { slab: lively(16), air: lively(17), rh: lively(45) };
  const log = nightLog({
    nodes: n2 === null ? [nodeOf("n1")] : [nodeOf("n1"), nodeOf("n2")],
    series: [...heardFrom("n1", { ...usual, ...n1 }, stretch), ...(n2 === null ? [] : heardFrom("n2", n2, stretch))],
    journal: [...ground(NOON_MS), ...journal],
  });
  const state = zoneState(log, "a", { nowMs, heardByMs: nowMs });
  const kinds = state.trust.doubts.map((doubt) => `${doubt.probe} ${doubt.kind}`);
  return { state, kinds, call: judgeZone(log, "a", nowMs).call };
}

/** Falls by `perH` from so many hours ago on. */
const falling = (fromC: number, hours: number, perH: number) => (atMs: number) =>
  fromC - perH * Math.max(0, (atMs - ago(hours)) / HOUR_MS);
const stopped = (course: Course, hours: number): Course => {
  const moving = lively(course) as (atMs: number) => number;
  return (atMs) => moving(Math.min(atMs, ago(hours)));
};

describe("a value that stopped", () => {
  it("is a frozen slab probe once the air has moved far, and keeps its vote by its neighbour", () => {
    const air = falling(18, 4, 1.5);
    const { kinds, state, call } = judged(
      { slab: stopped(15, 4), air },
      { slab: lively((atMs) => 15 - 0.3 * Math.max(0, (atMs - ago(4)) / HOUR_MS)) },
    );
    expect(kinds).toEqual(["n1/slab frozen"]);
    expect(state.conditions.slabColdC).toBeLessThan(14);
    expect(call.rules.find(({ rule }) => rule === "data-fault")).toMatchObject({
      outcome: "caution",
      detail: "frozen",
    });
  });

  it("stops the zone where it was the only slab probe", () => {
    const { call } = judged({ slab: stopped(15, 5), air: falling(18, 5, 1.5) });
    expect(call.call).toBe("wait");
    expect(call.rules.find(({ rule }) => rule === "data-fault")).toMatchObject({ outcome: "stop", detail: "frozen" });
  });

  it("is not a slab that follows slowly, nor a still room, nor a heater that cycles about the same warmth", () => {
    expect(judged({ slab: lively(15), air: falling(18, 5, 1.5) }).kinds).toEqual([]);
    expect(judged({ slab: 15, air: 17, rh: 45 }).kinds).toEqual([]);
    const heater = (atMs: number) => 17 + 2.5 * Math.sin((2 * Math.PI * atMs) / (20 * MINUTE_MS));
    expect(judged({ slab: 16, air: heater, rh: (atMs) => rhPctFromDewPoint(heater(atMs), 5) }).kinds).not.toContain(
      "n1/slab frozen",
    );
  });

  it("is frozen humidity under air that warms, and frozen air beside a chip that moves", () => {
    const warming = falling(14, 4, -1.5);
    expect(judged({ air: warming, rh: stopped(70, 4) }).kinds).toEqual(["n1/rh frozen"]);
    const beside = { air: falling(17, 4, 1), rh: (atMs: number) => rhPctFromDewPoint(falling(17, 4, 1)(atMs), 5) };
    expect(judged({ air: stopped(17, 4) }, beside).kinds).toContain("n1/air frozen");
  });
});

describe("humidity that reads low", () => {
  const damp = { air: lively(17), rh: lively(75) };
  it("where its neighbour reads high for hours is doubted and told; the dampest chip governs as before", () => {
    const { kinds, state } = judged({ rh: lively(62) }, damp);
    expect(kinds).toEqual(["n1/rh reads-low"]);
    expect(state.conditions.dewPointC).toBeCloseTo(dewPointC(17, 75), 1);
    expect(state.airVoices).toBe(2);
  });
  it("by less than two chips may differ, but lower against its neighbour than it ever did, is doubted all the same", () => {
    const was = (lost: number) => lively((atMs: number) => (atMs > ago(3) ? 78 - lost : 78));
    const found = judged({ rh: was(6) }, damp);
    expect(found.kinds).toEqual(["n1/rh reads-low"]);
    // It lost 1.3 K and reads 0.7 K less than its neighbour: what is missing makes the margin less sure.
    const { marginDoubtK } = found.state.conditions;
    expect(marginDoubtK).toBeGreaterThan(0.3);
    expect(marginDoubtK).toBeLessThan(1);
    expect(judged({ rh: was(2) }, damp).kinds).toEqual([]);
    const both = { air: lively(17), rh: lively((atMs: number) => (atMs > ago(3) ? 69 : 75)) };
    expect(judged({ rh: was(6) }, both).kinds).toEqual([]);
  });
  it("in dry air, or by little, is two chips", () => {
    expect(judged({ rh: lively(35) }, { air: lively(17), rh: lively(45) }).kinds).toEqual([]);
    expect(judged({ rh: lively(70) }, damp).kinds).toEqual([]);
  });
});

describe("error codes", () => {
  const every =
    (count: number): Course =>
    (atMs) =>
      (atMs / (5 * MINUTE_MS)) % count < 1 ? 85 : 16;
  it("in half of the last readings are told of; one after a start is not", () => {
    expect(judged({ slab: every(2) }).kinds).toEqual(["n1/slab error-code"]);
    expect(judged({ slab: every(12) }).kinds).toEqual([]);
  });
  it("never count as a temperature", () => {
    expect(judged({ slab: every(2) }).state.conditions.slabHotC).toBe(16);
  });
});

describe("the way back", () => {
  /** Another unit until noon, right from then on. */
  const slab: Course = (atMs) => (atMs < NOON_MS ? 61 : 16 + (Math.round(atMs / (10 * MINUTE_MS)) % 2) * 0.0625);
  it("takes an hour of good behaviour", () => {
    expect(judged({ slab }, null, NOON_MS + 30 * MINUTE_MS).kinds).toEqual(["n1/slab unit"]);
    expect(judged({ slab }, null, NOON_MS + 30 * MINUTE_MS).call.call).toBe("wait");
    expect(judged({ slab }, null, NOON_MS + 70 * MINUTE_MS).kinds).toEqual([]);
  });
  it("or a person's word", () => {
    const word = [entry("trusted", NOON_MS + 20 * MINUTE_MS, { probe: "n1/slab", why: "unit set right" })];
    expect(judged({ slab }, null, NOON_MS + 30 * MINUTE_MS, word).kinds).toEqual([]);
  });
});
