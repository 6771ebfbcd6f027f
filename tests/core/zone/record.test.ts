// The record: hold, filler, hand readings, splits, undoing, and hours that are true hours.
import { describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { zoneState } from "#core/zone/state.ts";
import { zonesAt } from "#core/zone/zones.ts";
import {
  entry,
  ground,
  heardFrom,
  HOUR_MS,
  MINUTE_MS,
  nightLog,
  type NightPatch,
  nodeOf,
  NOON_MS,
  poured,
  slowEpoxy,
  zoneA,
} from "../../support/night-log.ts";

const ago = (hours: number) => NOON_MS - hours * HOUR_MS;
const callOf = (work: readonly JournalEntry[], patch: NightPatch = {}, zone = "a", nowMs = NOON_MS) =>
  judgeZone(nightLog({ journal: [...ground(NOON_MS, 40), ...work], ...patch }), zone, nowMs).call;
const outcome = (call: ReturnType<typeof callOf>, id: string) => call.rules.find((rule) => rule.rule === id)?.outcome;

describe("hold and filler", () => {
  it("a held zone waits until it is released, and can be held again", () => {
    const held = entry("held", ago(2), { why: "welding above" });
    expect(callOf([held])).toMatchObject({ call: "wait", limiting: "hold" });
    expect(callOf([held, entry("released", ago(1))]).call).toBe("pour");
    expect(callOf([held, entry("released", ago(1)), entry("held", ago(0.5), { why: "again" })]).limiting).toBe("hold");
  });

  it("the last filler to harden blocks", () => {
    const fillers = [entry("filled", ago(5), { hardAfterH: 5.5 }), entry("filled", ago(1), { hardAfterH: 0.5 })];
    expect(callOf(fillers)).toMatchObject({ call: "wait", limiting: "filler-soft" });
    expect(callOf(fillers, {}, "a", NOON_MS - 5.5 * HOUR_MS).limiting).not.toBe("filler-soft");
  });

  it("a bare slab that was never ground, and a pour never closed, are gaps in the record", () => {
    const log = nightLog({ journal: [] });
    expect(judgeZone(log, "a", NOON_MS).call).toMatchObject({ call: "wait", limiting: "record-missing" });
    const open = callOf([entry("pouring", ago(12.5), { coat: 0 })]);
    expect(open.rules.find((rule) => rule.rule === "record-missing")).toMatchObject({
      outcome: "stop",
      detail: "pour-not-closed",
    });
  });

  it("a next coat whose sheet is not there is a gap in the record, with the night ahead known as well", () => {
    const zones = [{ ...zoneA, system: ["e1", "nowhere"] }];
    const call = callOf([poured(0, ago(20))], { zones });
    expect(call).toMatchObject({ call: "wait", limiting: "record-missing" });
    expect(call.rules.find((rule) => rule.rule === "record-missing")).toMatchObject({ detail: "sheet-unknown" });
  });
});

describe("a hand reading", () => {
  const values = { slabC: 16, airC: 17, rhPct: 45 };
  const silent = (minutes: number) => ({ series: nightLog({ nowMs: NOON_MS - minutes * MINUTE_MS }).series });
  const hand = (minutes: number, patch = {}) =>
    entry("measured", NOON_MS - minutes * MINUTE_MS, { ...values, ...patch });
  const typed = entry("forecast", ago(1), { lowC: 10, dewPointC: 3, untilMs: NOON_MS + 20 * HOUR_MS });

  it("stands in for live data for 30 minutes", () => {
    expect(callOf([], silent(50))).toMatchObject({ call: "wait", limiting: "data-stale" });
    const standing = callOf([hand(29)], silent(50));
    expect(outcome(standing, "data-stale")).toBe("caution");
    expect(standing.conditions).toMatchObject({ slabColdC: 16, airC: 17, rhPct: 45, ageS: 29 * 60 });
    expect(callOf([hand(31)], silent(50)).limiting).toBe("data-stale");
  });

  it("for 15 while pouring", () => {
    const pouring = entry("pouring", ago(0.5), { coat: 0 });
    expect(callOf([pouring, hand(14)], silent(50)).call).toBe("pour");
    expect(callOf([pouring, hand(16)], silent(50))).toMatchObject({ call: "wait", limiting: "data-stale" });
  });

  it("must hold slab, air and humidity", () => {
    expect(callOf([entry("measured", ago(0.1), { slabC: 16, airC: 17 })], silent(50)).limiting).toBe("data-stale");
  });

  it("carries a zone without a node, with its own uncertainty", () => {
    const call = callOf([hand(5), typed], { nodes: [], series: [] });
    expect(outcome(call, "data-missing")).toBe("caution");
    expect(call.conditions.marginUncertaintyK).toBeGreaterThan(1);
    expect(callOf([hand(5, { slabC: 8.9 }), typed], { nodes: [], series: [] }).limiting).toBe("slab-cold");
    const thin = callOf([hand(5, { rhPct: 72 }), typed], { nodes: [], series: [] });
    expect(outcome(thin, "dew-margin")).toBe("caution");
  });

  it("that passes clears the hand check; one that fails stops, though the sensors pass", () => {
    const thin = { says: { rh: 75.5 } };
    expect(callOf([], thin)).toMatchObject({ call: "wait", limiting: "hand-check" });
    expect(outcome(callOf([hand(20, { rhPct: 70 })], thin), "hand-check")).toBe("caution");
    expect(outcome(callOf([hand(31, { rhPct: 70 })], thin), "hand-check")).toBe("stop");
    const failing = callOf([hand(20, { slabC: 10.5, rhPct: 70 })]);
    expect(failing).toMatchObject({ call: "wait", limiting: "hand-check" });
    expect(failing.rules.find((rule) => rule.rule === "hand-check")).toMatchObject({ detail: "hand" });
  });
});

describe("stale data while pouring", () => {
  const pouring = (everyS: number, minutes: number) => {
    const series = nightLog({ nowMs: NOON_MS - minutes * MINUTE_MS }).series;
    return callOf([entry("pouring", ago(0.5), { coat: 0 })], { nodes: [nodeOf("n1", { everyS })], series });
  };
  it.each([
    [60, 5],
    [180, 7.5],
    [300, 12.5],
    [900, 15],
  ])("a node of %s s is stale after %s min", (everyS, minutes) => {
    expect(pouring(everyS, minutes - 0.2).call).toBe("pour");
    expect(pouring(everyS, minutes + 0.2)).toMatchObject({ call: "wait", limiting: "data-stale" });
  });
});

describe("a split zone", () => {
  const nodes = [nodeOf("n1"), nodeOf("n2")];
  const stretch = { fromMs: ago(54), toMs: NOON_MS };
  const series = [...heardFrom("n1", { slab: 16, air: 17, rh: 45 }, stretch), ...heardFrom("n2", { slab: 9 }, stretch)];
  const split = entry("split", ago(2), {
    into: [
      { id: "a-north", areaM2: 30, probes: ["n1/slab"] },
      { id: "a-south", areaM2: 50, probes: ["n2/slab"] },
    ],
  });
  const patch = { nodes, series };

  it("is replaced by its parts, which name their probes and areas", () => {
    const log = nightLog({ ...patch, journal: [...ground(NOON_MS, 3), split] });
    expect(zonesAt(log, ago(2) - 1).map((zone) => zone.id)).toEqual(["a"]);
    expect(zonesAt(log, NOON_MS).map((zone) => [zone.id, zone.areaM2])).toEqual([
      ["a-north", 30],
      ["a-south", 50],
    ]);
    expect(judgeZone(log, "a-north", NOON_MS).call).toMatchObject({
      call: "pour",
      conditions: { slabColdC: 16, airC: 17 },
    });
    expect(judgeZone(log, "a-south", NOON_MS).call).toMatchObject({ call: "wait", limiting: "slab-cold" });
    expect(() => judgeZone(log, "a-north", ago(3))).toThrow(/"a-north" is not a zone/);
  });

  it("parts inherit journal, readings and clocks up to the split, its own moment included", () => {
    const pour = [poured(0, ago(20)), entry("inspected", split.atMs, { surface: "dusty" }), split];
    const north = callOf([...pour, entry("cleaned", ago(1), { zone: "a-north" })], patch, "a-north");
    expect(north.film).toMatchObject({ coat: 0, pouredFromMs: ago(20) });
    expect(north.call).toBe("pour");
    const untouched = callOf(pour, patch, "a-north");
    expect(untouched).toMatchObject({ call: "wait", limiting: "dust" });
    const after = callOf([...pour, entry("washed", ago(1))], patch, "a-north");
    expect(outcome(after, "surface-damp")).toBe("pass");
  });
});

describe("taking back", () => {
  const held = entry("held", ago(3), { why: "by mistake" });
  const undoing = entry("undone", ago(1), { undoes: held.id });

  it("counts from when it was heard, and not before", () => {
    expect(callOf([held, undoing]).call).toBe("pour");
    expect(callOf([held, undoing], {}, "a", ago(1) - 1).limiting).toBe("hold");
    expect(callOf([held, { ...undoing, heardMs: NOON_MS + 1 }]).limiting).toBe("hold");
  });

  it("can be taken back itself", () => {
    expect(callOf([held, undoing, entry("undone", ago(0.5), { undoes: undoing.id })]).limiting).toBe("hold");
  });

  it("comes with a corrected entry", () => {
    const wrong = poured(0, ago(20));
    const right = { ...poured(0, ago(5)), undoes: wrong.id } as JournalEntry;
    expect(callOf([wrong]).call).toBe("pour");
    expect(callOf([wrong, right])).toMatchObject({ call: "wait", limiting: "cure-short" });
  });
});

describe("hours across a change of the clock", () => {
  // Denver: the night of 8 March 2026 has 23 hours, that of 1 November 25.
  it.each([Date.UTC(2026, 2, 8, 9), Date.UTC(2026, 10, 1, 8)])("are true hours: %s", (changeMs) => {
    const nowMs = changeMs + 5 * HOUR_MS;
    const log = nightLog({
      nowMs,
      says: { slab: 21.11 },
      journal: [...ground(changeMs - 6 * HOUR_MS), poured(0, changeMs - 4 * HOUR_MS)],
    });
    const { film } = zoneState(log, "a", { nowMs, heardByMs: nowMs });
    expect(film?.recoat.share).toBeCloseTo(8 / 9, 4);
    expect(slowEpoxy.cure[2]?.recoatFromH).toBe(9);
  });
});
