// The strip of the past: what was shown, what was not, and what hindsight says of that.
import { describe, expect, it } from "vitest";
import type { CallBody } from "#contract/call.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { gapsOf, momentsOf, pastOf, type Word } from "../../server/live/past.ts";

const NOON = Date.UTC(2026, 1, 3, 12);
const at = (minute: number) => NOON + minute * 60_000;
const shown = (minute: number, call: CallBody["call"], limiting: CallBody["limiting"] = null) =>
  ({ at: isoFromMs(at(minute)), call, limiting }) as CallBody;
const ran = (from: number, to: number) => ({ startedMs: at(from), aliveMs: at(to) });
const short = (strip: ReturnType<typeof pastOf>) =>
  strip.map(
    ({ from, to, call, hindsight }) =>
      `${from.slice(11, 16)}-${to?.slice(11, 16) ?? ""} ${call}${hindsight ? "?" : ""}`,
  );

describe("the strip of the past", () => {
  it("is what was shown, cut to the hours asked for, open at its end", () => {
    const recorded = [shown(-300, "wait", "dust"), shown(-90, "pour"), shown(-30, "wait", "night-dew")];
    expect(
      short(pastOf({ recorded, runs: [ran(-400, 0)], hindsight: new Map(), fromMs: at(-120), nowMs: at(0) })),
    ).toEqual(["10:00-10:30 wait", "10:30-11:30 pour", "11:30- wait"]);
  });

  it("has a gap where the server did not run, and hindsight fills it step by step", () => {
    const recorded = [shown(-120, "pour"), shown(-20, "wait", "dust")];
    const runs = [ran(-120, -80), ran(-20, 0)];
    expect(gapsOf(recorded, runs, at(-150), at(0))).toEqual([
      { fromMs: at(-150), toMs: at(-120) },
      { fromMs: at(-80), toMs: at(-20) },
    ]);
    const hindsight = new Map<number, Word | null>([
      [at(-150), { call: "wait", limiting: "data-stale" }],
      [at(-135), null],
      [at(-90), { call: "pour", limiting: null }],
      [at(-75), { call: "pour", limiting: null }],
      [at(-60), { call: "wait", limiting: "dust" }],
      [at(-45), { call: "wait", limiting: "dust" }],
      [at(-30), { call: "wait", limiting: "dust" }],
    ]);
    expect(short(pastOf({ recorded, runs, hindsight, fromMs: at(-150), nowMs: at(0) }))).toEqual([
      "09:30-09:45 wait?",
      "10:00-10:40 pour",
      "10:40-11:00 pour?",
      "11:00-11:40 wait?",
      "11:40- wait",
    ]);
  });

  it("takes a restart for no gap", () => {
    const runs = [ran(-60, -30), ran(-29, 0)];
    const recorded = [shown(-60, "wait", "hold")];
    expect(gapsOf(recorded, runs, at(-60), at(0))).toEqual([]);
    expect(short(pastOf({ recorded, runs, hindsight: new Map(), fromMs: at(-60), nowMs: at(0) }))).toEqual([
      "11:00- wait",
    ]);
  });

  it("asks hindsight for the steps that touch a gap", () => {
    const minutes = (from: number, to: number) =>
      momentsOf([{ fromMs: at(from), toMs: at(to) }]).map((ms) => (ms - NOON) / 60_000);
    expect(minutes(-50, -14)).toEqual([-60, -45, -30, -15]);
    expect(minutes(-45, -30)).toEqual([-45]);
  });

  it("leaves out what stood for a moment on its way to something else", () => {
    const recorded = [
      shown(-60, "wait", "data-missing"),
      shown(-59.9, "wait", "data-stale"),
      shown(-59.8, "pour"),
      shown(-0.2, "wait", "dust"),
    ];
    expect(
      short(pastOf({ recorded, runs: [ran(-60, 0)], hindsight: new Map(), fromMs: at(-60), nowMs: at(0) })),
    ).toEqual(["11:00-11:59 pour", "11:59- wait"]);
  });

  it("says nothing of a time of which nothing is known", () => {
    expect(pastOf({ recorded: [], runs: [], hindsight: new Map(), fromMs: at(-60), nowMs: at(0) })).toEqual([]);
  });
});
