// The server as a process: killed at any moment it has lost nothing that it acknowledged, and asked to stop it stops.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { topicOf } from "#contract/topics.ts";
import { openStore } from "../../server/store/store.ts";
import { builtServer } from "../support/built-server.ts";
import { askApi, type ServerProcess, startServer as start } from "../support/server-process.ts";
import { NODE, OUTDOORS, SHEET, SITE, ZONE } from "../support/small-site.ts";

const topic = topicOf({ kind: "senml", site: SITE.id, node: NODE.id });

const startServer = async (env: Record<string, string>): Promise<ServerProcess> => start(env, await builtServer());

async function setUp({ httpUrl }: ServerProcess): Promise<void> {
  for (const [method, path, body] of [
    ["POST", "/sites", SITE],
    ["PUT", "/sheets", SHEET],
    ["POST", `/sites/${SITE.id}/zones`, ZONE],
    ["POST", `/sites/${SITE.id}/nodes`, NODE],
    ["POST", `/sites/${SITE.id}/nodes`, OUTDOORS],
  ] as const) {
    const answer = await askApi(httpUrl, method, path, body);
    expect(answer.status, JSON.stringify(answer.body)).toBeLessThan(300);
  }
}

/** Each test starts the program several times, and a busy machine takes its time over that. */
const TIMEOUT_MS = 240_000;

describe("the server process", { timeout: TIMEOUT_MS }, () => {
  let data: string;
  beforeAll(async () => {
    data = await mkdtemp(join(tmpdir(), "nightslab-process-"));
  });
  afterAll(() => rm(data, { recursive: true, force: true }));

  it("loses nothing that it acknowledged, however it is killed", async () => {
    const acknowledged = new Map<number, number>();
    let t = Date.now() - 3_600_000;
    for (const killAfter of [40, 160, 400]) {
      const server = await startServer({ NIGHTSLAB_DATA: data });
      if (acknowledged.size === 0) await setUp(server);
      const client = await connectAsync(server.mqttUrl, { reconnectPeriod: 0 });
      client.on("error", () => undefined);
      const before = acknowledged.size;
      await new Promise<void>((resolve) => {
        client.once("close", () => resolve());
        const next = () => {
          const atMs = t++;
          const value = 10 + (atMs % 977) / 100;
          client.publish(
            topic,
            JSON.stringify([{ n: `${NODE.id}/slab`, u: "Cel", t: atMs / 1000, v: value }]),
            { qos: 1 },
            (error) => {
              if (error) return;
              acknowledged.set(atMs, value);
              if (acknowledged.size - before === killAfter) server.signal("SIGKILL");
              next();
            },
          );
        };
        // Several under way at once, as from several nodes.
        for (let lane = 0; lane < 8; lane++) next();
      });
      await server.ended;
      await client.endAsync(true);
      expect(acknowledged.size - before).toBeGreaterThanOrEqual(killAfter);
    }
    const store = openStore(data);
    const { atMs, values } = store.readings.range(SITE.id, NODE.id, "slab", 0, Number.MAX_SAFE_INTEGER);
    store.close();
    const kept = new Map(atMs.map((at, index) => [at, values[index]]));
    expect([...acknowledged].filter(([at, value]) => kept.get(at) !== value)).toEqual([]);
    console.log(`${acknowledged.size} acknowledged over 3 kills, ${kept.size} kept`);
  });

  it("comes back with all it had, stops when asked, and says that it did", async () => {
    const server = await startServer({ NIGHTSLAB_DATA: data });
    const board = await askApi(server.httpUrl, "GET", `/sites/${SITE.id}/board`);
    expect(board).toMatchObject({
      status: 200,
      body: { site: SITE, zones: [{ zone: ZONE }], nodes: [{ node: NODE }, { node: OUTDOORS }] },
    });
    expect(await askApi(server.httpUrl, "GET", "/health")).toMatchObject({ status: 200, body: { state: "up" } });
    const client = await connectAsync(server.mqttUrl, { reconnectPeriod: 0 });
    const atMs = Date.now() - 1000;
    const last = client.publishAsync(
      topic,
      JSON.stringify([{ n: `${NODE.id}/air`, u: "Cel", t: atMs / 1000, v: 9.5 }]),
      { qos: 1 },
    );
    await last;
    server.signal("SIGTERM");
    expect(await server.ended).toBe(0);
    expect(server.log()).toContain('"msg":"stopped"');
    await client.endAsync(true);
    const store = openStore(data);
    expect(store.readings.latest(SITE.id).find(({ quantity }) => quantity === "air")).toMatchObject({
      value: 9.5,
      atMs,
    });
    store.close();
  });

  it("refuses to run twice on one folder, on a taken port, or on wrong settings, in plain words", async () => {
    const server = await startServer({ NIGHTSLAB_DATA: data });
    await expect(startServer({ NIGHTSLAB_DATA: data })).rejects.toThrow("another server is running on the data folder");
    const other = join(data, "other");
    const port = new URL(server.mqttUrl).port;
    await expect(startServer({ NIGHTSLAB_DATA: other, NIGHTSLAB_MQTT_PORT: port })).rejects.toThrow(
      /exit code 1:[\s\S]*is in use/,
    );
    await expect(startServer({ NIGHTSLAB_HTTP_HOST: "0.0.0.0", NIGHTSLAB_SITES: "x" })).rejects.toThrow(
      /exit code 2:[\s\S]*NIGHTSLAB_SITES is not a setting[\s\S]*accounts are required/,
    );
    server.signal("SIGINT");
    expect(await server.ended).toBe(0);
  });
});
