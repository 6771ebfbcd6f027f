// What is made and removed again leaves nothing behind in memory.
import { queryObjects } from "node:v8";
import { afterEach, describe, expect, it } from "vitest";
import { topicOf } from "#contract/topics.ts";
import { Board, type BoardParts } from "../../server/live/board.ts";
import { createMoments } from "../../server/live/moments.ts";
import { NodeSeries } from "../../server/live/node-series.ts";
import { ZoneMemory } from "../../server/live/zone-memory.ts";
import { LiveSite } from "../../server/live/live-site.ts";
import { counter, runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, pack, SITE, ZONE } from "../support/small-site.ts";

const ZONES = 100;
/** At once: a site grows and shrinks, and what is held of it must not only shrink at its end. */
const TOGETHER = 25;
const MINUTE_MS = 60_000;

let running: RunningApp | null = null;
afterEach(async () => {
  await running?.end();
  running = null;
});

/** Objects of a class that something still holds. */
const heldOf = (made: new (...given: never[]) => object): number => Number(queryObjects(made, { format: "count" }));
const memories = () => heldOf(ZoneMemory);
const series = () => heldOf(NodeSeries);

describe("zones that are gone", () => {
  it("leave nothing behind, with their nodes", { timeout: 120_000 }, async () => {
    // A minute of the site passes in a quarter of a second.
    running = await runApp({ pace: 240 });
    const { app, nowMs } = running;
    await running.send(pack(Math.round(nowMs())));
    await until(() => counter(running as RunningApp, "judged") > 0);
    const before = { memories: memories(), series: series() };
    let most = 0;
    for (let from = 0; from < ZONES; from += TOGETHER) {
      const ids = Array.from({ length: TOGETHER }, (_, at) => `gone-${from + at}`);
      for (const id of ids) {
        valueOf(await app.desk.putZone(SITE.id, { ...ZONE, id }, "add"));
        valueOf(await app.desk.putNode(SITE.id, { ...NODE, id, zone: id }, "add"));
        const topic = topicOf({ kind: "senml", site: SITE.id, node: id });
        await running.send(pack(Math.round(nowMs()), {}, id), { topic });
      }
      if (from === 0) most = memories();
      for (const id of ids) {
        valueOf(await app.desk.removeNode(SITE.id, id));
        valueOf(await app.desk.removeZone(SITE.id, id));
      }
    }
    expect(most).toBe(before.memories + TOGETHER);
    // Two minutes of the site later at most.
    await until(() => counter(running as RunningApp, "queueJudge") === 0, 20_000);
    const endMs = nowMs() + 2 * MINUTE_MS;
    await until(() => nowMs() > endMs);
    expect(memories()).toBe(before.memories);
    expect(series()).toBe(before.series);
    expect(valueOf(app.desk.board(SITE.id)).zones).toHaveLength(1);
    expect(counter(running, "queueJudge")).toBeLessThanOrEqual(1);
  });
});

describe("a board", () => {
  it("holds no zone that is known no more, of a thousand", () => {
    const calls = { since: () => [] };
    const store = { calls } as unknown as BoardParts["store"];
    const moments = createMoments({ nowMs: () => 0, pace: 1 });
    const board = new Board({ store, moments, clock: { nowMs: () => 0, pace: 1 }, judgeFirst: () => undefined });
    const known = Array.from({ length: 1000 }, (_, index) => board.memory(SITE.id, `zone-${index}`));
    board.forgetOthers((_site, zone) => zone === "zone-0");
    const now = known.map((_, index) => board.memory(SITE.id, `zone-${index}`));
    expect(now.filter((memory, index) => memory === known[index])).toEqual([known[0]]);
  });
});

describe("a node that is removed", () => {
  const record = (ids: readonly string[]) => ({
    ...{ site: SITE, sheets: [], sheetVersions: [], zones: [ZONE] },
    nodes: ids.map((id) => ({ ...NODE, id })),
  });

  it("takes what it said and all that was known of it along", () => {
    const site = new LiveSite(record(["stays", "goes"]), 0, [], [], null, new Map());
    for (const node of ["stays", "goes"]) {
      site.keep([{ site: SITE.id, node, quantity: "slab", atMs: MINUTE_MS, value: 12, heardMs: MINUTE_MS }]);
      site.refuse(node, "not JSON", 1);
      site.presence.set(node, "online");
      site.loadedFromMs.set(node, 0);
    }
    site.change({ nodes: record(["stays"]).nodes }, 2 * MINUTE_MS);
    expect(site.log.series.map(({ node }) => node)).toEqual(["stays"]);
    expect(site.find("goes", "slab")).toBeNull();
    expect(site.troubleOf("goes")).toBeNull();
    for (const held of [site.presence, site.loadedFromMs, site.lastHeardMs])
      expect([...held.keys()]).toEqual(["stays"]);
  });
});
