// Which version governs: coats keep theirs, corrections reach them, and nothing unconfirmed is a limit.
import { describe, expect, it } from "vitest";
import { sheetUsedAt, type SheetVersion } from "#core/cure/sheet-versions.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { ground, HOUR_MS, nightLog, NOON_MS, poured, slowEpoxy } from "../../support/night-log.ts";

const SEEN = { by: "Ben", at: "2026-02-01T00:00:00Z", same: false } as const;
const hours = (recoatFromH: number) => slowEpoxy.cure.map((row) => ({ ...row, recoatFromH, footH: recoatFromH * 2 }));
const version = (fromMs: number, revision: number, recoatFromH: number, change: Partial<Sheet> = {}): SheetVersion => ({
  fromMs,
  sheet: { ...slowEpoxy, cure: hours(recoatFromH), confirmed: SEEN, saved: { revision }, ...change },
});
const used = (versions: readonly SheetVersion[], usedMs: number, heardByMs = 1000) =>
  sheetUsedAt(versions, "e1", usedMs, heardByMs)?.cure[0]?.recoatFromH ?? null;

describe("the version of a coat", () => {
  const two = [version(10, 1, 5), version(20, 2, 6)];
  it("is the one it was poured under; the first where it was entered later; none that was not yet heard", () => {
    expect(used(two, 15)).toBe(5);
    expect(used(two, 20)).toBe(6);
    expect(used(two, 1)).toBe(5);
    expect(used(two, 30, 15)).toBe(5);
    expect(sheetUsedAt(two, "other", 15, 1000)).toBeNull();
  });
  it("takes its own confirmation, however late, and no other revision's", () => {
    const open = version(10, 1, 5, { confirmed: null });
    expect(used([open, version(12, 1, 5), version(20, 2, 6)], 11)).toBe(5);
    expect(sheetUsedAt([open, version(12, 1, 5)], "e1", 11, 11)?.confirmed).toBeNull();
  });
  it("poured under an unconfirmed or a nonsense one, it takes the first later one that can be used", () => {
    const open = version(10, 1, 5, { confirmed: null });
    expect(used([open, version(20, 2, 6), version(30, 3, 7)], 15)).toBe(6);
    expect(used([version(10, 1, -5), version(20, 2, 6)], 15)).toBe(6);
    expect(sheetUsedAt([open], "e1", 15, 1000)?.confirmed).toBeNull();
  });
  it("takes corrections of a slip, one after the other, but not a new page after them", () => {
    const slip = (fromMs: number, revision: number, from: number) =>
      version(fromMs, revision, from, { saved: { revision, corrects: true } });
    expect(used([...two.slice(0, 1), slip(20, 2, 6), slip(30, 3, 7), version(40, 4, 8)], 15)).toBe(7);
    expect(used([version(10, 1, 5), version(20, 2, 6), slip(30, 3, 7)], 15)).toBe(5);
  });
  it("rows of an earlier program are a version each", () => {
    const old = [10, 20].map((fromMs) => ({ fromMs, sheet: { ...slowEpoxy, cure: hours(fromMs) } }));
    expect(used(old, 15)).toBe(10);
    expect(used(old, 25)).toBe(20);
  });
});

describe("the judge", () => {
  const film = poured(0, NOON_MS - 15 * HOUR_MS, 1);
  const journal = [...ground(NOON_MS, 40), film];
  const log = (standing: Sheet, sheetVersions?: readonly SheetVersion[]) =>
    nightLog({ journal, sheets: [standing], ...(sheetVersions === undefined ? {} : { sheetVersions }) });
  const at = (recoatFromH: number, change: Partial<Sheet> = {}): Sheet => ({
    ...slowEpoxy,
    cure: hours(recoatFromH),
    ...change,
  });
  it("holds the film to the version it was poured under, and the next coat to the one that stands", () => {
    const versions = [
      { fromMs: NOON_MS - 90 * HOUR_MS, sheet: at(12) },
      { fromMs: NOON_MS - 5 * HOUR_MS, sheet: at(30, { limits: { ...slowEpoxy.limits, rhPct: [null, 40] } }) },
    ];
    const { call } = judgeZone(log((versions[1] as SheetVersion).sheet, versions), "a", NOON_MS);
    expect(call.window.earned).toBeCloseTo(14 / 12, 2);
    // The air is at 45 %: the next coat's own limit stops.
    expect(call.rules.find(({ rule }) => rule === "air-damp")).toMatchObject({ outcome: "stop", limit: 40 });
    expect(judgeZone(log((versions[1] as SheetVersion).sheet), "a", NOON_MS).call.window.earned).toBeCloseTo(
      14 / 30,
      2,
    );
  });
  it("waits while nobody has confirmed the sheet, and says so; a sheet without the mark counts as confirmed", () => {
    const open = judgeZone(log(at(12, { confirmed: null })), "a", NOON_MS).call;
    expect(open).toMatchObject({ call: "wait", limiting: "sheet-invalid" });
    expect(open.rules.find(({ rule }) => rule === "sheet-invalid")?.detail).toBe("e1: unconfirmed");
    for (const sheet of [at(12), at(12, { confirmed: SEEN })]) {
      const { call } = judgeZone(log(sheet), "a", NOON_MS);
      expect(call.rules.find(({ rule }) => rule === "sheet-invalid")?.outcome).toBe("pass");
    }
  });
  it("names nonsense before it asks for a second look, and refuses a filler as a coat", () => {
    const detail = (sheet: Sheet) =>
      judgeZone(log(sheet), "a", NOON_MS).call.rules.find(({ rule }) => rule === "sheet-invalid")?.detail;
    expect(detail(at(12, { confirmed: null, limits: { ...slowEpoxy.limits, dewMarginK: 28 } }))).toContain(
      "dewMarginK",
    );
    expect(detail(at(12, { kind: "filler", hard: [{ slabC: 20, hardH: 8 }] }))).toBe("e1: kind is no coat");
  });
});
