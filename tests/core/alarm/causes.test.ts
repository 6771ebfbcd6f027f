// What raises an alarm, what is one alarm, and what does not clear it.
import { describe, expect, it } from "vitest";
import { reportOf } from "#core/alarm/causes.ts";
import { answerAlarm, NO_ALARMS, shownSigns, standingAlarms } from "#core/alarm/machine.ts";
import type { ZoneMoment } from "#core/alarm/moment.ts";
import { trailWith } from "#core/alarm/moment.ts";
import {
  callOf,
  momentAt,
  nodeAt,
  NOTHING_FORESEEN,
  ruleOf,
  runFor,
  said,
  WELL,
  withMargin,
  zoneAt,
} from "../../support/alarm-moments.ts";
import { HOUR_MS, MINUTE_MS, NOON_MS } from "../../support/night-log.ts";

const dewIn = (chance: number, hours: number, atMs: number) => ({
  dew: { chance, earliestMs: atMs + hours * HOUR_MS, likelyMs: atMs + (hours + 1) * HOUR_MS, lowest: 1.4 },
});
const kinds = (moment: Parameters<typeof reportOf>[0]) => reportOf(moment, new Map()).signs.map(({ kind }) => kind);

describe("the film", () => {
  it("nothing wrong is no alarm", () => {
    const { events } = runFor(120, (atMs) => momentAt(atMs, [zoneAt("slip", atMs)]));
    expect(events).toEqual([]);
  });

  it("foreseen, below, at the dew point is one alarm that worsens, and ends when it is well for its time", () => {
    const ahead = runFor(25, (atMs) => momentAt(atMs, [zoneAt("slip", atMs, { film: dewIn(0.7, 5, atMs) })]));
    const below = runFor(10, (atMs) => momentAt(atMs, [zoneAt("slip", atMs, { call: withMargin(2.2) })]), ahead);
    const dewed = runFor(5, (atMs) => momentAt(atMs, [zoneAt("slip", atMs, { call: withMargin(-0.2) })]), below);
    expect(said([...ahead.events, ...below.events, ...dewed.events])).toEqual([
      "raised margin-ahead wake slip",
      "worsened margin-below wake slip",
      "worsened condensing wake slip",
    ]);
    expect(standingAlarms(dewed.state)).toMatchObject([{ facts: { measured: -0.2, limit: 3, unit: "K" } }]);
    // Just above its limit is not well yet.
    const near = runFor(180, (atMs) => momentAt(atMs, [zoneAt("slip", atMs, { call: withMargin(3.2) })]), dewed);
    expect(said(near.events).filter((each) => each.startsWith("cleared"))).toEqual([]);
    const well = runFor(60, (atMs) => momentAt(atMs, [zoneAt("slip", atMs)]), dewed);
    expect(said(well.events)).toEqual(["cleared condensing wake slip"]);
  });

  it("a far danger is told, and wakes when it comes near; a small one is nobody's business", () => {
    const at = (chance: number, hours: number) => (atMs: number) =>
      momentAt(atMs, [zoneAt("slip", atMs, { film: dewIn(chance, hours, atMs) })]);
    expect(said(runFor(60, at(0.2, 5)).events)).toEqual([]);
    const far = runFor(60, at(0.7, 14));
    expect(said(far.events)).toEqual(["raised margin-ahead tell slip"]);
    expect(said(runFor(30, at(0.7, 6), far).events)).toEqual(["worsened margin-ahead wake slip"]);
  });

  it("no readings, no outlook and no judging clear nothing; a film that is past dew does", () => {
    const below = runFor(10, (atMs) => momentAt(atMs, [zoneAt("slip", atMs, { call: withMargin(2) })]));
    const cleared = (zone: (atMs: number) => ZoneMoment) =>
      said(runFor(300, (atMs) => momentAt(atMs, [zone(atMs)]), below).events).filter((each) =>
        each.startsWith("cleared"),
      );
    expect(cleared((atMs) => zoneAt("slip", atMs, { call: withMargin(null) }))).toEqual([]);
    expect(cleared((atMs) => zoneAt("slip", atMs, { watch: null }))).toEqual([]);
    expect(cleared((atMs) => zoneAt("slip", atMs, { film: { dew: null } }))).toEqual([]);
    const broken = { call: { film: null, rules: [ruleOf("data-fault", "stop", { detail: "judge-error" })] } };
    expect(cleared((atMs) => zoneAt("slip", atMs, broken))).toEqual([]);
    const film = { ...callOf("slip", 0).film, dewSensitive: false } as ReturnType<typeof callOf>["film"];
    expect(cleared((atMs) => zoneAt("slip", atMs, { call: { ...withMargin(1), film } }))).toEqual([
      "cleared margin-below wake slip",
    ]);
  });

  it("a coat laid over a film in danger is told anew, and what stood for the film below ends", () => {
    const below = runFor(10, (atMs) => momentAt(atMs, [zoneAt("slip", atMs, { call: withMargin(2) })]));
    const film = { ...callOf("slip", 0).film, coat: 1 } as ReturnType<typeof callOf>["film"];
    const again = (atMs: number) => momentAt(atMs, [zoneAt("slip", atMs, { call: { ...withMargin(2), film } })]);
    const id = standingAlarms(below.state)[0]?.id ?? "";
    const answered = answerAlarm(below.state, id, { did: "acknowledge", by: "Ida" }, below.nowMs);
    if (answered === null) throw new Error("the alarm stands");
    const laid = runFor(40, again, { state: answered.state, nowMs: below.nowMs });
    expect(said(laid.events)[0]).toBe("worsened margin-below wake slip");
    expect([...shownSigns(laid.state).keys()]).toEqual(["dew|slip#1"]);
  });

  it("zones that were not judged since a restart are not gone; a zone that is removed is", () => {
    const below = runFor(10, (atMs) => momentAt(atMs, [zoneAt("slip", atMs, { call: withMargin(2) })]));
    const later = (knownZones: string[]) =>
      said(runFor(60, (atMs) => momentAt(atMs, [], { knownZones }), below).events);
    expect(later(["slip"]).filter((each) => each.startsWith("cleared"))).toEqual([]);
    expect(later([])).toContain("cleared margin-below wake slip");
  });

  it("too cold to cure is told, not rung", () => {
    const cold = { conditions: { ...callOf("slip", 0).conditions, slabColdC: 8.5 } };
    const { events } = runFor(30, (atMs) => momentAt(atMs, [zoneAt("slip", atMs, { call: cold })]));
    expect(said(events)).toEqual(["raised cold-now tell slip"]);
    expect(events[0]?.alarm.facts).toMatchObject({ measured: 8.5, limit: 10, unit: "Cel" });
  });
});

describe("one cause is one alarm", () => {
  const five = ["a", "b", "c", "d", "e"];

  it("heat that is lost cools five zones: one alarm, the worst first, and what is foreseen is said with it", () => {
    const { events } = runFor(60, (atMs) =>
      momentAt(
        atMs,
        five.map((zone, index) => {
          const { watch, ...rest } = zoneAt(zone, atMs, { film: dewIn(0.8, 7 - index, atMs) });
          return { ...rest, watch: watch && { ...watch, heat: "falls" as const } };
        }),
      ),
    );
    expect(said(events.slice(0, 1))).toEqual(["raised heat-lost wake e+d+c+b+a"]);
    expect(new Set(events.map(({ alarm }) => alarm.id)).size).toBe(1);
    expect(events[0]?.alarm.facts.chance).toBe(0.8);
  });

  it("heat is back when the air has come back, not when it has stopped falling", () => {
    const heat = (atMs: number, seen: "falls" | "holds", airC: number, lowestC: number) => {
      const { watch, ...rest } = zoneAt("slip", atMs, {
        call: { conditions: { ...callOf("slip", 0).conditions, airC } },
        trail: [{ atMs: atMs - 30 * MINUTE_MS, airC: lowestC, dewPointC: 7 }],
      });
      return momentAt(atMs, [{ ...rest, watch: watch && { ...watch, heat: seen } }]);
    };
    const lost = runFor(30, (atMs) => heat(atMs, "falls", 12, 12));
    const flat = runFor(300, (atMs) => heat(atMs, "holds", 9, 9), lost);
    expect(said(flat.events).some((each) => each.startsWith("cleared"))).toBe(false);
    const back = runFor(90, (atMs) => heat(atMs, "holds", 11, 9), flat);
    expect(said(back.events)).toContain("cleared heat-lost wake slip");
  });

  it("a cold front takes zones one after the other: told together, half an hour apart, answered or not", () => {
    const front = (atMs: number) => {
      const minute = (atMs - NOON_MS) / MINUTE_MS;
      return momentAt(
        atMs,
        five.map((zone, index) => zoneAt(zone, atMs, { call: withMargin(minute > index * 10 ? 2 + index / 10 : 6) })),
      );
    };
    const first = runFor(10, front);
    expect(said(first.events)).toEqual(["raised margin-below wake a"]);
    const unanswered = runFor(40, front, first);
    expect(said(unanswered.events)).toEqual(["escalated margin-below wake a+b", "escalated margin-below wake a+b+c+d"]);
    const id = standingAlarms(first.state)[0]?.id ?? "";
    const answered = answerAlarm(first.state, id, { did: "acknowledge", by: "Ida" }, first.nowMs);
    if (answered === null) throw new Error("the alarm stands");
    expect(said(runFor(70, front, { state: answered.state, nowMs: first.nowMs }).events)).toEqual([
      "worsened margin-below wake a+b+c+d",
      "escalated margin-below wake a+b+c+d+e",
      "escalated margin-below wake a+b+c+d+e",
    ]);
  });

  it("a silent node that blinds its curing zone is one alarm; a broker that is down is one alarm", () => {
    const stale = { rules: [ruleOf("data-stale", "stop", { sinceMs: NOON_MS })] };
    const silent = (atMs: number, brokerDown: boolean) =>
      momentAt(atMs, [zoneAt("slip", atMs, { call: stale })], {
        nodes: [nodeAt("slip-1", ["slip"], NOON_MS - HOUR_MS)],
        server: { ...WELL, brokerDown },
      });
    const one = runFor(14, (atMs) => silent(atMs, false));
    expect(said(one.events)).toEqual(["raised data-lost wake slip"]);
    expect(one.events[0]?.alarm.facts.about).toBe("slip-1");
    expect(said(runFor(14, (atMs) => silent(atMs, true)).events)).toEqual(["raised broker-down wake"]);
  });
});

describe("nodes and the server", () => {
  it("a silent node is told; while the server listens anew it is not known; heard again it is over", () => {
    const node = (atMs: number, heardMs: number, sinceMs = WELL.sinceMs) =>
      momentAt(atMs, [], { nodes: [nodeAt("n1", [], heardMs)], server: { ...WELL, sinceMs } });
    const silent = runFor(5, (atMs) => node(atMs, NOON_MS - HOUR_MS));
    expect(said(silent.events)).toEqual(["raised node-silent tell"]);
    expect(runFor(20, (atMs) => node(atMs, NOON_MS - HOUR_MS, NOON_MS)).events).toEqual([]);
    expect(said(runFor(20, (atMs) => node(atMs, atMs), silent).events)).toEqual(["cleared node-silent tell"]);
  });

  it("a battery, a disk, a store, a judge, a way of telling: each by its own sign", () => {
    const at = NOON_MS;
    const low = { ...nodeAt("n1", [], at), batteryPct: 9, batteryWarns: "low" as const, batteryInDays: 2 };
    expect(kinds(momentAt(at, [], { nodes: [low] }))).toEqual(["battery-low"]);
    const server = (more: Partial<typeof WELL>) => kinds(momentAt(at, [], { server: { ...WELL, ...more } }));
    expect(server({ disk: { freeBytes: 0.2e9, totalBytes: 64e9 } })).toEqual(["disk-full"]);
    expect(server({ storeDown: true })).toEqual(["store-failing"]);
    expect(server({ channels: [{ about: "e-mail", sinceMs: at }] })).toEqual(["channel-failing"]);
    expect(server({ away: { fromMs: at - 5 * HOUR_MS, toMs: at } })).toEqual(["server-away"]);
    expect(server({ away: { fromMs: at - 2 * MINUTE_MS, toMs: at } })).toEqual([]);
    expect(server({ brokerDown: null, storeDown: null, disk: null, channels: null })).toEqual([]);
    const broken = zoneAt("slip", at, { call: { rules: [ruleOf("data-fault", "stop", { detail: "judge-error" })] } });
    expect(kinds(momentAt(at, [broken]))).toEqual(["judge-failing"]);
  });

  it("a probe in doubt stands in the list, and is told where it stops a zone under cure", () => {
    const doubt = (outcome: "caution" | "stop") => {
      const rules = [ruleOf("data-fault", outcome, { probe: "n1/slab", detail: "detached" })];
      const { signs } = reportOf(momentAt(NOON_MS, [zoneAt("slip", NOON_MS, { call: { rules } })]), new Map());
      return signs.map(({ kind, level, facts }) => `${kind} ${level} ${facts.about ?? ""}`);
    };
    expect(doubt("caution")).toEqual(["probe-doubt list n1/slab detached"]);
    expect(doubt("stop")).toContain("probe-doubt tell n1/slab detached");
  });
});

describe("the window and the pour", () => {
  const window = (state: "open" | "closed" | "lost" | "not-yet", closesInH: number) => ({
    window: { state, opensAtMs: null, closesAtMs: NOON_MS + closesInH * HOUR_MS, earned: 1.1 },
  });
  const at = (more: Parameters<typeof zoneAt>[2], driveMin: number | null = null) =>
    kinds(momentAt(NOON_MS, [zoneAt("slip", NOON_MS, more)], { driveMin }));

  it("is told when it cannot be reached, closes within the drive, and has closed", () => {
    expect(at({ call: window("open", 9), chanceLost: 0.1 })).toEqual([]);
    expect(at({ call: window("not-yet", 9), chanceLost: 0.8 })).toEqual(["window-unreachable"]);
    expect(at({ call: window("lost", 9), chanceLost: null })).toEqual(["window-unreachable"]);
    // Two hours of pouring and an hour of driving.
    expect(at({ call: window("open", 2.9) })).toEqual(["window-closing"]);
    expect(at({ call: window("open", 3.1) })).toEqual([]);
    expect(at({ call: window("open", 3.1) }, 90)).toEqual(["window-closing"]);
    expect(at({ call: window("closed", -1) })).toEqual(["window-closed"]);
    expect(at({ call: { ...window("open", 1), pouring: true, call: "pour" } })).toEqual([]);
  });

  it("stops a pour at once, and says again every five minutes while nobody answers", () => {
    const pouring = { pouring: true, call: "wait", limiting: "dew-margin", film: null } as const;
    const rules = [ruleOf("dew-margin", "stop", { measured: 2.1, limit: 3, unit: "K" })];
    const { events } = runFor(30, (atMs) => momentAt(atMs, [zoneAt("slip", atMs, { call: { ...pouring, rules } })]));
    expect(said(events)).toEqual([
      "raised stop-pour wake slip",
      ...Array<string>(3).fill("escalated stop-pour wake slip"),
    ]);
    expect(events[0]?.alarm.facts).toMatchObject({ about: "dew-margin", measured: 2.1, limit: 3, unit: "K" });
  });

  it("a zone that can be poured is good news once, not each time it wavers", () => {
    const pours = (atMs: number) => momentAt(atMs, [zoneAt("slip", atMs, { call: { call: "pour", limiting: null } })]);
    const waits = (atMs: number) => momentAt(atMs, [zoneAt("slip", atMs)]);
    const first = runFor(30, pours);
    expect(said(first.events)).toEqual(["raised zone-opened tell slip"]);
    const between = runFor(30, waits, first);
    expect(said(between.events)).toEqual(["cleared zone-opened tell slip"]);
    expect(runFor(60, pours, between).events).toEqual([]);
  });

  it("a dew point that jumps and stays is a door; one that wanders, or falls, is weather", () => {
    const course = (dewPointC: (minute: number) => number) => {
      let zone = zoneAt("slip", NOON_MS);
      return runFor(90, (atMs) => {
        const call = { conditions: { ...zone.call.conditions, dewPointC: dewPointC((atMs - NOON_MS) / MINUTE_MS) } };
        const next = zoneAt("slip", atMs, { call });
        zone = { ...next, trail: trailWith(zone.trail, next.call) };
        return momentAt(atMs, [zone]);
      }).events;
    };
    expect(said(course((minute) => (minute < 45 ? 6 : 8.2)))[0]).toBe("raised door-open tell slip");
    expect(course((minute) => 6 + minute / 60)).toEqual([]);
    expect(course((minute) => (minute < 45 ? 8.2 : 6))).toEqual([]);
    expect(course((minute) => (minute === 45 || minute === 46 ? 9 : 6))).toEqual([]);
  });
});

it("a state without alarms shows nothing", () => {
  expect(shownSigns(NO_ALARMS).size).toBe(0);
  expect(NOTHING_FORESEEN.chance).toBe(0);
});
