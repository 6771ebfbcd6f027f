// Sheets on the running server: versions, who typed and who confirmed, pictures of the page, and the version of a coat.
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { isoFromMs } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { spotCheck } from "#core/judge/spot-check.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { readNightFile } from "#contract/night-file.ts";
import type { Answer } from "../../server/http/answer.ts";
import { type RunningApp, runApp, until, valueOf } from "../support/running-app.ts";
import { pack, SHEET, SITE, ZONE } from "../support/small-site.ts";

let running: RunningApp;
beforeAll(async () => {
  running = await runApp({ judge: { judgeZone, spotCheck } });
});
afterAll(() => running.end());

const desk = () => running.app.desk;
const typed = (change: Partial<SheetBody> = {}): SheetBody => ({ ...SHEET, id: "typed", confirmed: null, ...change });
const fieldOf = (answer: Answer<unknown>) => (answer.ok ? "" : `${answer.refusal} ${answer.faults[0]?.field ?? ""}`);
const ruleOf = (id: string) => valueOf(desk().zonePage(SITE.id, ZONE.id)).call.rules.find(({ rule }) => rule === id);

describe("versions", () => {
  it("every saving is one, with who typed it; the same numbers again are none; looking at an old one is told", async () => {
    const first = valueOf(await desk().putSheet(typed({ saved: { revision: 0, note: "issue 3" } }), "Ana"));
    expect(first).toMatchObject({ confirmed: null, saved: { revision: 1, by: "Ana", note: "issue 3" } });
    expect(valueOf(await desk().putSheet(typed(), "Ben")).saved?.revision).toBe(1);
    const second = typed({ name: "Typed, new page", saved: { revision: 1, corrects: true } });
    expect(valueOf(await desk().putSheet(second, "Ben")).saved).toMatchObject({
      revision: 2,
      by: "Ben",
      corrects: true,
    });
    expect(fieldOf(await desk().putSheet(typed({ name: "Late", saved: { revision: 1 } }), "Ana"))).toBe(
      "conflict /saved/revision",
    );
    expect(fieldOf(await desk().putSheet(typed({ kind: "filler", hard: [] }), "Ana"))).toBe("conflict /kind");
    expect(valueOf(desk().sheetVersions("typed")).map(({ sheet }) => sheet.name)).toEqual([SHEET.name, second.name]);
    expect(fieldOf(desk().sheetVersions("nobody"))).toBe("missing /sheet");
  });

  it("are confirmed as they stand, by another person or by the same, said so; nobody confirms by sending it", async () => {
    const seen = { by: "Eve", at: "2026-02-03T12:00:00Z", same: false };
    expect(fieldOf(await desk().putSheet(typed({ confirmed: seen }), "Ana"))).toBe("invalid /confirmed");
    expect(fieldOf(await desk().confirmSheet("typed", 1, "Ana"))).toBe("conflict /revision");
    expect(valueOf(await desk().confirmSheet("typed", 2, "Ana")).confirmed).toMatchObject({ by: "Ana", same: false });
    const other = valueOf(await desk().putSheet(typed({ name: "Once more" }), "Ana"));
    expect(other.confirmed).toBeNull();
    expect(valueOf(await desk().confirmSheet("typed", 3, "Ana")).confirmed).toMatchObject({ by: "Ana", same: true });
    expect(valueOf(desk().sheetVersions("typed"))).toHaveLength(5);
    expect(fieldOf(await desk().confirmSheet("nobody", 1, null))).toBe("missing /sheet");
  });

  it("keep the figures of the paper, as long as they agree with what is reckoned with", async () => {
    const paper = { "limits.dewMarginK": { value: "5.0", unit: "dF" as const } };
    const limits = { ...SHEET.limits, dewMarginK: 5 / 1.8 };
    expect(valueOf(await desk().putSheet({ ...SHEET, id: "paper", limits, paper })).paper).toEqual(paper);
    expect(fieldOf(await desk().putSheet({ ...SHEET, id: "paper", paper }))).toBe("invalid /paper/limits.dewMarginK");
    const wrong = { "limits.dewMarginK": { value: "5", unit: "F" as const } };
    expect(fieldOf(await desk().putSheet({ ...SHEET, id: "paper", limits, paper: wrong }))).toBe(
      "invalid /paper/limits.dewMarginK/unit",
    );
  });

  it("name pictures that are here", async () => {
    const page = await sharp({ create: { width: 40, height: 50, channels: 3, background: "#777" } })
      .png()
      .toBuffer();
    const { id } = valueOf(await desk().addSheetPhoto(page, "Ana"));
    expect(valueOf(desk().sheetPhoto(id, "thumb")).length).toBeGreaterThan(100);
    expect(valueOf(await desk().putSheet({ ...SHEET, id: "paged", photos: [id] })).photos).toEqual([id]);
    expect(fieldOf(await desk().putSheet({ ...SHEET, id: "paged", photos: ["0".repeat(64)] }))).toBe(
      "invalid /photos/0",
    );
    expect(fieldOf(desk().sheetPhoto("0".repeat(64), "full"))).toBe("missing /photo");
    expect(valueOf(desk().photos(SITE.id))).toEqual([]);
  });
});

describe("fillers", () => {
  it("are no coats, and coats fill no cracks", async () => {
    const filler: SheetBody = {
      ...SHEET,
      id: "paste",
      kind: "filler",
      cure: [],
      window: "open",
      hard: [{ slabC: 20, hardH: 8 }],
    };
    valueOf(await desk().putSheet(filler));
    const at = isoFromMs(running.nowMs());
    const write = (entry: object) => desk().addEntry(SITE.id, { at, zone: ZONE.id, ...entry } as never, null);
    expect(fieldOf(await desk().putZone(SITE.id, { ...ZONE, system: ["paste"] }, "change"))).toBe("invalid /system/0");
    expect(fieldOf(await write({ did: "coat-added", sheet: "paste" }))).toBe("invalid /sheet");
    expect(fieldOf(await write({ did: "filled", sheet: SHEET.id }))).toBe("invalid /sheet");
    expect(fieldOf(await write({ did: "filled", sheet: "nobody" }))).toBe("invalid /sheet");
    const entry = valueOf(await write({ did: "filled", sheet: "paste" }));
    expect(ruleOf("filler-soft")?.outcome).toBe("stop");
    expect(valueOf(desk().zonePage(SITE.id, ZONE.id)).sheets.map(({ id }) => id)).toContain("paste");
    valueOf(await write({ did: "undone", undoes: entry.id }));
  });
});

describe("a coat", () => {
  it("keeps the version it was poured under: live, in its night file, and in its record", async () => {
    const startMs = Math.round(running.nowMs());
    for (let minutes = 120; minutes >= 0; minutes -= 10) await running.send(pack(startMs - minutes * 60_000));
    const from = isoFromMs(startMs - 60 * 60_000);
    valueOf(
      await desk().addEntry(
        SITE.id,
        { did: "poured", at: isoFromMs(startMs), zone: ZONE.id, coat: 0, from, to: isoFromMs(startMs) },
        null,
      ),
    );
    running.moveClock(2 * 3_600_000);
    const nowMs = Math.round(running.nowMs());
    for (let minutes = 110; minutes >= 0; minutes -= 10) await running.send(pack(nowMs - minutes * 60_000));
    const earned = () => valueOf(desk().zonePage(SITE.id, ZONE.id)).call.window.earned ?? 0;
    // 13.8 h at 12.1 °C, between the printed 16 h and 8 h: two hours are 0.145.
    await until(() => earned() > 0.14);
    const before = earned();
    const cure = SHEET.cure.map((row) => ({ ...row, recoatFromH: 1, recoatUntilH: 2, dewSafeH: 1 }));
    valueOf(await desk().putSheet({ ...SHEET, cure, confirmed: null }, "Ana"));
    expect(earned()).toBeCloseTo(before, 2);
    expect(ruleOf("sheet-invalid")).toMatchObject({ outcome: "stop", detail: "body-coat: unconfirmed" });
    const stands = valueOf(desk().sheetVersions(SHEET.id)).at(-1)?.sheet.saved?.revision ?? 0;
    valueOf(await desk().confirmSheet(SHEET.id, stands, "Ben"));
    expect(earned()).toBeCloseTo(before, 2);
    expect(ruleOf("sheet-invalid")?.outcome).toBe("pass");

    const file = readNightFile(valueOf(desk().nightFile(SITE.id, ZONE.id)));
    if (!file.ok) expect.fail(JSON.stringify(file.faults));
    const { call } = judgeZone(file.value.log, ZONE.id, Math.round(running.nowMs()));
    expect(call.window.earned).toBeCloseTo(before, 1);

    const record = valueOf(desk().coatRecord(SITE.id, ZONE.id, 0));
    expect(record.sheet.sheet.cure[0]?.recoatFromH).toBe(16);
    expect(record.sheet.changedAt).toHaveLength(1);

    // A correction of a slip reaches the coat that is down.
    const right = { ...SHEET, cure: SHEET.cure.map((row) => ({ ...row, recoatFromH: 12 })), confirmed: null };
    valueOf(await desk().putSheet({ ...right, saved: { revision: stands, corrects: true } }, "Ana"));
    expect(ruleOf("sheet-invalid")?.outcome).toBe("stop");
    valueOf(await desk().confirmSheet(SHEET.id, stands + 1, "Ben"));
  });
});
