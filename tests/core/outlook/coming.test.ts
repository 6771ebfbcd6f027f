// What is announced comes true on a night that repeats: the next call, how long this one stands, and the night ahead.
import { describe, expect, it } from "vitest";
import { rhPctFromDewPoint } from "#core/air/dew-point.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import type { Call } from "#core/judge/call.ts";
import { stripOf } from "#core/judge/coming.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { CALL_CODES } from "#core/judge/look-ahead.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { readCase } from "../../support/cases.ts";
import {
  entry,
  ground,
  HOUR_MS,
  MINUTE_MS,
  nightLog,
  NOON_MS,
  poured,
  row,
  slowEpoxy,
  zoneA,
} from "../../support/night-log.ts";

const ahead = (hours: number) => NOON_MS + hours * HOUR_MS;
/** A product that is past dew soon, so that the night decides by its hour. */
const fast: Sheet = {
  ...slowEpoxy,
  cure: [
    row(5, { recoatFromH: 4, recoatUntilH: 90, dewSafeH: 3 }),
    row(25, { recoatFromH: 2, recoatUntilH: 60, dewSafeH: 1.5 }),
  ],
};
const cosine = (atMs: number) => Math.cos((2 * Math.PI * (atMs - NOON_MS)) / (24 * HOUR_MS));
/** Margin 6 K at noon and 1 K at midnight, the same every day. */
const says = { slab: 16, air: 17, rh: (atMs: number) => rhPctFromDewPoint(17, 12.5 - 2.5 * cosine(atMs)) };

/** Two days back and a day and a half ahead; a call at T looks at nothing after it. */
function periodic(journal: Parameters<typeof nightLog>[0] = {}) {
  const log = nightLog({
    nowMs: ahead(36),
    hours: 90,
    says,
    sheets: [fast],
    journal: ground(NOON_MS - 50 * HOUR_MS),
    ...journal,
  });
  return (atMs: number): Call => judgeZone(log, "a", atMs).call;
}

/** First time after `fromMs` at which the call is another one, by judging forward. */
function changeAfter(callAt: (atMs: number) => Call, fromMs: number): { atMs: number; call: Call["call"] } {
  const word = callAt(fromMs).call;
  for (let atMs = fromMs; atMs < fromMs + 30 * HOUR_MS; atMs += 30 * MINUTE_MS) {
    const { call } = callAt(atMs);
    if (call !== word) return { atMs, call };
  }
  throw new Error("no change within 30 h");
}

describe("on a night that repeats", () => {
  const callAt = periodic();

  it.each([0, 1, 10, 14])(
    "%s h after noon: the next call comes as announced, and this one stands as long as it was said to",
    (hours) => {
      const now = callAt(ahead(hours));
      const change = changeAfter(callAt, ahead(hours));
      expect(now.next?.call).toBe(change.call);
      expect(Math.abs((now.next?.likelyMs ?? 0) - change.atMs)).toBeLessThanOrEqual(1.5 * HOUR_MS);
      expect(now.next?.earliestMs).toBeLessThanOrEqual(change.atMs + 30 * MINUTE_MS);
      expect(now.next?.chance).toBeGreaterThan(0.9);
      expect(now.validUntilMs).toBeLessThanOrEqual(change.atMs + 30 * MINUTE_MS);
      expect(now.validUntilMs).toBeGreaterThan(change.atMs - 3 * HOUR_MS);
    },
  );

  it("a pour is open until the night shuts it, not longer", () => {
    const now = callAt(NOON_MS);
    expect(now.call).toBe("pour");
    expect(now.pour?.latestStartAtMs).toBe(now.validUntilMs);
    expect(now.pour?.finishByMs).toBe((now.validUntilMs ?? 0) + HOUR_MS);
    expect(callAt(ahead(11))).toMatchObject({ call: "wait", pour: null });
  });

  it("the strip ahead tells the same story as the call", () => {
    const log = nightLog({ nowMs: NOON_MS, says, sheets: [fast] });
    const { call, view } = judgeZone(log, "a", NOON_MS);
    expect(view?.calls[0]?.call).toBe(call.call);
    expect(view?.calls.find((stretch) => stretch.call !== call.call)?.call).toBe(call.next?.call);
    expect(view?.calls.at(-1)?.toMs).toBe(ahead(36));
    for (const [index, stretch] of (view?.calls ?? []).entries()) {
      expect(stretch.toMs).toBe(view?.calls[index + 1]?.fromMs ?? ahead(36));
      expect(stretch.chance).toBeGreaterThan(0);
    }
  });
});

describe("the night of a coat poured now", () => {
  it("looks as far as the coat is dew-sensitive", () => {
    const { night, call, limiting } = periodic({ sheets: [slowEpoxy] })(NOON_MS);
    expect({ call, limiting }).toEqual({ call: "wait", limiting: "night-dew" });
    expect(night?.hours).toBeGreaterThan(15);
    expect(night?.hours).toBeLessThan(18);
    // Every member fails by two kelvins; readings are not off by so much.
    expect(night?.chanceHolds).toBeLessThan(0.001);
    expect(night?.lowestMarginK[1]).toBeCloseTo(1, 0);
    expect(Math.abs((night?.lowestAtMs ?? 0) - ahead(12))).toBeLessThan(3 * HOUR_MS);
    expect(periodic()(NOON_MS).night?.hours).toBeLessThan(4);
  });
});

describe("a film in its window", () => {
  it("cure-short announces the pour at the time at which the cure is reached", () => {
    const journal = [...ground(NOON_MS - 30 * HOUR_MS), poured(0, NOON_MS - 6 * HOUR_MS)];
    const log = nightLog({ nowMs: ahead(20), hours: 74, says: { slab: 21.11, air: 22, rh: 40 }, journal });
    const callAt = (atMs: number) => judgeZone(log, "a", atMs).call;
    const now = callAt(NOON_MS);
    expect(now).toMatchObject({ call: "wait", limiting: "cure-short", next: { call: "pour" } });
    expect(Math.abs((now.next?.likelyMs ?? 0) - ahead(4))).toBeLessThanOrEqual(20 * MINUTE_MS);
    expect(changeAfter(callAt, NOON_MS)).toMatchObject({ call: "pour" });
    expect(Math.abs((now.window.opensAtMs ?? 0) - ahead(4))).toBeLessThanOrEqual(20 * MINUTE_MS);
    // An hour of pouring must fit: from 17 h on the pour would end after the window has closed.
    expect(callAt(ahead(16.5))).toMatchObject({ call: "pour", next: { call: "wait" } });
    expect(callAt(ahead(17.4))).toMatchObject({ call: "wait", limiting: "finish-late", next: { call: "abrade" } });
    expect(callAt(ahead(18.1)).call).toBe("abrade");
  });

  it.each(["04.json", "46.json"])("case %s announces abrade for when the window closes", (file) => {
    const { log, ask } = readCase(file);
    const { next, window } = judgeZone(log, "a", ask[0]?.atMs as number).call;
    expect(next).toMatchObject({ call: "abrade" });
    expect(next?.chance).toBeGreaterThan(0.99);
    expect(Math.abs((next?.likelyMs ?? 0) - (window.closesAtMs ?? 0))).toBeLessThanOrEqual(20 * MINUTE_MS);
  });
});

describe("no look ahead", () => {
  it("past doubtful data", () => {
    const call = judgeZone(nightLog({ nowMs: NOON_MS - HOUR_MS }), "a", NOON_MS).call;
    expect(call).toMatchObject({ limiting: "data-stale", next: null, validUntilMs: null });
  });

  it("with less than a day of data: night-unknown, unless pour and dew-sensitive time end within 3 h", () => {
    // 40 m2 take half an hour, past dew 2 h later.
    const zones = [{ ...zoneA, areaM2: 40 }];
    const young = (sheet: Sheet) => judgeZone(nightLog({ hours: 20, sheets: [sheet], zones }), "a", NOON_MS).call;
    expect(young(slowEpoxy)).toMatchObject({ call: "wait", limiting: "night-unknown", night: null, next: null });
    expect(young(fast)).toMatchObject({ call: "pour", night: null });
    const typed = entry("forecast", NOON_MS - HOUR_MS, { lowC: 8, dewPointC: 2, untilMs: ahead(20) });
    const told = judgeZone(nightLog({ hours: 20, journal: [...ground(NOON_MS), typed] }), "a", NOON_MS).call;
    expect(told.limiting).not.toBe("night-unknown");
    expect(told.night?.chanceHolds).toBeGreaterThan(0);
  });
});

describe("the strip ahead", () => {
  it("is split as confidence fades, by a tenth at a time and not only where the call changes", () => {
    const members = Array.from({ length: 100 }, () => ({ weight: 0.01 }) as OutlookMember);
    const outlook: Outlook = { fromMs: 0, stepMs: 600_000, steps: 200, basis: [], feedFetchedMs: null, members };
    const [pour, wait] = [CALL_CODES.indexOf("pour"), CALL_CODES.indexOf("wait")];
    // One member after the other turns to wait, every second step.
    const calls = members.map((_, index) =>
      Uint8Array.from({ length: 200 }, (_, step) => (step <= 2 * index ? pour : wait)),
    );
    const strip = stripOf(outlook, calls);
    const pours = strip.filter(({ call }) => call === "pour");
    expect(pours.length).toBeGreaterThanOrEqual(5);
    expect(pours[0]?.chance).toBeGreaterThan(0.9);
    for (const [index, { fromMs }] of strip.entries()) expect(fromMs).toBe(index === 0 ? 0 : strip[index - 1]?.toMs);
  });
});
