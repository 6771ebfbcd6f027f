// Night files: what is read from one, and what is refused. The command that reads them is tested in tests/replay.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readNightFile, seriesFromReadings } from "#contract/night-file.ts";
import { caseFiles, casesFolder, readCase } from "../support/cases.ts";

type Body = Record<string, unknown> & {
  readings: object[];
  zones: object[];
  nodes: object[];
  sheets: object[];
  journal: object[];
  ask: object[];
};
const short = (): Body => JSON.parse(readFileSync(`${casesFolder}57.json`, "utf8")) as Body;
const faultsOf = (body: unknown) => {
  const read = readNightFile(body);
  return read.ok ? [] : read.faults.map(({ field, reason }) => `${field}: ${reason}`);
};

describe("a night file", () => {
  it("gives a log with every reading of the pack, in order, by node and quantity", () => {
    for (const file of caseFiles) {
      const raw = JSON.parse(readFileSync(casesFolder + file, "utf8")) as Body;
      const { log } = readCase(file);
      const values = raw.readings.filter((record) => "v" in record || "vb" in record).length;
      expect(log.series.reduce((sum, series) => sum + series.atMs.length, 0)).toBe(values);
      for (const { atMs, heardMs } of log.series) {
        expect(atMs.every((takenMs, index) => index === 0 || takenMs > (atMs[index - 1] as number))).toBe(true);
        expect(heardMs).toHaveLength(atMs.length);
      }
    }
  });

  it("hears a reading `heardS` after its time, an entry at `heardAt`", () => {
    const body = short();
    body.readings[0] = { ...body.readings[0], heardS: 90 };
    body.journal[0] = { ...body.journal[0], heardAt: "2026-02-03T23:00:00Z" };
    const read = readNightFile(body);
    if (!read.ok) throw new Error("refused");
    const first = read.value.log.series.find((series) => series.quantity === "slab");
    expect((first?.heardMs[0] ?? 0) - (first?.atMs[0] ?? 0)).toBe(90_000);
    expect((first?.heardMs[1] ?? 0) - (first?.atMs[1] ?? 0)).toBe(0);
    expect(read.value.log.journal[0]?.heardMs).toBe(Date.UTC(2026, 1, 3, 23));
    expect(read.value.log.journal.map((entry) => entry.id)).toEqual(["entry-1", "entry-2", "entry-3"]);
  });

  it("takes of two readings of one time the one heard first", () => {
    const reading = (value: number, heardMs: number) => ({ node: "n", quantity: "air", atMs: 5, value, heardMs });
    expect(seriesFromReadings([reading(2, 9), reading(1, 7)])).toEqual([
      { node: "n", quantity: "air", atMs: [5], values: [1], heardMs: [7] },
    ]);
  });

  it("may hold no readings, no nodes, nothing to ask, and sheets with nonsense values", () => {
    const empty = readNightFile({ ...short(), readings: [], nodes: [], ask: [], expect: undefined });
    expect(empty.ok && empty.value.log.series).toEqual([]);
    expect(caseFiles.map((file) => readCase(file).log.sheets.length).every((count) => count > 0)).toBe(true);
  });
});

describe("what is refused", () => {
  const change: [string, (body: Body) => unknown, string][] = [
    [
      "a time zone that is none",
      (body) => ({ ...body, site: { id: "s", timezone: "Mars/Olympus", altitudeM: 0 } }),
      '/site/timezone: "Mars/Olympus"',
    ],
    ["two zones of one id", (body) => ({ ...body, zones: [...body.zones, ...body.zones] }), "/zones/1/id: "],
    ["two sheets of one id", (body) => ({ ...body, sheets: [...body.sheets, ...body.sheets] }), "/sheets/1/id: "],
    ["two nodes of one id", (body) => ({ ...body, nodes: [...body.nodes, ...body.nodes] }), "/nodes/1/id: "],
    [
      "two entries of one id",
      (body) => ({ ...body, journal: body.journal.map((entry) => ({ ...entry, id: "same" })) }),
      "/journal/1/id: ",
    ],
    ["a system with a sheet that is not there", (body) => ({ ...body, sheets: [] }), '/zones/0/system/0: no sheet "'],
    [
      "a node in no zone of the file",
      (body) => ({ ...body, nodes: body.nodes.map((node) => ({ ...node, zone: "b" })) }),
      "/nodes/0/zone: ",
    ],
    [
      "an entry for no zone of the file",
      (body) => ({ ...body, journal: body.journal.map((entry) => ({ ...entry, zone: "b" })) }),
      "/journal/0/zone: ",
    ],
    [
      "an added coat without its sheet",
      (body) => ({ ...body, journal: [{ at: "2026-02-03T20:00:00Z", zone: "a", did: "coat-added", sheet: "x" }] }),
      "/journal/0/sheet: ",
    ],
    ["no zone", (body) => ({ ...body, zones: [] }), "/zones: "],
    [
      "a slab range with three numbers",
      (body) => ({
        ...body,
        sheets: body.sheets.map((sheet) => ({
          ...sheet,
          limits: { ...(sheet as { limits: object }).limits, slabC: [1, 2, 3] },
        })),
      }),
      "/sheets/0/limits/slabC/2: does not fit",
    ],
    [
      "an area of zero",
      (body) => ({ ...body, zones: body.zones.map((zone) => ({ ...zone, areaM2: 0 })) }),
      "/zones/0/areaM2: ",
    ],
    [
      "a newer SenML",
      (body) => ({ ...body, readings: [{ bver: 11 }, ...body.readings] }),
      "/readings/0/bver: version 11",
    ],
    ["a number", () => 57, "/nightFile: must be 1"],
    ["nothing", () => null, "/nightFile: must be 1"],
  ];
  it.each(change)("%s", (_, edit, fault) => {
    const faults = faultsOf(edit(short()));
    expect(faults.join("\n")).toContain(fault);
  });
});
