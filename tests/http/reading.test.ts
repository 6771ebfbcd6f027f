// Routes that only read: the good answer, the missing thing, the query that does not fit.
import Type from "typebox";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { BoardSchema, NodeStateSchema, SeriesSchema, ZonePageSchema } from "#contract/board.ts";
import { HealthSchema } from "#contract/health.ts";
import { NightFileSchema } from "#contract/night-file.ts";
import { OutlookSchema } from "#contract/outlook.ts";
import { SheetSchema } from "#contract/sheet.ts";
import { SiteSchema } from "#contract/zone.ts";
import { fakeDesk } from "../support/fake-desk.ts";
import { type Door, openDoor } from "../support/http-door.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { SAMPLE_SHEETS, SAMPLE_SITE } from "../support/sample-site.ts";

const ZONE = "/sites/boathouse/zones/slip";
const SERIES = `${ZONE}/series?from=2026-02-03T10:00:00Z&to=2026-02-03T22:00:00-06:00`;
let door: Door;
beforeAll(async () => {
  door = await openDoor();
});
afterAll(() => door.app.close());

describe("good answers come whole and fit their schema", () => {
  it("health, degraded, is still 200", async () => {
    expect(await door.fits(HealthSchema, 200, "GET", "/health")).toEqual(door.desk.health());
  });
  it("health of a server that is down is 503 with the same body", async () => {
    const desk = fakeDesk();
    const down = await openDoor({ desk: { ...desk, health: () => ({ ...desk.health(), state: "down" }) } });
    expect((await down.fits(HealthSchema, 503, "GET", "/health")).state).toBe("down");
    await down.app.close();
  });
  it("metrics are the Prometheus text", async () => {
    const answer = await door.ask("GET", "/metrics");
    // Media type of the Prometheus text format, version 0.0.4 (prometheus.io, exposition formats; from memory).
    expect(answer.headers["content-type"]).toBe("text/plain; version=0.0.4; charset=utf-8");
    expect(answer.body).toBe(door.desk.metrics());
  });
  it("sites", async () => {
    expect(await door.fits(Type.Array(SiteSchema), 200, "GET", "/sites")).toEqual([SAMPLE_SITE]);
  });
  it("board: no field is lost on the way", async () => {
    expect(await door.fits(BoardSchema, 200, "GET", "/sites/boathouse/board")).toEqual({
      ...SAMPLE_BOARD,
      upTo: "test-0",
    });
  });
  it("zone, with the sheets and its own journal", async () => {
    const page = await door.fits(ZonePageSchema, 200, "GET", ZONE);
    expect(page.zone).toEqual(SAMPLE_BOARD.zones[0]?.zone);
    expect(page.sheets).toEqual(SAMPLE_SHEETS);
    expect(page.journal.map((entry) => entry.id)).toEqual(["e-1", "e-2", "e-3"]);
  });
  it("series: as many points as asked, gaps stay gaps, times with any offset", async () => {
    const series = await door.fits(SeriesSchema, 200, "GET", `${SERIES}&points=24`);
    expect([series.from, series.to, series.stepS]).toEqual(["2026-02-03T10:00:00Z", "2026-02-04T04:00:00Z", 2700]);
    expect(series.series["slip-1/slab"]).toHaveLength(24);
    expect(series.conditions.marginK[3]).toBeNull();
  });
  it("series: 500 points when no number is asked for", async () => {
    expect((await door.fits(SeriesSchema, 200, "GET", SERIES)).conditions.airC).toHaveLength(500);
  });
  it("outlook", async () => {
    expect(await door.fits(OutlookSchema, 200, "GET", `${ZONE}/outlook`)).toEqual(SAMPLE_BOARD.zones[0]?.outlook);
  });
  it("outlook of a zone nobody has heard from is null, not an empty body", async () => {
    expect(await door.fits(Type.Null(), 200, "GET", "/sites/boathouse/zones/store/outlook")).toBeNull();
  });
  it("night file, offered under a name of its own", async () => {
    const file = await door.fits(NightFileSchema, 200, "GET", `${ZONE}/night-file`);
    expect(file.zones.map((zone) => zone.id)).toEqual(["slip"]);
    const { headers } = await door.ask("GET", `${ZONE}/night-file`);
    expect(headers["content-disposition"]).toBe('attachment; filename="boathouse-slip.night.json"');
  });
  it("sheets", async () => {
    expect(await door.fits(Type.Array(SheetSchema), 200, "GET", "/sheets")).toEqual(SAMPLE_SHEETS);
  });
  it("nodes", async () => {
    expect(await door.fits(Type.Array(NodeStateSchema), 200, "GET", "/sites/boathouse/nodes")).toEqual(
      SAMPLE_BOARD.nodes,
    );
  });
  it("nothing that is read may be kept by a cache", async () => {
    expect((await door.ask("GET", "/sites/boathouse/board")).headers["cache-control"]).toBe("no-store");
  });
});

describe("what is not there is 404 and named", () => {
  it.each(["board", "nodes", "journal", "zones/slip", "zones/slip/outlook", "zones/slip/night-file"])(
    "no site: %s",
    async (path) => {
      expect((await door.refused(404, "GET", `/sites/elsewhere/${path}`)).faults).toEqual([
        { field: "/site", reason: 'no site "elsewhere"' },
      ]);
    },
  );
  it.each(["", "/outlook", "/night-file", "/series?from=2026-02-03T10:00:00Z&to=2026-02-03T11:00:00Z"])(
    "no zone: %s",
    async (path) => {
      const { faults } = await door.refused(404, "GET", `/sites/boathouse/zones/attic${path}`);
      expect(faults).toEqual([{ field: "/zone", reason: 'no zone "attic" on this site' }]);
    },
  );
});

describe("what cannot be read is 400 and names the field", () => {
  it.each([
    ["points=0", "/points"],
    ["points=501", "/points"],
    ["points=12.5", "/points"],
    ["points=12abc", "/points"],
    ["points=", "/points"],
    ["points=0x10", "/points"],
    ["points=5&points=6", "/points"],
    ["point=5", "/point"],
    ["__proto__=5", "/__proto__"],
  ])("series with %s", async (query, field) => {
    const { faults, detail } = await door.refused(400, "GET", `${SERIES}&${query}`);
    expect(faults?.map((fault) => fault.field)).toContain(field);
    expect(detail).toBe("in the query");
  });
  it.each([
    ["from=2026-02-03T10:00:00Z", "/to", "is missing"],
    ["from=2026-02-03T10:00:00&to=2026-02-03T11:00:00Z", "/from", "must match pattern"],
    ["from=2026-02-31T10:00:00Z&to=2026-03-03T11:00:00Z", "/from", "names a day or time that does not exist"],
    ["from=2026-02-03T10:00:00Z&to=2026-02-03T25:00:00Z", "/to", "names a day or time that does not exist"],
    ["from=2026-02-03T10:00:00Z&to=2026-02-03T10:00:00Z", "/to", "must lie after from"],
  ])("series with %s", async (query, field, reason) => {
    const { faults } = await door.refused(400, "GET", `${ZONE}/series?${query}`);
    expect(faults?.[0]?.field).toBe(field);
    expect(faults?.[0]?.reason).toContain(reason);
  });
  it.each([
    ["/sites/-house/board", "/site"],
    ["/sites/boathouse/zones/sl%20ip", "/zone"],
    [`/sites/${"x".repeat(65)}/nodes`, "/site"],
  ])("address %s", async (path, field) => {
    const { faults, detail } = await door.refused(400, "GET", path);
    expect(faults?.map((fault) => fault.field)).toEqual([field]);
    expect(detail).toBe("in the address");
  });
});
