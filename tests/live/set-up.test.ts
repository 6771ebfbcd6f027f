// Setting a site up: outlines and areas, the plan and its picture, a site as a file, and the invented night.
import sharp from "sharp";
import { afterEach, describe, expect, it } from "vitest";
import { readNightFile } from "#contract/night-file.ts";
import type { RecipeBody } from "#contract/recipe.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { SiteFileBody } from "#contract/site-file.ts";
import { judgeZone } from "../../server/core/judge/judge.ts";
import { spotCheck } from "../../server/core/judge/spot-check.ts";
import { type AppWishes, runApp, type RunningApp, valueOf } from "../support/running-app.ts";
import { NODE, NOON_MS, SHEET, SITE, ZONE } from "../support/small-site.ts";

const open: RunningApp[] = [];
const run = async (wishes: AppWishes = {}) => {
  const running = await runApp({ shut: true, ...wishes });
  open.push(running);
  return running.app.desk;
};
afterEach(async () => {
  for (const running of open.splice(0)) await running.end();
});

const BOX = [
  { xM: 1, yM: 1 },
  { xM: 13, yM: 1 },
  { xM: 13, yM: 8 },
  { xM: 1, yM: 8 },
];
const BOW = [BOX[0], BOX[2], BOX[1], BOX[3]] as typeof BOX;
const faultsOf = (answer: object) => {
  const { refusal, faults } = answer as { refusal?: string; faults?: { field: string; reason: string }[] };
  return { refusal: refusal ?? "taken", fields: (faults ?? []).map(({ field }) => field) };
};
const drawing = () =>
  sharp({ create: { width: 600, height: 400, channels: 3, background: "#fff" } })
    .jpeg()
    .toBuffer();
const RECIPE: RecipeBody = {
  id: "other-make",
  topic: "plant/+/state",
  node: { level: 2 },
  values: [{ quantity: "air", at: "/t", unit: "C" }],
};

async function drawnSite(desk: RunningApp["app"]["desk"]) {
  valueOf(await desk.putZone(SITE.id, { ...ZONE, outline: BOX }, "change"));
  valueOf(await desk.patchSite(SITE.id, { driveMin: 75 }));
  valueOf(await desk.putRecipes(SITE.id, [RECIPE]));
  const { id: photo, widthPx, heightPx } = valueOf(await desk.addPhoto(SITE.id, await drawing(), "Ana"));
  const plan = { widthM: 30, heightM: 20, picture: { photo, xM: 0, yM: 0, mPerPx: 0.05, widthPx, heightPx } };
  return valueOf(desk.putPlan(SITE.id, plan));
}

describe("an outline", () => {
  it("gives the zone its area, unless a person typed one", async () => {
    const desk = await run();
    expect(valueOf(await desk.putZone(SITE.id, { ...ZONE, outline: BOX }, "change")).areaM2).toBe(84);
    const typed = { ...ZONE, areaM2: 81.5, areaTyped: true, outline: BOX };
    expect(valueOf(await desk.putZone(SITE.id, typed, "change")).areaM2).toBe(81.5);
    expect(valueOf(desk.zonePage(SITE.id, ZONE.id)).zone).toMatchObject({
      areaM2: 81.5,
      areaTyped: true,
      outline: BOX,
    });
  });

  it("that is no floor is refused by name", async () => {
    const desk = await run();
    const bow = await desk.putZone(SITE.id, { ...ZONE, outline: BOW }, "change");
    expect(faultsOf(bow)).toEqual({ refusal: "invalid", fields: ["/outline"] });
    const stray = await desk.putZone(SITE.id, { ...ZONE, areaTyped: true }, "change");
    expect(faultsOf(stray)).toEqual({ refusal: "invalid", fields: ["/areaTyped"] });
  });

  it("of a zone that was split is not that of its parts", async () => {
    const desk = await run();
    valueOf(await desk.putZone(SITE.id, { ...ZONE, outline: BOX }, "change"));
    const left = BOX.map(({ xM, yM }) => ({ xM: Math.min(xM, 5), yM }));
    const into = [
      { id: "left", areaM2: 28, outline: left },
      { id: "right", areaM2: 56 },
    ];
    valueOf(
      await desk.addEntry(SITE.id, { at: new Date(NOON_MS).toISOString(), did: "split", zone: ZONE.id, into }, null),
    );
    expect(valueOf(desk.zonePage(SITE.id, "left")).zone.outline).toEqual(left);
    expect(valueOf(desk.zonePage(SITE.id, "right")).zone.outline).toBeUndefined();
  });
});

describe("the plan", () => {
  it("is not there before it is drawn, and takes no picture of another site", async () => {
    const desk = await run();
    expect(valueOf(desk.plan(SITE.id))).toBeNull();
    const plan = await drawnSite(desk);
    expect(valueOf(desk.plan(SITE.id))).toEqual(plan);
    const strange = { ...plan, picture: plan.picture === null ? null : { ...plan.picture, photo: "0".repeat(64) } };
    expect(faultsOf(desk.putPlan(SITE.id, strange)).fields).toEqual(["/picture/photo"]);
    const stretched = { ...plan, picture: plan.picture === null ? null : { ...plan.picture, widthPx: 599 } };
    expect(faultsOf(desk.putPlan(SITE.id, stretched)).fields).toEqual(["/picture/widthPx"]);
  });
});

describe("a site as a file", () => {
  it("makes the same site elsewhere, picture and recipes included, and nothing of people or readings", async () => {
    const desk = await run();
    await drawnSite(desk);
    const file = JSON.parse(JSON.stringify(valueOf(desk.siteFile(SITE.id)))) as SiteFileBody;
    expect(Object.keys(file).sort()).toEqual(
      ["feed", "madeAt", "nodes", "picture", "plan", "recipes", "sheets", "site", "siteFile", "zones"].sort(),
    );
    const other = await run({ empty: true });
    const taken = valueOf(await other.takeSiteFile(file, {}, null));
    expect(taken).toEqual({ site: { ...SITE, driveMin: 75 }, zones: 1, nodes: 2, sheets: 1 });
    const again = valueOf(other.siteFile(SITE.id));
    expect({ ...again, madeAt: "", picture: "", plan: { ...again.plan, picture: null } }).toEqual({
      ...{ ...file, madeAt: "", picture: "", plan: { ...file.plan, picture: null } },
    });
    expect(again.plan?.picture).toMatchObject({ xM: 0, yM: 0, mPerPx: 0.05, widthPx: 600, heightPx: 400 });
    expect(valueOf(other.photo(SITE.id, again.plan?.picture?.photo ?? "", "full")).length).toBeGreaterThan(500);
    expect(valueOf(other.board(SITE.id)).zones.map(({ call }) => call.call)).toEqual(["wait"]);
  });

  it("clashes by name, writes nothing then, and comes in under another id", async () => {
    const desk = await run();
    await drawnSite(desk);
    const file = valueOf(desk.siteFile(SITE.id));
    expect(faultsOf(await desk.takeSiteFile(file, {}, null))).toEqual({ refusal: "conflict", fields: ["/site/id"] });
    expect(faultsOf(await desk.takeSiteFile(file, { as: "second" }, null)).fields).toEqual(["/recipes/0/topic"]);
    valueOf(await desk.putSheet({ ...SHEET, name: "Typed anew" }));
    const wish = { as: "second", recipes: "leave" } as const;
    expect(faultsOf(await desk.takeSiteFile(file, wish, null)).fields).toEqual(["/sheets/0"]);
    expect(desk.sites().map(({ id }) => id)).toEqual([SITE.id]);
    const taken = valueOf(await desk.takeSiteFile(file, { ...wish, sheets: "keep" }, null));
    expect(taken).toMatchObject({ site: { id: "second" }, sheets: 0 });
    expect(valueOf(desk.recipes("second"))).toEqual([]);
  });

  it("takes no crack filler for a coat: neither the file's own nor the one that stands here by that name", async () => {
    const source = await run();
    const file = valueOf(source.siteFile(SITE.id));
    const desk = await run({ empty: true });
    const filler: SheetBody = {
      ...{ ...SHEET, kind: "filler", cure: [], hard: [{ slabC: 10, hardH: 20 }] },
      ...{ window: "open", seals: false, afterBlush: [] },
    };
    const of = ["/zones/0/system/0", "/zones/0/system/1"];
    const own = { ...file, sheets: [filler] };
    expect(faultsOf(await desk.takeSiteFile(own, {}, null))).toEqual({ refusal: "invalid", fields: of });
    valueOf(await desk.putSheet(filler));
    const kept = await desk.takeSiteFile(file, { sheets: "keep" }, null);
    expect(faultsOf(kept)).toEqual({ refusal: "conflict", fields: of });
    expect(desk.sites()).toEqual([]);
  });

  it("says every fault with its field", async () => {
    const desk = await run({ empty: true });
    const source = await run();
    const file = valueOf(source.siteFile(SITE.id));
    const broken = {
      ...file,
      site: { ...file.site, timezone: "Moon/Sea" },
      zones: [{ ...ZONE, outline: BOW, system: ["nowhere"] }],
      nodes: [{ ...NODE, zone: "gone" }],
      picture: "AAAA",
    };
    expect(faultsOf(await desk.takeSiteFile(broken, {}, null))).toEqual({
      refusal: "invalid",
      fields: ["/site/timezone", "/zones/0/system/0", "/zones/0/outline", "/nodes/0/zone", "/picture"],
    });
    expect(faultsOf(await desk.takeSiteFile({ ...file, siteFile: 2 }, {}, null)).fields).toEqual(["/siteFile"]);
    expect(faultsOf(await desk.takeSiteFile({ ...file, people: [] }, {}, null)).refusal).toBe("invalid");
    const noPicture = { ...file, plan: { widthM: 9, heightM: 9, picture: { ...PICTURE } } };
    expect(faultsOf(await desk.takeSiteFile(noPicture, {}, null)).fields).toEqual(["/picture"]);
    const hostile = { ...noPicture, picture: Buffer.from("<svg/>").toString("base64") };
    expect(faultsOf(await desk.takeSiteFile(hostile, {}, null)).fields).toEqual(["/picture"]);
    expect(desk.sites()).toEqual([]);
  });
});

const PICTURE = { photo: "a".repeat(64), xM: 0, yM: 0, mPerPx: 1, widthPx: 9, heightPx: 9 };

describe("the invented night", () => {
  it("says so in every name, and shows a pour and a wait to somebody who has nothing yet", async () => {
    const desk = await run({ empty: true, judge: { judgeZone, spotCheck } });
    const night = desk.inventedNight();
    for (const { name } of [...night.zones, ...night.sheets, { name: night.site.name ?? "" }])
      expect(name).toMatch(/invented/i);
    valueOf(await desk.addSite(night.site));
    const read = readNightFile(night);
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    valueOf(await desk.importNightFile(night.site.id, night));
    const calls = Object.fromEntries(
      valueOf(desk.board(night.site.id)).zones.map(({ zone, call }) => [zone.id, [call.call, call.limiting]]),
    );
    expect(calls).toEqual({ "inner-bay": ["pour", null], "door-bay": ["wait", "dew-margin"] });
    const judged = valueOf(await desk.judgeNight(night));
    expect(judged.calls.map(({ zone, call }) => [zone, call])).toEqual([["inner-bay", "pour"]]);
  });

  it("that asks nothing, or of no zone, is refused by field", async () => {
    const desk = await run({ empty: true });
    const night = desk.inventedNight();
    expect(faultsOf(await desk.judgeNight({ ...night, ask: [] })).fields).toEqual(["/ask"]);
    expect(faultsOf(await desk.judgeNight({ ...night, ask: [{ at: night.ask[0]?.at, zone: "x" }] })).fields).toEqual([
      "/ask/0/zone",
    ]);
  });
});
