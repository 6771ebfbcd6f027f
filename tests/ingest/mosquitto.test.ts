// The whole live path through a real Mosquitto: shared connections, acknowledged after the commit, calls kept at the broker.
import { connectAsync, type MqttClient } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { topicOf } from "#contract/topics.ts";
import { type RunningMosquitto, startMosquitto } from "../support/mosquitto.ts";
import { counter, runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, pack, SITE } from "../support/small-site.ts";

const senml = topicOf({ kind: "senml", site: SITE.id, node: NODE.id });
const presence = topicOf({ kind: "presence", site: SITE.id, node: NODE.id });
const callTopic = topicOf({ kind: "call", site: SITE.id, zone: "bay" });

describe.each([5, 4] as const)("a real Mosquitto, MQTT version %i", (mqttVersion) => {
  let mosquitto: RunningMosquitto;
  let running: RunningApp;
  let node: MqttClient;
  const settings = () => ({
    mqttUrl: mosquitto.url,
    mqttVersion,
    mqttUsername: "nightslab",
    mqttPassword: "ebb-and-flow",
    mqttConnections: 3,
  });
  const connectNode = (options: object = {}) =>
    connectAsync(mosquitto.url, {
      protocolVersion: 4,
      username: "node",
      password: "kelp",
      reconnectPeriod: 200,
      ...options,
    });
  const up = () => running.app.desk.health().parts["broker"]?.state === "up";
  const slabNow = () => valueOf(running.app.desk.board(SITE.id)).zones[0]?.call.conditions.slabColdC ?? null;
  const keptCall = async () => {
    const reader = await connectNode({ clientId: "reader" });
    const heard = new Promise<{ call: string; slab: number | null; retain: boolean }>((resolve) =>
      reader.once("message", (_, payload, packet) => {
        const { call, conditions } = JSON.parse(payload.toString()) as {
          call: string;
          conditions: { slabColdC: number | null };
        };
        resolve({ call, slab: conditions.slabColdC, retain: packet.retain });
      }),
    );
    await reader.subscribeAsync(callTopic, { qos: 1 });
    const call = await heard;
    await reader.endAsync();
    return call;
  };

  beforeAll(async () => {
    mosquitto = await startMosquitto({ users: { nightslab: "ebb-and-flow", node: "kelp" } });
    running = await runApp({ settings: settings() });
    node = await connectNode();
    await until(up);
  });
  afterAll(async () => {
    await node.endAsync(true);
    await running.end();
    await mosquitto.stop();
  });

  it("hears nodes, judges, and leaves the call at the broker", async () => {
    const t = Math.round(running.nowMs());
    for (let minute = 20; minute >= 0; minute--) {
      await node.publishAsync(senml, JSON.stringify(pack(t - minute * 60_000, { slab: 12 + minute / 10 })), { qos: 1 });
    }
    await until(() => counter(running, "readingsStored") === 63 && slabNow() === 12);
    await until(async () => (await keptCall()).slab !== null);
    expect(await keptCall()).toMatchObject({ call: "pour", retain: true });
  });

  it("stores a packet once that comes twice, and refuses nonsense", async () => {
    const stored = counter(running, "readingsStored");
    const body = JSON.stringify(pack(Math.round(running.nowMs()) - 30_000));
    await node.publishAsync(senml, body, { qos: 1 });
    await node.publishAsync(senml, body, { qos: 1 });
    await node.publishAsync(senml, "{", { qos: 1 });
    await until(() => counter(running, "quarantined.not JSON") === 1);
    await until(() => counter(running, "readingsSame") >= 3);
    expect(counter(running, "readingsStored")).toBe(stored + 3);
  });

  it("hears a presence that is kept at the broker", async () => {
    await node.publishAsync(presence, "online", { qos: 1, retain: true });
    await until(() => valueOf(running.app.desk.nodes(SITE.id))[0]?.presence === "online");
  });

  it("gets what was sent while it was away, and refuses of it what counts from now", async () => {
    const t = Math.round(running.nowMs());
    await running.stop();
    for (let second = 1; second <= 50; second++) {
      await node.publishAsync(senml, JSON.stringify(pack(t + second, { slab: 6 })), { qos: 1 });
    }
    await node.publishAsync(senml, JSON.stringify([{ n: `${NODE.id}/slab`, u: "Cel", v: 30 }]), { qos: 1 });
    running = await runApp({ data: running.data, settings: settings(), empty: true, atMs: t + 60_000 });
    await until(() => counter(running, "readingsStored") === 150);
    await until(() => counter(running, "quarantined.relative time in a message that was kept or sent again") === 1);
    await until(() => slabNow() === 6);
    // The presence that the broker keeps is heard again, though the server had forgotten it.
    await until(() => valueOf(running.app.desk.nodes(SITE.id))[0]?.presence === "online");
    await until(async () => (await keptCall()).call === "wait");
  });

  it("says when the broker is away, and comes back with what the broker lost", async () => {
    await mosquitto.halt("kill");
    await until(() => running.app.desk.health().parts["broker"]?.state === "down");
    expect(running.app.desk.health().state).toBe("down");
    await mosquitto.restart("kill");
    await until(up, 20_000);
    if (!node.connected) await new Promise<void>((resolve) => node.once("connect", () => resolve()));
    await node.publishAsync(senml, JSON.stringify(pack(Math.round(running.nowMs()), { slab: 15 })), { qos: 1 });
    await until(() => slabNow() === 15);
    await until(async () => (await keptCall()).call === "pour");
  });
});
