// The page of the night: what is at stake until morning, what to do before leaving, and in which order to work after it.
import { describe, expect, it } from "vitest";
import type { BoardBody, BoardZoneBody } from "#contract/board.ts";
import { visitsOf } from "../../dashboard/features/come-back/visits.ts";
import { eveningBefore, morningAfter } from "../../dashboard/features/tonight/hours.ts";
import { sideOf } from "../../dashboard/features/tonight/side.ts";
import { type Errand, morningOf, workOrder } from "../../dashboard/features/tonight/morning.ts";
import {
  alarmWords,
  changeWords,
  nightWords,
  onCallWords,
  probeWords,
  riskWords,
  todoWords,
  workWords,
} from "../../dashboard/features/tonight/tonight-words.ts";
import { chanceBelow, tonightOf } from "../../dashboard/features/tonight/tonight.ts";
import { sampleAlarm } from "../support/sample-alarms.ts";
import { sampleBoard } from "../support/sample-night.ts";
import { NOW_MS, voiceOf } from "./voice.ts";

const HOUR_MS = 3_600_000;
const CHICAGO = "America/Chicago";
const MORNING_MS = NOW_MS + 12 * HOUR_MS;
const SPOKEN = [
  ["en", "us"],
  ["en", "si"],
  ["es", "us"],
  ["es", "si"],
] as const;
const iso = (atMs: number) => new Date(atMs).toISOString();
const board = sampleBoard();
const zone = (id: string, of: BoardBody = board): BoardZoneBody => {
  const found = of.zones.find((item) => item.zone.id === id);
  if (found === undefined) throw new Error(`no zone ${id}`);
  return found;
};
const only = (item: BoardZoneBody): BoardBody => ({ ...board, zones: [item], nodes: [] });
const sound = (said: string) => {
  expect(said).not.toBe("");
  expect(said).not.toMatch(/undefined|NaN|null|\d\s*K\b|\bsafe\b|guarantee|garanti/i);
};

/** A film that is not past dew, under a night whose margin is the same at every hour. */
function filmNight(q10: number, q50: number, q90: number): BoardZoneBody {
  const base = zone("slip");
  const { outlook, call } = base;
  if (outlook === null || call.film === null) throw new Error("the sample has no outlook or film");
  const flat = (value: number) => outlook.marginK.q50.map(() => value);
  return {
    ...base,
    marginLimitK: 3,
    call: {
      ...call,
      film: { ...call.film, dewSensitive: true },
      rules: call.rules.filter(({ rule }) => rule !== "slab-cold"),
      window: { state: "not-yet", opensAt: null, closesAt: null, earned: 0.4 },
    },
    outlook: { ...outlook, film: null, marginK: { q10: flat(q10), q50: flat(q50), q90: flat(q90) } },
  };
}

describe("chance from three quantiles", () => {
  it("is that of the quantile where the limit meets it, and never 0 or 1", () => {
    expect(chanceBelow(1, 2, 4, 1)).toBe(0.05);
    expect(chanceBelow(1, 2, 4, 2)).toBeCloseTo(0.5, 12);
    expect(chanceBelow(1, 2, 4, 4)).toBeCloseTo(0.9, 12);
    expect(chanceBelow(1, 2, 4, 3)).toBeCloseTo(0.7, 12);
    expect(chanceBelow(1, 2, 4, 9)).toBe(0.95);
    expect(chanceBelow(2, 2, 2, 2)).toBe(0.05);
  });
});

describe("tonight", () => {
  it("names every zone once, worst first", () => {
    const { zones } = tonightOf(board, NOW_MS, MORNING_MS);
    expect(zones.map(({ item }) => item.zone.id).sort()).toEqual(board.zones.map((item) => item.zone.id).sort());
    const levels = zones.map(({ risk }) => risk.level);
    expect(levels).toEqual([...levels].sort((a, b) => b - a));
  });

  it("a zone without readings is at stake: silence is never a quiet night", () => {
    const item = zone("slip");
    const blind = { ...item, call: { ...item.call, call: "wait" as const, limiting: "data-stale" as const } };
    const { zones, todos } = tonightOf(only(blind), NOW_MS, MORNING_MS);
    expect(zones[0]?.risk).toMatchObject({ kind: "blind", level: 3 });
    expect(todos.map(({ kind }) => kind)).toContain("look");
  });

  it.each([
    [4, 5, 6, "quiet-or-night", 0.05],
    [2.5, 4.5, 6, "dew", 0.2],
    [0.5, 1.5, 2.5, "dew", 0.95],
  ] as const)("a film under margins of %d, %d, %d K: %s", (q10, q50, q90, kind, chance) => {
    const { zones, todos, shutDoors } = tonightOf(only(filmNight(q10, q50, q90)), NOW_MS, MORNING_MS);
    const risk = zones[0]?.risk;
    if (kind === "dew") {
      expect(risk?.kind).toBe("dew");
      expect(risk?.chance).toBeCloseTo(chance, 6);
      expect(risk?.level).toBe(chance >= 0.5 ? 3 : 2);
      expect(risk?.worst).toBe(q10);
      expect(todos.map((todo) => todo.kind)).toContain("heat");
      expect(shutDoors).toBe(true);
    } else {
      expect(["quiet", "night"]).toContain(risk?.kind);
      expect(shutDoors).toBe(false);
    }
  });

  it("a window that closes in the night presses, one that closes after the morning does not", () => {
    const item = zone("slip");
    const closing = (hours: number): BoardZoneBody => ({
      ...item,
      call: {
        ...item.call,
        call: "wait",
        limiting: "slab-cold",
        night: null,
        film: null,
        window: { state: "open", opensAt: iso(NOW_MS - HOUR_MS), closesAt: iso(NOW_MS + hours * HOUR_MS), earned: 1.1 },
      },
      outlook: null,
    });
    expect(tonightOf(only(closing(5)), NOW_MS, MORNING_MS).zones[0]?.risk).toMatchObject({ kind: "closes", level: 3 });
    expect(tonightOf(only(closing(15)), NOW_MS, MORNING_MS).zones[0]?.risk).toMatchObject({ kind: "quiet" });
  });

  it("the last bucket comes first, by its hour; without a known night the forecast is asked for", () => {
    const item = zone("slip");
    const pour = {
      ...{ latestStartAt: iso(NOW_MS + HOUR_MS), lastMixAt: iso(NOW_MS + 2 * HOUR_MS) },
      ...{ finishBy: iso(NOW_MS + 3 * HOUR_MS), batchCapL: null, fitsM2: 20 },
    };
    const pouring = { ...item, call: { ...item.call, call: "pour" as const, limiting: null, pour } };
    const unknown = {
      ...item,
      zone: { ...item.zone, id: "other" },
      call: { ...item.call, limiting: "night-unknown" as const, night: null, film: null },
    };
    const { todos } = tonightOf({ ...board, zones: [unknown, pouring], nodes: [] }, NOW_MS, MORNING_MS);
    expect(todos[0]).toMatchObject({ kind: "last-mix", atMs: NOW_MS + 2 * HOUR_MS, finishMs: NOW_MS + 3 * HOUR_MS });
    expect(todos.map(({ kind }) => kind)).toContain("forecast");
    // What ends only after the morning does not press tonight.
    const early = tonightOf({ ...board, zones: [pouring], nodes: [] }, NOW_MS, NOW_MS + 1.5 * HOUR_MS);
    expect(early.todos.map(({ kind }) => kind)).not.toContain("last-mix");
  });

  it("silent nodes and low cells are to be checked, retired ones are not", () => {
    const [node] = board.nodes;
    if (node === undefined) throw new Error("the sample has no node");
    const heard = iso(NOW_MS - 60_000);
    const well = { ...node, presence: "online" as const, lastHeard: heard, batteryPct: 80 };
    const named = (id: string) => ({ ...node.node, id });
    const nodes = [
      { ...well, node: named("well") },
      { ...well, node: named("mute"), lastHeard: iso(NOW_MS - HOUR_MS) },
      { ...well, node: named("weak"), batteryPct: 12 },
      { ...well, node: named("never"), lastHeard: null },
      { ...well, node: named("gone"), lastHeard: null, retired: true },
    ];
    const { probes } = tonightOf({ ...board, nodes }, NOW_MS, MORNING_MS);
    expect(probes.map(({ id }) => id)).toEqual(["mute", "weak", "never"]);
    expect(probes.map(({ silent }) => silent)).toEqual([true, false, true]);
  });

  it.each(SPOKEN)("is whole in %s, %s", (language, units) => {
    const voice = voiceOf(language, units);
    for (const of of [board, only(filmNight(-1, 1, 2)), only(filmNight(2.5, 4.5, 6))]) {
      const tonight = tonightOf(of, NOW_MS, MORNING_MS);
      for (const { risk } of tonight.zones) sound(riskWords(risk, voice));
      for (const todo of tonight.todos) sound(todoWords(todo, voice));
      for (const watch of tonight.probes) sound(probeWords(watch, voice));
    }
    const named = (name: string) => ({ contact: name.toLowerCase(), name });
    expect(onCallWords({ order: [named("Ana"), named("Luz")], others: [] }, voice)).toMatch(/Ana.+Luz/);
    sound(onCallWords({ order: [], others: [named("Ana")] }, voice));
    sound(onCallWords({ order: [], others: [] }, voice));
    sound(onCallWords(null, voice));
  });
});

describe("the morning", () => {
  const sinceMs = NOW_MS - 12 * HOUR_MS;
  const stretch = (hours: number, call: "pour" | "wait" | "abrade", limiting: "slab-cold" | "blush" | null) => ({
    ...{ from: iso(NOW_MS + hours * HOUR_MS), to: iso(NOW_MS + (hours + 4) * HOUR_MS), call, limiting },
    hindsight: false,
  });
  const item: BoardZoneBody = {
    ...zone("slip"),
    marginLimitK: 3,
    past: [
      stretch(-16, "pour", null),
      stretch(-12, "wait", null),
      stretch(-8, "wait", "slab-cold"),
      stretch(-4, "abrade", "blush"),
    ],
    // Sixteen hours of an hour each; the first four lie before the evening.
    pastMargin: {
      ...{ from: iso(NOW_MS - 16 * HOUR_MS), stepS: 3600 },
      marginK: [-1, -1, -1, -1, 5, 5, 2, 2, 2, 0, -0.5, null, null, null, null, 4],
    },
  };
  const morning = morningOf(only(item), [], { alarms: null, entries: null }, sinceMs, NOW_MS);

  it("tells the calls that changed since the evening, and only those", () => {
    expect(
      morning.changes.map(({ from, to, limiting, atMs }) => [from, to, limiting, (atMs - NOW_MS) / HOUR_MS]),
    ).toEqual([
      ["pour", "wait", null, -12],
      ["wait", "abrade", "blush", -4],
    ]);
  });

  it("counts dew, nearness, cold and gaps of the night alone", () => {
    expect(morning.nights[0]).toMatchObject({ dewMin: 120, nearMin: 180, coldMin: 240, gapMin: 240 });
  });

  it("says from when the board knows of the night, where that is later than the evening", () => {
    expect(morning.knownFromMs).toBeNull();
    const late = { ...item, pastMargin: { ...item.pastMargin, from: iso(NOW_MS - 5 * HOUR_MS) } };
    const known = morningOf(only(late), [], { alarms: null, entries: null }, sinceMs, NOW_MS).knownFromMs;
    expect(known).toBe(NOW_MS - 5 * HOUR_MS);
  });

  it("keeps alarms and entries of the night; what was not heard stays unknown", () => {
    expect([morning.rang, morning.written]).toEqual([null, null]);
    const alarms = [
      sampleAlarm({ id: "a-1", raisedAt: iso(NOW_MS - HOUR_MS) }),
      sampleAlarm({ id: "a-2", raisedAt: iso(sinceMs - 1) }),
    ];
    const heard = morningOf(only(item), [], { alarms, entries: [] }, sinceMs, NOW_MS);
    expect(heard.rang?.map(({ id }) => id)).toEqual(["a-1"]);
    expect(heard.written).toEqual([]);
  });

  it("works closing windows first, by the last moment to begin; then what waits, what opens later, and the rest", () => {
    const named = (id: string): BoardZoneBody => ({ ...item, zone: { ...item.zone, id } });
    const errand = (id: string, more: Partial<Errand>): Errand => ({
      ...{ zone: id, works: true, atMs: null, startByMs: null, closesMs: null },
      ...more,
    });
    const ids = ["rest", "opens-late", "waits", "closes-19", "begin-by-9", "closes-soon-opens-late"];
    const at = (hours: number) => NOW_MS + hours * HOUR_MS;
    const order = workOrder(
      ids.map(named),
      [
        errand("rest", { works: false }),
        errand("opens-late", { atMs: at(9) }),
        errand("waits", {}),
        errand("closes-19", { closesMs: at(13) }),
        errand("begin-by-9", { startByMs: at(3), closesMs: at(20) }),
        errand("closes-soon-opens-late", { atMs: at(5), closesMs: at(6) }),
        errand("of-another-board", {}),
      ],
      NOW_MS,
    );
    expect(order.map((one) => [one.item.zone.id, one.why])).toEqual([
      ["begin-by-9", "closing"],
      ["closes-19", "closing"],
      ["waits", "now"],
      ["closes-soon-opens-late", "later"],
      ["opens-late", "later"],
      ["rest", "rest"],
    ]);
  });

  it.each(SPOKEN)("is whole in %s, %s", (language, units) => {
    const voice = voiceOf(language, units);
    const errands = visitsOf(board.zones, NOW_MS).map((visit) => ({ ...visit, zone: visit.item.zone.id, works: true }));
    const whole = morningOf(
      { ...board, zones: [...board.zones, item] },
      errands,
      { alarms: null, entries: null },
      sinceMs,
      NOW_MS,
    );
    for (const change of whole.changes) sound(changeWords(change, voice));
    for (const night of whole.nights) sound(nightWords(night, voice));
    for (const work of whole.work) sound(workWords(work, voice));
    sound(alarmWords(sampleAlarm(), board, voice));
  });
});

describe("the hours of a night", () => {
  it.each([
    // 2026-07-14 in Chicago is UTC-5.
    ["2026-07-14T23:00:00Z", "tonight"],
    ["2026-07-15T07:59:00Z", "tonight"],
    ["2026-07-15T08:00:00Z", "morning"],
    ["2026-07-15T16:59:00Z", "morning"],
    ["2026-07-15T17:00:00Z", "tonight"],
  ] as const)("%s: %s", (at, side) => {
    expect(sideOf(Date.parse(at), CHICAGO)).toBe(side);
  });

  it("reach from five in the afternoon to six in the morning, by the clock of the site", () => {
    const at = Date.parse("2026-07-14T23:00:00Z");
    expect(iso(eveningBefore(at, CHICAGO))).toBe("2026-07-14T22:00:00.000Z");
    expect(iso(morningAfter(at, CHICAGO))).toBe("2026-07-15T11:00:00.000Z");
    const dawn = Date.parse("2026-07-15T10:00:00Z");
    expect(iso(eveningBefore(dawn, CHICAGO))).toBe("2026-07-14T22:00:00.000Z");
    expect(iso(morningAfter(dawn, CHICAGO))).toBe("2026-07-15T11:00:00.000Z");
    // The clocks go back at two on 2026-11-01: six o'clock is then UTC-6.
    expect(iso(morningAfter(Date.parse("2026-10-31T23:00:00Z"), CHICAGO))).toBe("2026-11-01T12:00:00.000Z");
  });
});
