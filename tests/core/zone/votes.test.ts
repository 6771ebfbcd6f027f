// Who speaks for a zone: the coldest and hottest probe, a silent probe at its worst, moved and retired ones, and chips.
import { describe, expect, it } from "vitest";
import { dewPointC } from "#core/air/dew-point.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { zoneState } from "#core/zone/state.ts";
import {
  entry,
  ground,
  heardFrom,
  HOUR_MS,
  MINUTE_MS,
  nightLog,
  nodeOf,
  NOON_MS,
  poured,
  row,
  slowEpoxy,
  lively,
} from "../../support/night-log.ts";

type Says = Readonly<Record<string, number | ((atMs: number) => number)>>;
const day = { fromMs: NOON_MS - 50 * HOUR_MS, toMs: NOON_MS };
const ago = (hours: number) => NOON_MS - hours * HOUR_MS;

/** Node n1 speaks all the time; n2 as given. */
function zone(n1: Says, n2: Says, journal: readonly JournalEntry[] = [], { until = NOON_MS, from = day.fromMs } = {}) {
  const series = [...heardFrom("n1", n1, day), ...heardFrom("n2", n2, { fromMs: from, toMs: until })];
  const log = nightLog({ nodes: [nodeOf("n1"), nodeOf("n2")], series, journal: [...ground(NOON_MS), ...journal] });
  return {
    log,
    state: zoneState(log, "a", { nowMs: NOON_MS, heardByMs: NOON_MS }),
    call: judgeZone(log, "a", NOON_MS).call,
  };
}
const air = { air: 17, rh: 45 };
const rule = (call: ReturnType<typeof zone>["call"], id: string) => call.rules.find((result) => result.rule === id);

describe("the worst spot", () => {
  it("is the coldest probe for the margin and the hottest for the maximum", () => {
    const { state } = zone({ slab: 16, ...air }, { slab: 14.2, "slab.2": 18.4 });
    expect(state.conditions).toMatchObject({
      slabColdC: 14.2,
      coldProbe: "n2/slab",
      slabHotC: 18.4,
      hotProbe: "n2/slab.2",
    });
    expect(state.conditions.marginK).toBeCloseTo(14.2 - dewPointC(17, 45), 9);
  });

  it("is the dampest chip for the margin, and each limit's own worst", () => {
    const { state } = zone({ slab: 16, air: 17, rh: 45 }, { air: 15, rh: 60 });
    expect(state.conditions).toMatchObject({ airMinC: 15, airMaxC: 17, rhMinPct: 45, rhMaxPct: 60 });
    expect(state.conditions.dewPointC).toBeCloseTo(dewPointC(15, 60), 9);
    expect(state.conditions.waterGPerKg).toBeCloseTo(5.36, 1); // of the drier chip: dew point 4.9 °C
  });
});

describe("a slab probe that fell silent", () => {
  /** n2 is 1 K colder, 3 K colder once, for an hour, 20 h ago. */
  const edge = (atMs: number) => (atMs > ago(21) && atMs < ago(20) ? 13 : 15);

  it("keeps its vote at its worst offset of the last 48 h", () => {
    const { state } = zone({ slab: lively(16), ...air }, { slab: lively(edge) }, [], { until: ago(3) });
    expect(state.conditions).toMatchObject({ slabColdC: 13, coldProbe: "n2/slab" });
    expect(state.unknownVote).toBeNull();
  });

  it("follows those that speak", () => {
    const falling = (atMs: number) => 16 - Math.max(0, (atMs - ago(2)) / HOUR_MS);
    const { state } = zone({ slab: lively(falling), ...air }, { slab: lively(edge) }, [], { until: ago(3) });
    expect(state.conditions.slabColdC).toBeCloseTo(11, 9);
  });

  it("is heard no more after the reading has spoken for half an hour, not before", () => {
    const at = (minutes: number) =>
      zone({ slab: lively(16), ...air }, { slab: lively(edge) }, [], { until: NOON_MS - minutes * MINUTE_MS });
    expect(at(30).state.conditions.slabColdC).toBe(15.0625);
    expect(at(40).state.conditions.slabColdC).toBe(13);
  });

  it("with less than 12 h in common makes the zone wait", () => {
    const common = (hours: number) =>
      zone({ slab: 16, ...air }, { slab: 15 }, [], { from: ago(3 + hours), until: ago(3) });
    expect(common(11.5).call).toMatchObject({ call: "wait", limiting: "data-stale" });
    expect(rule(common(11.5).call, "data-stale")).toMatchObject({ probe: "n2/slab", detail: "silent-probe" });
    expect(common(12.5).call.call).toBe("pour");
    // Silent for 40 h: of the last 48 only 8 are in common.
    expect(zone({ slab: 16, ...air }, { slab: 15 }, [], { until: ago(40) }).call.limiting).toBe("data-stale");
  });

  it("loses its vote when a person retires it, and its past when moved", () => {
    const silent = { until: ago(3) };
    const retired = zone(
      { slab: lively(16), ...air },
      { slab: lively(edge) },
      [entry("retired", ago(1), { probe: "n2/slab" })],
      silent,
    );
    expect(retired.state.conditions.slabColdC).toBe(16);
    const moved = zone(
      { slab: lively(16), ...air },
      { slab: lively(edge) },
      [entry("moved", ago(15), { probe: "n2/slab" })],
      silent,
    );
    expect(moved.state.conditions.slabColdC).toBe(15);
    const back = [entry("retired", ago(2), { probe: "n2/slab" }), entry("moved", ago(1), { probe: "n2/slab" })];
    expect(zone({ slab: lively(16), ...air }, { slab: lively(edge) }, back, silent).call.limiting).toBe("data-stale");
  });

  it("and was laid elsewhere says nothing of its new place until it is heard there", () => {
    const moved = entry("moved", NOON_MS - 4 * MINUTE_MS, { probe: "n1/slab", place: "door edge" });
    const at = (minutes: number, nodes = [nodeOf("n1")]) => {
      const log = nightLog({ nodes, journal: [...ground(NOON_MS), moved] });
      return judgeZone(log, "a", NOON_MS - minutes * MINUTE_MS).call;
    };
    expect(at(5).call).toBe("pour");
    expect(at(3)).toMatchObject({ call: "wait", limiting: "data-stale", conditions: { slabColdC: null } });
    expect(at(0).conditions.slabColdC).toBe(16);
    // A product past dew within 3 h asks for no night: nothing but the data may stop it.
    const short = { ...slowEpoxy, cure: [row(5, { recoatFromH: 1, recoatUntilH: 9, dewSafeH: 0.5 })] };
    const log = nightLog({ journal: [...ground(NOON_MS), moved], sheets: [short] });
    expect(judgeZone(log, "a", NOON_MS - 3 * MINUTE_MS).call.limiting).toBe("data-stale");
  });

  it("and is retired leaves no hole in the past of a film, days later", () => {
    const later = 60;
    const series = [
      ...heardFrom("n1", { slab: 16, ...air }, { fromMs: day.fromMs, toMs: NOON_MS + later * HOUR_MS }),
      ...heardFrom("n2", { slab: 15 }, { fromMs: day.fromMs, toMs: ago(10) }),
    ];
    const journal = [...ground(ago(20)), poured(0, ago(16)), entry("retired", ago(4), { probe: "n2/slab" })];
    const log = nightLog({ nodes: [nodeOf("n1"), nodeOf("n2")], series, journal });
    const share = (hours: number) => {
      const nowMs = NOON_MS + hours * HOUR_MS;
      return zoneState(log, "a", { nowMs, heardByMs: nowMs });
    };
    expect(share(later).film?.recoat.reachedMs).toBe(share(0).film?.recoat.reachedMs);
    expect(share(later).film?.recoat.reachedMs).not.toBeNull();
    expect(share(later).exposure?.gapMin).toBe(0);
  });

  it("and was listed but never heard makes the zone wait", () => {
    const nodes = [nodeOf("n1", { probes: { slab: {}, "slab.2": { place: "door edge" } } })];
    const call = judgeZone(nightLog({ nodes }), "a", NOON_MS).call;
    expect(call).toMatchObject({ call: "wait", limiting: "data-stale" });
    expect(rule(call, "data-stale")).toMatchObject({ probe: "n1/slab.2" });
  });

  it("is not missed before it was first heard", () => {
    const log = nightLog();
    const later = heardFrom("n1", { "slab.2": 15 }, { fromMs: NOON_MS + HOUR_MS, toMs: NOON_MS + 2 * HOUR_MS });
    const both = { ...log, series: [...log.series, ...later] };
    expect(judgeZone(both, "a", NOON_MS)).toEqual(judgeZone(log, "a", NOON_MS));
  });
});

describe("a chip that fell silent", () => {
  it("keeps its vote: losing the dampest chip does not dry the air", () => {
    const damp = { air: 17, rh: 62 };
    const heard = zone({ slab: 13, ...air }, damp);
    const silent = zone({ slab: 13, ...air }, damp, [], { until: ago(2) });
    expect(heard.call.call).toBe("wait");
    expect(silent.call.call).toBe("wait");
    expect(silent.state.conditions.dewPointC).toBeCloseTo(dewPointC(17, 62), 6);
    expect(silent.state.conditions.rhMaxPct).toBeCloseTo(62, 6);
  });

  it("with less than 12 h in common makes the zone wait", () => {
    const { call } = zone({ slab: 16, ...air }, air, [], { from: ago(9), until: ago(2) });
    expect(rule(call, "data-stale")).toMatchObject({ outcome: "stop", probe: "n2/air", detail: "silent-probe" });
  });

  it("retired has no vote any more, but what it said stays said", () => {
    const wet = (atMs: number) => (atMs < ago(20) ? 100 : 45);
    const log = zone({ slab: 16, ...air }, { air: 17, rh: wet }, [entry("retired", ago(10), { probe: "n2/air" })], {
      until: ago(2),
    });
    expect(log.state.conditions.dewPointC).toBeCloseTo(dewPointC(17, 45), 9);
    const at = (hours: number) => log.state.line.marginK[log.state.line.atMs.indexOf(ago(hours))];
    expect(at(25)).toBeLessThan(0);
    expect(at(15)).toBeGreaterThan(5);
  });
});

describe("a gap", () => {
  it("of the slab is a gap although the air goes on, from its last reading to its next", () => {
    const holed = (atMs: number) => (atMs > ago(3) && atMs < ago(2.2) ? Number.NaN : 16);
    const { state } = zone({ slab: holed }, air);
    const known = (hours: number) => !Number.isNaN(state.line.slabColdC[state.line.atMs.indexOf(ago(hours))] as number);
    expect([known(3), known(2.5), known(2.5 + 1 / 6), known(2 + 1 / 6)]).toEqual([true, false, false, true]);
  });

  it("of half an hour and less is none", () => {
    const holed = (atMs: number) => (atMs > ago(3) && atMs < ago(2.5) ? Number.NaN : 16);
    const { state } = zone({ slab: holed }, air);
    expect(state.line.slabColdC.every((value) => value === 16)).toBe(true);
  });
});

describe("air and humidity that do not belong together", () => {
  it("make no margin: it holds for half an hour after they last did, then the zone waits", () => {
    const stopped = (minutes: number) => (atMs: number) => (atMs > NOON_MS - minutes * MINUTE_MS ? Number.NaN : 45);
    const callAfter = (minutes: number) => judgeZone(nightLog({ says: { rh: stopped(minutes) } }), "a", NOON_MS).call;
    expect(callAfter(20).call).toBe("pour");
    expect(callAfter(40)).toMatchObject({ call: "wait", limiting: "data-stale" });
    expect(judgeZone(nightLog({ says: { rh: 0 } }), "a", NOON_MS).call).toMatchObject({
      call: "wait",
      limiting: "data-missing",
    });
  });
});
