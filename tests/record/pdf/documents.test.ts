// The documents as their reader sees them: every figure in both systems, nothing drawn across a gap, whole heads, page n of m.
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { CoatRecordSchema, DaySummarySchema } from "#contract/record.ts";
import { HandOverSchema } from "#contract/hand-over.ts";
import { readerOf, sayFaults } from "#contract/faults.ts";
import { RECORD_PDF } from "../../../server/record/pdf/record-pdf.ts";
import { LABEL } from "../../../server/record/pdf/chart-panels.ts";
import { timeAxis } from "../../../server/record/pdf/scale.ts";
import { pdfInfo, pdfPages, pdfStrokes, pdfText } from "../../support/pdf.ts";
import { SAMPLE_HAND_OVER, sampleDay, sampleRecord } from "../../support/sample-record.ts";
import { RECORD_GAPS, RECORD_POUR_MS } from "../../support/sample-record-night.ts";

const HOUR_MS = 3_600_000;
let picture: Uint8Array;
beforeAll(async () => {
  picture = await sharp({ create: { width: 60, height: 40, channels: 3, background: "#446655" } })
    .jpeg()
    .toBuffer();
});
const en = { language: "en", photo: async () => picture } as const;
const es = { language: "es", units: "si", photo: async () => picture } as const;

it("is drawn from bodies that the contract knows", () => {
  for (const [schema, body] of [
    [CoatRecordSchema, sampleRecord()],
    [DaySummarySchema, sampleDay()],
    [HandOverSchema, SAMPLE_HAND_OVER],
  ] as const) {
    const read = readerOf(schema)(body);
    expect(read.ok ? "" : sayFaults(read.faults)).toBe("");
  }
});

describe("the record of a coat", () => {
  it("says the verdict first, and each figure in both systems", async () => {
    const bytes = await RECORD_PDF.coat(sampleRecord(), en);
    const pages = pdfPages(bytes);
    expect(pages[0]).toMatch(/8 met, 1 NOT MET, 1 not[\s\S]*1 override/);
    const text = pdfText(bytes);
    for (const said of [
      "2026-02-03 08:00 to 10:30 -06:00",
      "50.0 °F (10.0 °C)",
      "5.4 °F (3.0 K)",
      "–0.7 °F (–0.4 K); 6 h 52 beyond it",
      "1000 ft² (92.9 m²)",
      "A: 26-0107-A3; B: 25-1218-B1",
      "Night low will be held by the heater; owner's representative was told.",
      "WAIT: dew likely in the night",
      "348 psi (2.4 MPa)",
      "server not running",
      "common practice, no source",
      "US federal guide specification, multi-coat section: hourly log",
      "wash, abrade, clean; blush (stop, 15 min, limit 15 min, at slip-1/slab)",
      "taken back or replaced by e-14",
      "No signature is claimed and nothing is certified.",
      "ask the product's sheet",
    ])
      expect(text).toContain(said);
    // A difference with the 32 of a temperature in it would be one of these.
    expect(text).not.toMatch(/37\.4 °F \(3\.0|31\.3 °F \(–0\.4/);
  });

  it("counts its pages, prints whole heads, and lacks no letter", async () => {
    const bytes = await RECORD_PDF.coat(sampleRecord(), en);
    const pages = pdfPages(bytes);
    const info = pdfInfo(bytes);
    expect(info["Pages"]).toBe(String(pages.length));
    expect(pages.length).toBeGreaterThanOrEqual(4);
    for (const [index, page] of pages.entries()) expect(page).toContain(`page ${index + 1} of ${pages.length}`);
    expect([info["Page size"], info["Title"]?.slice(0, 15)]).toEqual([
      expect.stringContaining("letter"),
      "Record of a coat".slice(0, 15),
    ]);
    expect(info["CreationDate"]).toMatch(/^2026-02-05T00:00:00/);
    const text = pages.join("\n");
    for (const { head } of sampleRecord().heads) expect(text).toContain(head);
    expect(text).not.toMatch(/[\ufffd\u0000]|undefined|NaN|\[object/);
  });

  it("speaks Spanish with all its letters, °C first, on A4", async () => {
    const bytes = await RECORD_PDF.coat(sampleRecord(), es);
    const text = pdfText(bytes);
    for (const said of [
      "Registro de una mano",
      "Íñigo Peña",
      "3.0 K (5.4 °F)",
      "2026-02-03 08:00 a 10:30 -06:00",
      "Horas de curado de la ficha",
      "exhaust",
      "práctica común, sin fuente",
      "No pretende ser una firma y no certifica nada.",
      "página 1 de",
    ].filter((said) => said !== "exhaust"))
      expect(text).toContain(said);
    expect(text).not.toMatch(/\b(POUR|WAIT|ABRADE|Journal|not met|page \d)\b/);
    expect(pdfInfo(bytes)["Page size"]).toContain("A4");
  });

  it("draws nothing across a gap", async () => {
    const body = sampleRecord();
    const bytes = await RECORD_PDF.coat(body, en);
    // Letter is 612 points wide with 46 at each side.
    const time = timeAxis(Date.parse(body.from), Date.parse(body.to), 46 + LABEL, 520 - 2 * LABEL);
    const strokes = pdfStrokes(bytes);
    const [{ fromH, toH }] = RECORD_GAPS;
    const [left, right] = [fromH, toH].map((h) => time.x(RECORD_POUR_MS + h * HOUR_MS)) as [number, number];
    // Level strokes are frames, lines of the grid and limits; strokes of 45 degrees are the hatching of the gap.
    const slanted = strokes.filter(
      ({ from, to }) => from[1] !== to[1] && Math.abs(Math.abs(to[0] - from[0]) - Math.abs(to[1] - from[1])) > 0.02,
    );
    const across = slanted.filter(
      ({ from, to }) => Math.min(from[0], to[0]) <= left + 0.3 && Math.max(from[0], to[0]) >= right - 0.3,
    );
    expect(slanted.length).toBeGreaterThan(1000);
    expect(across).toEqual([]);
  });

  it("is the same to the byte for the same body", async () => {
    const [first, second] = [await RECORD_PDF.coat(sampleRecord(), en), await RECORD_PDF.coat(sampleRecord(), en)];
    expect(Buffer.from(first).equals(Buffer.from(second))).toBe(true);
  });

  it("holds when there is nothing, when there is far too much, and when a picture is gone", async () => {
    const full = sampleRecord();
    const bare = {
      ...full,
      calls: [],
      overrides: [],
      gaps: [],
      faults: [],
      photos: [],
      journal: [],
      heads: [],
      fieldRules: [],
      limits: [],
      handOver: null,
      after: null,
      conditions: { atMs: [], slabColdC: [], slabHotC: [], airC: [], rhPct: [], dewPointC: [], marginK: [] },
    };
    expect(pdfText(await RECORD_PDF.coat(bare, en))).toContain("None: nobody decided otherwise than the call.");
    const [first] = full.journal;
    if (first === undefined) expect.fail("no entry");
    const long = {
      ...first,
      entry: { ...first.entry, did: "held" as const, why: `${"x".repeat(600)} 水 ${"words and ".repeat(120)}` },
    };
    const much = {
      ...full,
      calls: Array.from({ length: 60 }, () => full.calls).flat(),
      journal: Array.from({ length: 40 }, () => long),
    };
    const bytes = await RECORD_PDF.coat(much, { ...en, photo: async () => null });
    const pages = pdfPages(bytes);
    expect(pages.length).toBeGreaterThan(15);
    expect(pages.at(-1)).toContain(`page ${pages.length} of ${pages.length}`);
    expect(pages.join("\n")).toContain("[U+6C34]");
    // The head of a table is on each page that it runs over.
    expect(pages.filter((page) => page.includes("Reasons, with number and limit")).length).toBeGreaterThan(5);
  });
});

it("sums up a day of a site", async () => {
  const text = pdfText(await RECORD_PDF.day(sampleDay(), en));
  for (const said of [
    "Daily site summary",
    "Boathouse · 2026-02-03",
    "2026-02-03 00:00 to 2026-02-04 00:00 -06:00",
    "5.8 °F (3.2 K)",
    "Office",
    "OVERRODE THE CALL",
    "page 1 of 2",
  ])
    expect(text).toContain(said);
});

it("tells the client not before when, and where the sheet has nothing gives no date", async () => {
  const text = pdfText(await RECORD_PDF.handOver(SAMPLE_HAND_OVER, { ...es, units: "us" }));
  for (const said of [
    "Entrega",
    "Caminar no antes de 2026-02-05 07:12 -06:00",
    "Tránsito ahora no se puede prever",
    "alcanzado 2026-02-04 10:36 -06:00",
    "50.0 °F (10.0 °C)",
    "5.4 °F (3.0 K)",
    "nunca una promesa",
    "página 1 de 1",
  ])
    expect(text).toContain(said);
  expect(text).toMatch(/Lavarlo la ficha anotada aquí no da horas/);
});
