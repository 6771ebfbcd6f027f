// Takeoff through the door, and from the desk of a running server: zone, sheet and journal of a real log.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readerOf } from "#contract/faults.ts";
import { type TakeoffBody, TakeoffSchema } from "#contract/takeoff.ts";
import type { ZoneBody } from "#contract/zone.ts";
import { type Door, openDoor } from "../support/http-door.ts";
import { runApp, type RunningApp, valueOf } from "../support/running-app.ts";
import { at, SAMPLE_AT_MS, SAMPLE_SHEETS } from "../support/sample-site.ts";
import { EPOXY } from "../support/sample-takeoff.ts";

describe("through the door", () => {
  let door: Door;
  beforeAll(async () => {
    door = await openDoor();
  });
  afterAll(() => door.app.close());

  it("a site and a zone, whole and as documented", async () => {
    const all = await door.fits(TakeoffSchema, 200, "GET", "/sites/boathouse/takeoff");
    expect(all.zones.length).toBeGreaterThan(1);
    const one = await door.fits(TakeoffSchema, 200, "GET", "/sites/boathouse/zones/slip/takeoff");
    expect(one.zones).toEqual(all.zones.filter(({ zone }) => zone === "slip"));
  });

  it("a site or zone that is not there is 404", async () => {
    await door.refused(404, "GET", "/sites/attic/takeoff");
    await door.refused(404, "GET", "/sites/boathouse/zones/attic/takeoff");
  });

  it("a sheet carries its material; a figure that cannot be is refused with its field", async () => {
    const [sheet] = SAMPLE_SHEETS;
    const put = await door.ask("PUT", "/sheets", { ...sheet, material: EPOXY });
    expect(put.statusCode).toBe(200);
    expect(put.json()).toMatchObject({ material: EPOXY });
    const { faults } = await door.refused(422, "PUT", "/sheets", { ...sheet, material: { ...EPOXY, kitL: -1 } });
    expect(faults?.map(({ field }) => field)).toContain("/material/kitL");
  });
});

describe("from a running server", () => {
  let running: RunningApp;
  const desk = () => running.app.desk;
  const zone: ZoneBody = {
    id: "bay",
    name: "Bay",
    areaM2: 84,
    pourM2PerH: 120,
    people: 2,
    system: ["base-epoxy", "base-epoxy"],
    base: "porous",
  };
  const ask = (): TakeoffBody => valueOf(desk().takeoff("works", null));
  const write = async (body: object) =>
    valueOf(await desk().addEntry("works", { zone: "bay", by: "lead", ...body } as never, null));

  beforeAll(async () => {
    running = await runApp({ atMs: SAMPLE_AT_MS, shut: true, empty: true });
    valueOf(await desk().addSite({ id: "works", name: "Works", timezone: "America/Chicago", altitudeM: 0 }));
    valueOf(await desk().putSheet({ ...(SAMPLE_SHEETS[0] as (typeof SAMPLE_SHEETS)[number]), material: EPOXY }));
    valueOf(await desk().putZone("works", zone, "add"));
  });
  afterAll(() => running.end());

  it("reckons each coat with crew and resin of the zone", async () => {
    const before = ask();
    expect(readerOf(TakeoffSchema)(before).ok).toBe(true);
    const [bay] = before.zones;
    expect(bay).toMatchObject({ people: 2, resin: { resinC: 23, basis: "kept", at: null }, unknownCoats: [] });
    // 90 m²/h is what three lay: two lay 60.
    expect(bay?.coats.map((coat) => [coat.state, coat.placeM2PerH, coat.kits])).toEqual([
      ["next", 60, 4],
      ["to-come", 60, 4],
    ]);
    // 84 m² x 0.4 mm x 1.1 x 1.08 are 39.9 L.
    expect(bay?.coats[0]?.needL).toBeCloseTo(84 * 0.44 * 1.08, 9);
    expect(before.order).toMatchObject([{ sheet: "base-epoxy", coats: 2, kits: 8, kitL: 11.4 }]);
    expect(bay?.coats[0]?.batches?.rows[0]?.parts).toMatchObject([
      { name: "A", volumeL: 7.6 },
      { name: "B", volumeL: 3.8 },
    ]);
  });

  it("a resin that was measured sizes the batches; mixes stand beside the coat until they are taken back", async () => {
    await write({ did: "measured", at: at(-0.1), resinC: 18 });
    const mixed = await write({
      did: "mixed",
      at: at(0),
      coat: 0,
      batch: 1,
      volumeL: 11.4,
      batches: [{ part: "A", number: "26-0107" }],
    });
    const [bay] = ask().zones;
    expect(bay?.resin).toEqual({ resinC: 18, basis: "measured", at: at(-0.1) });
    expect(bay?.coats[0]?.mixed).toEqual([{ batch: 1, at: at(0), volumeL: 11.4 }]);
    expect(bay?.coats[1]?.mixed).toEqual([]);
    await write({ did: "undone", at: at(0), undoes: mixed.id });
    expect(ask().zones[0]?.coats[0]?.mixed).toEqual([]);
  });

  it("what is down is ordered no more", async () => {
    await write({ did: "poured", at: at(0), coat: 0, from: at(-1), to: at(0) });
    const after = ask();
    expect(after.zones[0]?.coats.map(({ state }) => state)).toEqual(["down", "next"]);
    expect(after.order).toMatchObject([{ coats: 1, kits: 4 }]);
  });
});
