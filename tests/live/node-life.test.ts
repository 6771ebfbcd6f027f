// A node through its life: moved, replaced, retired, and the history of its zone after each; recipes through the broker.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { topicOf } from "#contract/topics.ts";
import { RECIPE_EXAMPLES } from "#contract/recipe-examples.ts";
import { slopePerDay, warningsOf } from "../../server/live/node-trends.ts";
import { counter, runApp, type RunningApp, valueOf } from "../support/running-app.ts";
import { NODE, pack, SITE, ZONE } from "../support/small-site.ts";

const MINUTE = 60_000;
let running: RunningApp;
const desk = () => running.app.desk;
const send = (atMs: number, slab: number, node: string) =>
  running.send(pack(atMs, { slab }, node), { topic: topicOf({ kind: "senml", site: SITE.id, node }) });
const sensor = (node: string) => valueOf(desk().sensors(SITE.id)).sensors.find((one) => one.node.id === node);
const refused = (node: string) => {
  const state = valueOf(desk().nodes(SITE.id)).find((one) => one.node.id === node);
  return state?.lastReason ?? null;
};
const entries = () =>
  valueOf(desk().journal(SITE.id, null, null)).entries.flatMap((entry) =>
    "probe" in entry ? [`${entry.did} ${entry.probe} ${entry.zone ?? ""}`] : [],
  );
/** Slab probes that the zone's history knows at a past minute. */
const heardAt = async (zone: string, atMs: number) =>
  Object.entries(valueOf(await desk().series(SITE.id, zone, atMs - MINUTE, atMs + MINUTE, 2)).series)
    .filter(([name, buckets]) => name.includes("/slab") && buckets.some(({ mean }) => mean !== null))
    .map(([name]) => name);

beforeAll(async () => {
  running = await runApp();
  valueOf(await desk().putZone(SITE.id, { ...ZONE, id: "loft", name: "Loft" }, "add"));
});
afterAll(() => running.end());

describe("a node", () => {
  let t = 0;
  it("gets new places for its probes within its zone", async () => {
    t = Math.round(running.nowMs()) - 30 * MINUTE;
    await send(t, 12, NODE.id);
    const moved = await desk().moveNode(SITE.id, NODE.id, {
      zone: ZONE.id,
      probes: { slab: { place: "coldest edge", xM: 1, yM: 4 } },
    });
    expect(valueOf(moved)).toMatchObject({ id: NODE.id, probes: { slab: { place: "coldest edge" } } });
    expect(entries()).toEqual([`moved ${NODE.id}/slab ${ZONE.id}`]);
  });

  it("is replaced by another device, and what both measured belongs to the place", async () => {
    const next = valueOf(await desk().replaceNode(SITE.id, NODE.id, { by: "bay-9", who: "Ida" }));
    expect(next).toEqual({ ...NODE, id: "bay-9", probes: { slab: { place: "coldest edge", xM: 1, yM: 4 } } });
    expect(entries().slice(1)).toEqual([`retired ${NODE.id}/air ${ZONE.id}`, `retired ${NODE.id}/slab ${ZONE.id}`]);
    expect(sensor(NODE.id)).toMatchObject({ replacedBy: "bay-9", warnings: [], doubts: [] });
    const now = Math.round(running.nowMs());
    await send(now, 11, "bay-9");
    expect(await heardAt(ZONE.id, t)).toEqual([`${NODE.id}/slab`]);
    expect(await heardAt(ZONE.id, now)).toEqual(["bay-9/slab"]);
    // The old one may still bring what it measured before, and nothing after.
    const before = counter(running, "readingsStored");
    await send(t + MINUTE, 12.5, NODE.id);
    expect(counter(running, "readingsStored")).toBe(before + 3);
    await send(Math.round(running.nowMs()), 12.5, NODE.id);
    expect(refused(NODE.id)).toBe("taken out of use");
    expect(await desk().retireNode(SITE.id, NODE.id, null)).toMatchObject({ ok: false, refusal: "conflict" });
  });

  it("that is carried to another zone goes on there, and its past stays where it was", async () => {
    const next = valueOf(
      await desk().moveNode(SITE.id, "bay-9", { zone: "loft", probes: { slab: { place: "centre" } } }),
    );
    expect(next).toMatchObject({ id: "bay-9-2", zone: "loft" });
    await new Promise((resolve) => setTimeout(resolve, 5));
    const now = Math.round(running.nowMs());
    // The device still sends under its own name.
    await send(now, 9, "bay-9");
    await send(now - 20 * MINUTE, 11.5, "bay-9");
    expect(await heardAt("loft", now)).toEqual(["bay-9-2/slab"]);
    expect(await heardAt(ZONE.id, now - 20 * MINUTE)).toContain("bay-9/slab");
    expect(await heardAt("loft", now - 20 * MINUTE)).toEqual([]);
    expect(valueOf(desk().nodeLabel(SITE.id, "bay-9-2"))).toMatchObject({ device: "bay-9", zoneName: "Loft" });
    expect(valueOf(await desk().makeCredentials(SITE.id, "bay-9-2")).username).toBe(`${SITE.id}/bay-9`);
  });

  it("keeps all this through a restart", async () => {
    const { data } = running;
    const atMs = running.nowMs();
    await running.stop();
    running = await runApp({ data, empty: true, atMs });
    expect(sensor(NODE.id)).toMatchObject({ replacedBy: "bay-9" });
    expect(sensor("bay-9-2")?.passwordSince).not.toBeNull();
    const now = Math.round(running.nowMs());
    const made = valueOf(await desk().makeCredentials(SITE.id, "bay-9-2"));
    const own = await running.client({ username: made.username, password: made.password });
    await own.publishAsync(
      topicOf({ kind: "senml", site: SITE.id, node: "bay-9" }),
      JSON.stringify(pack(now, {}, "bay-9")),
      { qos: 1 },
    );
    expect(await heardAt("loft", now)).toEqual(["bay-9-2/slab"]);
  });
});

describe("recipes", () => {
  const [flat] = RECIPE_EXAMPLES;
  it("read other topics, and what does not fit them is quarantined with field and reason", async () => {
    if (flat === undefined) throw new Error("no example");
    valueOf(await desk().putNode(SITE.id, { ...NODE, id: "corner" }, "add"));
    valueOf(await desk().putRecipes(SITE.id, [flat.recipe]));
    const ts = Math.floor(running.nowMs() / 1000) - 5;
    const before = counter(running, "readingsStored");
    await running.send({ ts, floor_c: 10.5, air_c: 12, rh: 60 }, { topic: flat.topic });
    expect(counter(running, "readingsStored")).toBe(before + 3);
    await running.send({ ts: ts + 1, floor_c: 10.5, air_c: "warm", rh: 60 }, { topic: flat.topic });
    expect(counter(running, "readingsStored")).toBe(before + 5);
    const line = valueOf(desk().sensors(SITE.id)).quarantine.find(({ node }) => node === "corner");
    expect(line).toMatchObject({ reason: "recipe flat", field: "/air_c: is text: the recipe must say so", count: 1 });
    await running.send("{", { topic: flat.topic, raw: true });
    expect(valueOf(desk().sensors(SITE.id)).quarantine.some(({ reason }) => reason === "not JSON")).toBe(true);
  });

  it("show what a message would give, without keeping anything", () => {
    if (flat === undefined) throw new Error("no example");
    const tried = valueOf(
      desk().tryRecipe(SITE.id, { recipe: flat.recipe, topic: "floor/attic/state", payload: flat.payload }),
    );
    expect(tried).toMatchObject({ node: "attic", faults: [], notes: ['"attic" is no node of this site yet'] });
    expect(tried.readings[0]).toEqual({ quantity: "slab", at: "2026-01-30T12:00:00Z", value: 11.4, unit: "°C" });
    const wrong = valueOf(desk().tryRecipe(SITE.id, { recipe: flat.recipe, topic: flat.topic, payload: "warm" }));
    expect(wrong.faults).toEqual([{ field: "/", reason: 'is not JSON: it begins with "warm"' }]);
  });

  it("let a gateway send for its nodes, and a node for itself alone", async () => {
    const nested = RECIPE_EXAMPLES.find(({ shape }) => shape === "nested");
    if (flat === undefined || nested === undefined) throw new Error("no example");
    valueOf(await desk().putNode(SITE.id, { ...NODE, id: "north-wall" }, "add"));
    valueOf(await desk().putRecipes(SITE.id, [flat.recipe, nested.recipe]));
    const signIn = async (node: string) => {
      const { username, password } = valueOf(await desk().makeCredentials(SITE.id, node));
      return running.client({ username, password });
    };
    const before = counter(running, "readingsStored");
    const body = JSON.stringify({
      ...(JSON.parse(nested.payload) as object),
      received: new Date(running.nowMs()).toISOString(),
    });
    const gateway = await signIn("bridge");
    await gateway.publishAsync(nested.topic, body, { qos: 1 });
    expect(counter(running, "readingsStored")).toBe(before + 4);
    const corner = await signIn("corner");
    await corner.publishAsync(nested.topic, body, { qos: 1 });
    expect(refused("north-wall")).toBe("topic of another node");
    expect(await desk().makeCredentials(SITE.id, "nobody")).toMatchObject({ ok: false, refusal: "missing" });
  });
});

describe("what battery and radio warn of", () => {
  const calm = { batteryPct: 80, batteryDays: [], rssiDays: [], coldestC: 8, heardShare: 1, silentH: 0, everyS: 60 };
  const falling = [44, 42, null, 38, 36, 34, 32, 30];
  it("tells days ahead, from the days that were heard", () => {
    expect(slopePerDay(falling)).toBeCloseTo(-2, 10);
    expect(slopePerDay([1, null, 2, 3])).toBeNull();
    expect(warningsOf({ ...calm, batteryPct: 30, batteryDays: falling })).toEqual([
      { kind: "battery-falls", value: 30, unit: "%", inDays: 12.5 },
    ]);
    expect(warningsOf(calm)).toEqual([]);
  });
  it.each([
    ["battery-low", { batteryPct: 12 }],
    ["battery-cold", { batteryPct: 35, coldestC: -4 }],
    ["radio-weak", { rssiDays: [-70, -88] }],
    ["radio-falls", { rssiDays: [-66, -67, -70, -78] }],
    ["rounds-missing", { heardShare: 0.7 }],
    ["silent", { silentH: 1, heardShare: 0.2 }],
  ])("%s", (kind, facts) => {
    expect(warningsOf({ ...calm, ...facts }).map((one) => one.kind)).toEqual([kind]);
  });
});
