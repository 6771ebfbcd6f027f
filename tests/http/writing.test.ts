// Routes that change something: the good answer, the body that does not fit, the conflict, the missing thing.
import Type from "typebox";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { CallSchema } from "#contract/call.ts";
import { NightFileSchema } from "#contract/night-file.ts";
import { SheetSchema } from "#contract/sheet.ts";
import { NodeSchema, SiteSchema, ZoneSchema } from "#contract/zone.ts";
import { type Door, openDoor } from "../support/http-door.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { SAMPLE_SHEETS, SAMPLE_SITE } from "../support/sample-site.ts";

const ATTIC = { id: "attic", name: "Attic", areaM2: 40, pourM2PerH: 50, system: ["base-epoxy"], base: "porous" };
const NODE = { id: "attic-1", zone: null, everyS: 60, accuracy: { slabK: 0.5, airK: 0.4, rhPct: 3 } };
const SPOT = { slabC: 12, airC: 14, rhPct: 60, sheet: "base-epoxy" };
let door: Door;
beforeEach(async () => {
  door = await openDoor();
});
afterEach(() => door.app.close());
const fieldsOf = async (status: number, ...asked: [method: Parameters<Door["ask"]>[0], path: string, body?: unknown]) =>
  (await door.refused(status, ...asked)).faults?.map((fault) => fault.field);

describe("sites", () => {
  it("are added and then listed", async () => {
    const site = { id: "depot", timezone: "Europe/Oslo", altitudeM: 12 };
    expect(await door.fits(SiteSchema, 201, "POST", "/sites", site)).toEqual(site);
    expect(await door.fits(Type.Array(SiteSchema), 200, "GET", "/sites")).toEqual([SAMPLE_SITE, site]);
    expect(await fieldsOf(409, "POST", "/sites", site)).toEqual(["/id"]);
  });
  it("name every fault of a body at once", async () => {
    expect(await fieldsOf(422, "POST", "/sites", { id: "a b", altitudeM: "12", roof: true })).toEqual(
      expect.arrayContaining(["/id", "/altitudeM", "/timezone", "/roof"]),
    );
  });
  it("change what is given and keep the rest", async () => {
    expect(await door.fits(SiteSchema, 200, "PATCH", "/sites/boathouse", { altitudeM: 300 })).toEqual({
      ...SAMPLE_SITE,
      altitudeM: 300,
    });
    expect(await fieldsOf(404, "PATCH", "/sites/depot", { altitudeM: 300 })).toEqual(["/site"]);
    expect(await fieldsOf(422, "PATCH", "/sites/boathouse", { height: 300 })).toEqual(["/height"]);
  });
});

describe("zones", () => {
  it("are added", async () => {
    expect(await door.fits(ZoneSchema, 201, "POST", "/sites/boathouse/zones", ATTIC)).toEqual(ATTIC);
    expect(await fieldsOf(409, "POST", "/sites/boathouse/zones", { ...ATTIC, id: "slip" })).toEqual(["/id"]);
    expect(await fieldsOf(404, "POST", "/sites/depot/zones", ATTIC)).toEqual(["/site"]);
    expect(await fieldsOf(422, "POST", "/sites/boathouse/zones", { ...ATTIC, areaM2: 0, base: "wet" })).toEqual([
      "/areaM2",
      "/base",
    ]);
  });
  it("pass on what the desk refuses, by its field", async () => {
    expect(await fieldsOf(422, "POST", "/sites/boathouse/zones", { ...ATTIC, system: ["base-epoxy", "none"] })).toEqual(
      ["/system/1"],
    );
  });
  it("change what is given and keep the rest", async () => {
    const before = SAMPLE_BOARD.zones[0]?.zone;
    expect(await door.fits(ZoneSchema, 200, "PATCH", "/sites/boathouse/zones/slip", { pourM2PerH: 75 })).toEqual({
      ...before,
      pourM2PerH: 75,
    });
    expect(await fieldsOf(404, "PATCH", "/sites/boathouse/zones/attic", { pourM2PerH: 75 })).toEqual(["/zone"]);
    expect(await fieldsOf(422, "PATCH", "/sites/boathouse/zones/slip", { pourM2PerH: "75" })).toEqual(["/pourM2PerH"]);
    expect(await fieldsOf(422, "PATCH", "/sites/boathouse/zones/slip", { id: "attic" })).toEqual(["/id"]);
  });
  it("are removed without a body in the answer", async () => {
    const gone = await door.ask("DELETE", "/sites/boathouse/zones/tools");
    expect([gone.statusCode, gone.body]).toEqual([204, ""]);
    expect(await fieldsOf(404, "DELETE", "/sites/boathouse/zones/tools")).toEqual(["/zone"]);
    expect(await fieldsOf(409, "DELETE", "/sites/boathouse/zones/slip")).toEqual(["/zone"]);
  });
});

describe("nodes", () => {
  it("are added", async () => {
    expect(await door.fits(NodeSchema, 201, "POST", "/sites/boathouse/nodes", NODE)).toEqual(NODE);
    expect(await fieldsOf(409, "POST", "/sites/boathouse/nodes", { ...NODE, id: "slip-1" })).toEqual(["/id"]);
    expect(await fieldsOf(404, "POST", "/sites/depot/nodes", NODE)).toEqual(["/site"]);
    expect(
      await fieldsOf(422, "POST", "/sites/boathouse/nodes", { ...NODE, accuracy: { slabK: -1, airK: 0, rhPct: 0 } }),
    ).toEqual(["/accuracy/slabK"]);
  });
  it("change what is given and keep the rest", async () => {
    const before = SAMPLE_BOARD.nodes[0]?.node;
    expect(await door.fits(NodeSchema, 200, "PATCH", "/sites/boathouse/nodes/slip-1", { zone: null })).toEqual({
      ...before,
      zone: null,
    });
    expect(await fieldsOf(404, "PATCH", "/sites/boathouse/nodes/attic-1", { zone: null })).toEqual(["/node"]);
    expect(await fieldsOf(422, "PATCH", "/sites/boathouse/nodes/slip-1", { everyS: 0 })).toEqual(["/everyS"]);
    expect(await fieldsOf(422, "PATCH", "/sites/boathouse/nodes/slip-1", { id: "slip-2" })).toEqual(["/id"]);
  });
  it("are removed without a body in the answer", async () => {
    const gone = await door.ask("DELETE", "/sites/boathouse/nodes/slip-1");
    expect([gone.statusCode, gone.body]).toEqual([204, ""]);
    expect(await fieldsOf(404, "DELETE", "/sites/boathouse/nodes/slip-1")).toEqual(["/node"]);
  });
});

describe("sheets", () => {
  it("are put, with values that make no sense too: the judge refuses to pour on them", async () => {
    const sheet = {
      ...SAMPLE_SHEETS[0],
      id: "odd",
      limits: { ...SAMPLE_SHEETS[0]?.limits, slabC: [30, 10], dewMarginK: -4 },
    };
    expect(await door.fits(SheetSchema, 200, "PUT", "/sheets", sheet)).toEqual(sheet);
    expect(await door.fits(Type.Array(SheetSchema), 200, "GET", "/sheets")).toEqual([...SAMPLE_SHEETS, sheet]);
  });
  it("name the field that does not fit", async () => {
    const limits = { ...SAMPLE_SHEETS[0]?.limits, slabC: [10] };
    expect(await fieldsOf(422, "PUT", "/sheets", { ...SAMPLE_SHEETS[0], limits })).toContain("/limits/slabC");
    expect(await fieldsOf(422, "PUT", "/sheets", { ...SAMPLE_SHEETS[0], afterBlush: ["wash", "wax"] })).toContain(
      "/afterBlush/1",
    );
  });
});

describe("spot check", () => {
  it("gives a call", async () => {
    expect((await door.fits(CallSchema, 200, "POST", "/spot-check", SPOT)).rules.length).toBeGreaterThan(30);
  });
  it("names what is missing or out of range", async () => {
    expect(await fieldsOf(404, "POST", "/spot-check", { ...SPOT, sheet: "none" })).toEqual(["/sheet"]);
    expect(await fieldsOf(422, "POST", "/spot-check", { ...SPOT, rhPct: 101, slabC: null })).toEqual([
      "/slabC",
      "/rhPct",
    ]);
    expect(await fieldsOf(422, "POST", "/spot-check", [])).toEqual(["/"]);
  });
});

describe("night files", () => {
  const Imported = Type.Object({ readings: Type.Integer(), entries: Type.Integer() }, { additionalProperties: false });
  it("go out and come in again", async () => {
    const file = await door.fits(NightFileSchema, 200, "GET", "/sites/boathouse/zones/slip/night-file");
    expect(await door.fits(Imported, 200, "POST", "/sites/boathouse/night-files", file)).toEqual({
      readings: 0,
      entries: 0,
    });
    expect(await fieldsOf(404, "POST", "/sites/depot/night-files", file)).toEqual(["/site"]);
  });
  it("name the field of the file that does not fit", async () => {
    expect(await fieldsOf(422, "POST", "/sites/boathouse/night-files", { zones: [] })).toEqual(["/nightFile"]);
  });
  it("may be larger than any other body", async () => {
    const file = { nightFile: 1, title: "x".repeat(3 * 1024 * 1024) };
    expect(await fieldsOf(422, "POST", "/sites/boathouse/night-files", file)).toContain("/title");
  });
});
