// The plain outlook: what it is made of, how wide it is, and when there is none.
import { describe, expect, it } from "vitest";
import { fanOf } from "#core/outlook/fans.ts";
import type { Outlook } from "#core/outlook/outlook.ts";
import { plainOutlook } from "#core/outlook/plain.ts";
import { weightedQuantile } from "#core/outlook/quantile.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { zoneState } from "#core/zone/state.ts";
import {
  entry,
  ground,
  heardFrom,
  HOUR_MS,
  nightLog,
  type NightPatch,
  nodeOf,
  NOON_MS,
  lively,
} from "../../support/night-log.ts";
import { randomNight } from "../../support/random-night.ts";

const ahead = (hours: number) => NOON_MS + hours * HOUR_MS;
const ago = (hours: number) => NOON_MS - hours * HOUR_MS;
/** A day that repeats: coldest at six in the evening here, by `swingK`. */
const daily = (meanC: number, swingK: number) => (atMs: number) =>
  meanC + swingK * Math.cos((2 * Math.PI * (atMs - NOON_MS)) / (24 * HOUR_MS));

function outlookOf(patch: NightPatch = {}, work: readonly JournalEntry[] = []): Outlook | null {
  const log = nightLog({ journal: [...ground(NOON_MS), ...work], ...patch });
  return plainOutlook(zoneState(log, "a", { nowMs: NOON_MS, heardByMs: NOON_MS }));
}
function made(patch: NightPatch = {}, work: readonly JournalEntry[] = []): Outlook {
  const outlook = outlookOf(patch, work);
  if (outlook === null) throw new Error("no outlook");
  return outlook;
}
const slabFan = (outlook: Outlook) => fanOf(outlook, (member, step) => member.slabColdC[step] as number);
const marginFan = (outlook: Outlook) =>
  fanOf(outlook, (member, step) => (member.slabColdC[step] as number) - (member.dewPointC[step] as number));
const at = (hours: number) => hours * 2; // fans have half-hour steps
const feed = (hours: number, airC: (hour: number) => number, fetchedMs = NOON_MS) => ({
  fetchedMs,
  hours: Array.from({ length: hours + 1 }, (_, hour) => ({
    atMs: ahead(hour),
    airC: airC(hour),
    dewPointC: Math.min(2, airC(hour) - 1),
  })),
});
const short = { hours: 10 };
const typed = (untilH: number, lowC = 4, dewPointC = 3) =>
  entry("forecast", ago(0.5), { lowC, dewPointC, untilMs: ahead(untilH) });
const heating = (fields: object, hoursAgo = 30) => entry("heating", ago(hoursAgo), { on: true, ...fields });

describe("every outlook", () => {
  const outlooks: [string, Outlook][] = [
    ["two nights", made()],
    ["feed", made({ ...short, feeds: [feed(48, () => 5)] })],
    ["nights and feed", made({ feeds: [feed(48, () => 5)] })],
    ["typed", made(short, [typed(18)])],
    ["heat logged off", made({}, [heating({ on: false }, 1)])],
    ["heat that ends", made({}, [heating({ toMs: ahead(6) })])],
    ["all of it", made({ feeds: [feed(48, (hour) => 5 - hour / 4)] }, [typed(18), heating({ toMs: ahead(6) })])],
    ...Array.from({ length: 12 }, (_, seed): [string, Outlook][] => {
      const { log, nowMs } = randomNight(9000 + seed);
      const outlook = plainOutlook(zoneState(log, "a", { nowMs, heardByMs: nowMs }));
      return outlook === null ? [] : [[`random ${seed}`, outlook]];
    }).flat(),
  ];
  it("is made in a good share of random nights", () => expect(outlooks.length).toBeGreaterThan(14));

  it.each(outlooks)("%s: weights sum to 1, fans are in order, nothing is missing, all begin now", (_, outlook) => {
    expect(outlook.members.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 9);
    for (const member of outlook.members) {
      expect(member.weight).toBeGreaterThan(0);
      for (const column of [member.slabColdC, member.slabHotC, member.airC, member.dewPointC]) {
        expect(column).toHaveLength(432);
        expect(column.every((value) => Number.isFinite(value))).toBe(true);
        expect(column[0]).toBeCloseTo(
          outlook.members[0]?.[column === member.airC ? "airC" : "slabColdC"][0] as number,
          column === member.slabHotC || column === member.dewPointC ? -2 : 6,
        );
      }
      expect(member.slabHotC.every((value, step) => value >= (member.slabColdC[step] as number) - 1e-9)).toBe(true);
    }
    for (const { q10, q50, q90 } of [slabFan(outlook), marginFan(outlook)]) {
      expect(q10).toHaveLength(72);
      for (const [step, low] of q10.entries()) {
        expect(low).toBeLessThanOrEqual(q50[step] as number);
        expect(q50[step]).toBeLessThanOrEqual(q90[step] as number);
      }
    }
  });

  it("knows the weighted quantile", () => {
    expect([0.1, 0.5, 0.9].map((q) => weightedQuantile([3, 1, 2], [0.2, 0.7, 0.1], q))).toEqual([1, 1, 3]);
    expect(weightedQuantile([], [], 0.5)).toBeNaN();
  });
});

describe("two nights", () => {
  it("repeat themselves: the middle of the fan is the same hour of yesterday", () => {
    const fan = slabFan(made({ says: { slab: daily(16, 2), air: lively(19), rh: lively(45) } }));
    expect(fan.q50[at(0)]).toBeCloseTo(18, 1);
    expect(fan.q50[at(12)]).toBeCloseTo(14, 0);
    expect(fan.q50[at(24)]).toBeCloseTo(18, 0);
  });

  it("bracket: yesterday's values and today's offset both stand for nearly half", () => {
    // Colder by 3 K than at this hour yesterday, all day long: one half returns to yesterday, the other keeps the 3 K.
    const colder = (atMs: number) => (atMs < ago(20) ? 19 : 16);
    const { q10, q90 } = slabFan(made({ says: { slab: lively(colder), air: lively(20) } }));
    expect(q10[at(16)]).toBeLessThan(13.5);
    expect(q90[at(16)]).toBeGreaterThan(15.5);
  });

  it("widen with the hours ahead, and more so where the night had gaps", () => {
    const width = (outlook: Outlook, hours: number) =>
      (marginFan(outlook).q90[at(hours)] as number) - (marginFan(outlook).q10[at(hours)] as number);
    const holed = (atMs: number) =>
      Math.floor((atMs - ago(60)) / HOUR_MS) % 4 === 0 && atMs < ago(1) ? Number.NaN : 16;
    const [whole, gaps] = [made(), made({ says: { slab: holed } })];
    expect(width(whole, 1)).toBeGreaterThan(0.3);
    expect(width(whole, 16)).toBeGreaterThan(1.5 * width(whole, 1));
    expect(width(gaps, 16)).toBeGreaterThan(1.25 * width(whole, 16));
  });

  it("need a whole day: with less there is none, with one there is", () => {
    expect(outlookOf({ hours: 23.5 })).toBeNull();
    expect(outlookOf({ hours: 24.2 })?.basis).toEqual(["two-nights"]);
  });

  it("need most of it heard", () => {
    const lost = (atMs: number) => (atMs > ago(20) && atMs < ago(11) ? Number.NaN : 16);
    expect(outlookOf({ says: { slab: lost } })).toBeNull();
  });

  it("a night that departs from the last is carried on", () => {
    const climbing = (atMs: number) => 45 + Math.max(0, (atMs - ago(3)) / HOUR_MS) * 3;
    const [calm, front] = [made(), made({ says: { rh: climbing } })];
    expect(marginFan(front).q10[at(6)]).toBeLessThan((marginFan(calm).q10[at(6)] as number) - 2);
  });
});

describe("heat", () => {
  const coldAir = (outlook: Outlook, hours: number) =>
    fanOf(outlook, (member, step) => member.airC[step] as number).q10[at(hours)] as number;

  it("logged off counts as off: the air falls, the slab after it", () => {
    const off = made({}, [heating({}), heating({ on: false }, 1)]);
    expect(off.basis).toContain("heat-off");
    expect(coldAir(off, 12)).toBeLessThan(coldAir(made(), 12) - 5);
    expect(slabFan(off).q10[at(12)]).toBeLessThan((slabFan(made()).q10[at(12)] as number) - 1);
  });

  it("counts as off when the air falls as a building does unheated, though nobody logged it", () => {
    const failing = (atMs: number) => 17 - Math.max(0, (atMs - ago(4)) / HOUR_MS);
    expect(made({ says: { slab: lively(16), air: failing, rh: lively(45) } }).basis).toContain("heat-off");
    expect(made({ says: { slab: lively(16), air: daily(17, 2), rh: lively(45) } }).basis).not.toContain("heat-off");
  });

  it("logged to end is taken off there, unless another plan goes on", () => {
    const ends = made({}, [heating({ toMs: ahead(6) })]);
    expect(ends.basis).toContain("heating-plan");
    expect(coldAir(ends, 5)).toBeCloseTo(17, 1);
    expect(coldAir(ends, 18)).toBeLessThan(11);
    expect(made({}, [heating({ toMs: ahead(6) }), heating({ fromMs: ahead(5), toMs: ahead(200) }, 1)]).basis).toEqual([
      "two-nights",
    ]);
    expect(made({}, [heating({}), heating({ on: false, fromMs: ahead(3) }, 1)]).basis).toContain("heating-plan");
    expect(made({}, [heating({ toMs: ago(2) })]).basis).toContain("heat-off");
  });

  it("falls towards the coldest outdoor node", () => {
    const nodes = [nodeOf("n1"), nodeOf("out", { zone: null }), nodeOf("out-2", { zone: null })];
    const stretch = { fromMs: ago(54), toMs: NOON_MS };
    const outdoors = [...heardFrom("out", { air: -4 }, stretch), ...heardFrom("out-2", { air: 9 }, stretch)];
    const off = made({ nodes, series: [...nightLog().series, ...outdoors] }, [heating({ on: false }, 1)]);
    expect(coldAir(off, 36 - 0.5)).toBeCloseTo(-4, 0);
  });
});

describe("typed and fed", () => {
  it("a typed night is wide, and wetter by the typed dew point", () => {
    const outlook = made(short, [typed(18, 2, 9)]);
    expect(outlook.basis).toEqual(["typed"]);
    expect(marginFan(outlook).q50[at(12)]).toBeLessThan(16 - 8);
    expect((slabFan(outlook).q90[at(12)] as number) - (slabFan(outlook).q10[at(12)] as number)).toBeGreaterThan(1);
  });

  it("one that is about to end, or was not yet heard, says nothing", () => {
    expect(outlookOf(short, [typed(5.9)])).toBeNull();
    expect(outlookOf(short, [{ ...typed(18), heardMs: NOON_MS + 1 }])).toBeNull();
  });

  it("a feed moves air and slab by its changes; one that covers less than 12 h, or came later, does not count", () => {
    const falling = made({ ...short, feeds: [feed(48, (hour) => 5 - hour / 2)] });
    expect(falling.basis).toEqual(["feed"]);
    expect(fanOf(falling, (member, step) => member.airC[step] as number).q50[at(20)]).toBeCloseTo(17 - 0.6 * 10, 6);
    expect(slabFan(falling).q50[at(20)]).toBeLessThan(15);
    expect(outlookOf({ ...short, feeds: [feed(11, () => 5)] })).toBeNull();
    expect(outlookOf({ ...short, feeds: [feed(48, () => 5, NOON_MS + 1)] })).toBeNull();
  });

  it("a feed that is doubted says nothing: stale, jumping, or no weather", () => {
    expect(outlookOf({ ...short, feeds: [feed(48, () => 5, ago(13))] })).toBeNull();
    expect(outlookOf({ ...short, feeds: [feed(48, (hour) => (hour === 3 ? 25 : 5))] })).toBeNull();
    expect(outlookOf({ ...short, feeds: [feed(48, () => 278.15)] })).toBeNull();
  });
});
