// Trust in sensors: each fault is seen, each look-alike is spared, and a person's word lifts it.
import { describe, expect, it } from "vitest";
import { dewPointC, frostPointC, rhPctFromDewPoint } from "#core/air/dew-point.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { Node, Series } from "#core/zone/site.ts";
import { zoneState } from "#core/zone/state.ts";
import {
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
} from "../../support/night-log.ts";

type Says = Readonly<Record<string, number | ((atMs: number) => number)>>;
const stretch = { fromMs: NOON_MS - 50 * HOUR_MS, toMs: NOON_MS, everyS: 300 };
const ago = (hours: number) => NOON_MS - hours * HOUR_MS;
const cFromF = (valueF: number) => (valueF - 32) / 1.8;

function judged(
  series: readonly Series[],
  journal: readonly JournalEntry[] = [],
  nodes: readonly Node[] = [nodeOf("n1"), nodeOf("n2")],
) {
  const log = nightLog({ nodes, series, journal: [...ground(NOON_MS), ...journal] });
  const state = zoneState(log, "a", { nowMs: NOON_MS, heardByMs: NOON_MS });
  const { call } = judgeZone(log, "a", NOON_MS);
  return { state, call, kinds: state.trust.doubts.map((doubt) => `${doubt.probe} ${doubt.kind}`) };
}
const one = (says: Says, journal: readonly JournalEntry[] = []) =>
  judged(heardFrom("n1", { slab: 16, air: 17, rh: 45, ...says }, stretch), journal, [nodeOf("n1")]);
const two = (n1: Says, n2: Says, journal: readonly JournalEntry[] = []) =>
  judged([...heardFrom("n1", { slab: 16, air: 17, rh: 45, ...n1 }, stretch), ...heardFrom("n2", n2, stretch)], journal);

describe("a detached slab probe", () => {
  /** Air of a heater that cycles: 2.5 K up and down in `periodMin`. */
  const heater = (periodMin: number) => (atMs: number) => {
    const phase = (((atMs - stretch.fromMs) / MINUTE_MS) % periodMin) / periodMin;
    return 17 + (phase < 0.5 ? -2.5 + 10 * phase : 7.5 - 10 * phase);
  };
  /** What a body with a first-order lag makes of it. */
  function lagged(airC: (atMs: number) => number, lagMin: number): (atMs: number) => number {
    const values = new Map<number, number>();
    let bodyC = 17;
    for (let atMs = stretch.fromMs; atMs <= NOON_MS; atMs += MINUTE_MS) {
      bodyC += (airC(atMs) - bodyC) / lagMin;
      values.set(atMs, bodyC);
    }
    return (atMs) => values.get(atMs) as number;
  }
  const kinds = (periodMin: number, lagMin: number) =>
    one({ air: heater(periodMin), slab: lagged(heater(periodMin), lagMin), rh: 35 }).kinds;

  it.each([40, 60, 80, 120])("follows the air through swings of %s min in size and without delay", (periodMin) => {
    expect(kinds(periodMin, 1)).toEqual(["n1/slab detached"]);
  });

  it.each([40, 60, 80, 120].flatMap((periodMin) => [20, 30, 45, 60].map((lagMin) => [periodMin, lagMin] as const)))(
    "is not a thin suspended slab: swings of %s min, lag of %s min",
    (periodMin, lagMin) => {
      expect(kinds(periodMin, lagMin)).toEqual([]);
    },
  );

  it("that is the only one stops the zone; with another one it keeps its vote, at its worst offset", () => {
    const loose = one({ air: heater(60), slab: heater(60), rh: 35 });
    expect(loose.call).toMatchObject({ call: "wait", limiting: "data-fault" });
    const beside = two({ air: heater(60), rh: 30 }, { slab: heater(60) });
    expect(beside.kinds).toEqual(["n2/slab detached"]);
    expect(beside.state.conditions.slabColdC).toBeCloseTo(14.5, 6);
    expect(beside.call.rules.find((rule) => rule.rule === "data-fault")?.outcome).toBe("caution");
  });

  it("is trusted again when a person vouches for it", () => {
    const vouched = entry("trusted", ago(0.5), { probe: "n1/slab", why: "pressed down, thermal paste" });
    expect(one({ air: heater(60), slab: heater(60), rh: 35 }, [vouched]).kinds).toEqual([]);
  });
});

describe("a slab probe that rides with the air", () => {
  /** Air that warms by 4 K in four hours, once. */
  const warming = (atMs: number) => 13 + Math.max(0, Math.min(4, (atMs - ago(5)) / HOUR_MS));
  const found = (slab: (atMs: number) => number) => one({ air: warming, slab, rh: lively(45) }).kinds;
  it("through a rise that goes one way has come off, without any swing", () => {
    expect(found((atMs) => warming(atMs) - 0.3)).toEqual(["n1/slab detached"]);
  });
  it("is not a slab that lags, nor one that is as warm as still air", () => {
    expect(found((atMs) => 13 + 0.6 * (warming(atMs) - 13))).toEqual([]);
    expect(found((atMs) => warming(atMs) - 1.2)).toEqual([]);
    expect(one({ air: lively(16), slab: lively(16), rh: lively(45) }).kinds).toEqual([]);
  });
});

describe("a saturated humidity chip", () => {
  const warming = (atMs: number) => (atMs < ago(3) ? 14 : 14 + 2 * ((atMs - ago(3)) / HOUR_MS));
  it("stays at 95 to 100 % while the air warms", () => {
    const stuck = one({ slab: lively(22), rh: 99, air: warming });
    expect(stuck.kinds).toEqual(["n1/rh saturated"]);
    expect(stuck.call.limiting).toBe("data-fault");
  });
  it("is not fog: true humidity falls when the air warms, and still air may stay damp", () => {
    expect(
      one({ slab: lively(16), air: warming, rh: (atMs) => Math.min(99, rhPctFromDewPoint(warming(atMs), 13.8)) }).kinds,
    ).toEqual([]);
    expect(one({ rh: 99 }).kinds).toEqual([]);
  });
});

describe("a node's own dew point", () => {
  it("off by more than 1 K is a conflict of that chip", () => {
    expect(one({ dew: dewPointC(17, 45) + 1.1 }).kinds).toEqual(["n1/air own-dew-point"]);
    expect(one({ dew: dewPointC(17, 45) + 1.1 }).call.limiting).toBe("data-conflict");
    expect(one({ dew: dewPointC(17, 45) - 0.9 }).kinds).toEqual([]);
  });
  it("may be a frost point below zero", () => {
    const cold = { slab: -6, air: -5, rh: 45 };
    const frostC = frostPointC(-5, 45);
    expect(frostC - dewPointC(-5, 45)).toBeGreaterThan(1);
    expect(one({ ...cold, dew: frostC }).kinds).toEqual([]);
    expect(one({ ...cold, dew: frostC + 1.1 }).kinds).toEqual(["n1/air own-dew-point"]);
    expect(one({ dew: frostPointC(17, 45) + 1.2 }).kinds).toHaveLength(1);
  });
});

describe("a number in another unit", () => {
  it("blocks the zone until a person confirms it", () => {
    const slabF = one({ slab: 61 });
    expect(slabF.kinds).toEqual(["n1/slab unit"]);
    expect(slabF.call).toMatchObject({ call: "wait", limiting: "unit-doubt" });
    const confirmed = one({ slab: 61 }, [entry("trusted", ago(1), { probe: "n1/slab", why: "it really is" })]);
    expect(confirmed.kinds).toEqual([]);
    expect(confirmed.call.limiting).toBe("slab-hot");
  });
  it("is seen in the air, in humidity as a share, in a cold slab, and when a whole node is set to it", () => {
    expect(one({ air: 63 }).kinds).toContain("n1/air unit");
    expect(one({ rh: 0.45 }).kinds).toContain("n1/rh unit");
    expect(one({ slab: 36, air: 12 }).kinds).toEqual(["n1/slab unit"]);
    expect(one({ slab: 61, air: 63 }).kinds).toEqual(["n1/slab unit", "n1/air unit"]);
    expect(one({ slab: 61, air: 63 }).call.limiting).toBe("unit-doubt");
  });
  it("is not a cold slab under warm air, nor a warm one in the sun", () => {
    expect(one({ slab: 1, air: 24 }).kinds).toEqual([]);
    expect(one({ slab: 33, air: 20 }).kinds).toEqual([]);
    expect(cFromF(61)).toBeCloseTo(16.1, 1);
  });
});

describe("a node's clock", () => {
  const shifted = (lateMs: number, last = Number.POSITIVE_INFINITY) =>
    heardFrom("n1", { slab: 16, air: 17, rh: 45 }, stretch).map((series) => ({
      ...series,
      heardMs: series.atMs.map((atMs, index) =>
        series.atMs.length - index <= last ? Math.min(NOON_MS, atMs + lateMs) : atMs,
      ),
    }));
  it("that runs ahead is in doubt: readings are heard before they were taken", () => {
    const ahead = heardFrom("n1", { slab: 16, air: 17, rh: 45 }, { ...stretch, toMs: NOON_MS + 5 * MINUTE_MS }).map(
      (series) => ({
        ...series,
        heardMs: series.atMs.map((atMs) => atMs - 5 * MINUTE_MS),
      }),
    );
    expect(judged(ahead, [], [nodeOf("n1")]).kinds).toEqual(["n1/air clock"]);
    expect(judged(ahead, [], [nodeOf("n1")]).call.limiting).toBe("clock-doubt");
  });
  it("that is behind is in doubt: no packet comes in time", () => {
    const behind = heardFrom("n1", { slab: 16, air: 17, rh: 45 }, { ...stretch, toMs: ago(0.25) }).map((series) => ({
      ...series,
      heardMs: series.atMs.map((atMs) => atMs + 15 * MINUTE_MS),
    }));
    expect(judged(behind, [], [nodeOf("n1")]).kinds).toEqual(["n1/air clock"]);
  });
  it("is not to blame for one late batch", () => {
    expect(judged(shifted(40 * MINUTE_MS, 12), [], [nodeOf("n1")]).kinds).toEqual([]);
  });
});

describe("error codes and impossible numbers", () => {
  it("are dropped and counted, and do not use up the window", () => {
    const codes = (atMs: number) => (atMs === ago(4) ? 85 : atMs === ago(6) ? -127 : atMs === ago(8) ? 900 : 16);
    const film = [poured(0, ago(20))];
    const { state, call } = one(
      { slab: codes, air: (atMs) => (atMs === ago(5) ? 85 : 17), rh: (atMs) => (atMs === ago(7) ? 400 : 45) },
      film,
    );
    expect(state.probes.slab[0]?.dropped).toBe(3);
    expect(state.film?.closing.hottestHourC).toBe(16);
    expect(state.conditions.slabHotC).toBe(16);
    expect(call.call).toBe("pour");
  });
});

describe("two probes close together", () => {
  const placed = (place: string) => [
    nodeOf("n1", { probes: { slab: { xM: 1, yM: 1 } } }),
    nodeOf("n2", { probes: { slab: { place, xM: 1.5, yM: 1 } } }),
  ];
  const pair = (secondC: number, place = "middle", journal: readonly JournalEntry[] = []) =>
    judged(
      [
        ...heardFrom("n1", { slab: lively(16), air: lively(17), rh: 45 }, stretch),
        ...heardFrom("n2", { slab: lively((atMs) => (atMs < ago(2) ? 16 : secondC)) }, stretch),
      ],
      journal,
      placed(place),
    );
  it("more than 2 K apart are in conflict: the zone waits", () => {
    expect(pair(18.1).kinds).toEqual(["n1/slab conflict", "n2/slab conflict"]);
    expect(pair(18.1).call.limiting).toBe("data-conflict");
    expect(pair(17.9).kinds).toEqual([]);
  });
  it("with a cause are a gradient: the colder one governs", () => {
    expect(pair(13.5, "door edge").kinds).toEqual([]);
    expect(pair(13.5, "door edge").state.conditions.slabColdC).toBe(13.5);
  });
  it("are left to a person who vouches for both", () => {
    const vouch = ["n1/slab", "n2/slab"].map((probe) => entry("trusted", ago(1), { probe, why: "measured by hand" }));
    expect(pair(18.1, "middle", vouch).kinds).toEqual([]);
    const before = ["n1/slab", "n2/slab"].map((probe) => entry("trusted", ago(3), { probe, why: "measured by hand" }));
    expect(pair(18.1, "middle", before).kinds).toHaveLength(2);
  });
});

describe("a sun-struck chip", () => {
  const dewC = dewPointC(17, 45);
  const hot = { air: 24, rh: rhPctFromDewPoint(24, dewC + 0.4) };
  it("keeps its dew point, its air and humidity are left out of the limits", () => {
    const { kinds, state, call } = two({}, hot);
    expect(kinds).toEqual(["n2/air sun-struck"]);
    expect(state.conditions).toMatchObject({ airMaxC: 17, rhMinPct: 45 });
    expect(state.conditions.dewPointC).toBeCloseTo(dewC + 0.4, 6);
    expect(call.call).toBe("pour");
  });
});
