// What the way from a packet to a call must do, whichever broker the packets come through.
import Libsql from "libsql";
import { join } from "node:path";
import { createHash } from "node:crypto";
import type { IClientOptions, MqttClient } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RecipeBody } from "#contract/recipe.ts";
import { topicOf } from "#contract/topics.ts";
import { openStore } from "../../server/store/store.ts";
import { counter, runApp, type RunningApp, troubleOf, until, valueOf } from "../support/running-app.ts";
import { NODE, pack, SITE, ZONE } from "../support/small-site.ts";

/** Who comes to the broker: a node by its id, a gateway for a recipe, something that hears calls and alarms. */
export type Guest = "bay-1" | "north" | "gateway" | "siren";

export interface BrokerUnderTest {
  /** What the server must know of it. */
  readonly settings: object;
  client(guest: Guest, options?: IClientOptions): Promise<MqttClient>;
  end(): Promise<void>;
}

const senml = (node: string = NODE.id) => topicOf({ kind: "senml", site: SITE.id, node });
const presence = topicOf({ kind: "presence", site: SITE.id, node: NODE.id });
const callTopic = topicOf({ kind: "call", site: SITE.id, zone: ZONE.id });
const RECIPE: RecipeBody = {
  id: "flat",
  topic: "floor/+/state",
  node: { level: 2 },
  gateway: "gateway",
  time: { at: "/ts", as: "epoch-ms" },
  values: [{ quantity: "slab", at: "/floor_f", unit: "F" }],
};

export function pipelineSuite(name: string, start: () => Promise<BrokerUnderTest>): void {
  describe(`packets through ${name}`, () => {
    let broker: BrokerUnderTest;
    let running: RunningApp;
    let node: MqttClient;
    beforeAll(async () => {
      broker = await start();
      running = await runApp({ settings: broker.settings });
      await until(isUp);
      node = await broker.client("bay-1", { reconnectPeriod: 100, clientId: "bay-1", clean: false });
    });
    afterAll(async () => {
      await node.endAsync(true);
      await running.end();
      await broker.end();
    });

    const isUp = () => running.app.desk.health().parts["broker"]?.state === "up";
    const publish = (body: unknown, topic = senml(), retain = false) =>
      node.publishAsync(topic, typeof body === "string" ? body : JSON.stringify(body), { qos: 1, retain });
    const slabNow = () => valueOf(running.app.desk.board(SITE.id)).zones[0]?.call.conditions.slabColdC ?? null;
    const presenceNow = () => valueOf(running.app.desk.nodes(SITE.id))[0]?.presence;
    const stored = () => counter(running, "readingsStored");
    /** The call that the broker keeps, as somebody hears it who comes now. */
    const keptCall = async () => {
      const siren = await broker.client("siren");
      const heard = new Promise<{ call: string; limiting: string | null; retain: boolean }>((resolve) =>
        siren.once("message", (_, payload, packet) => {
          const { call, limiting } = JSON.parse(payload.toString()) as { call: string; limiting: string | null };
          resolve({ call, limiting, retain: packet.retain });
        }),
      );
      await siren.subscribeAsync(callTopic, { qos: 1 });
      const call = await heard;
      await siren.endAsync();
      return call;
    };

    it("are on the disk, judged, and their call stands at the broker for whoever comes later", async () => {
      const t = Math.round(running.nowMs());
      for (let minute = 20; minute >= 0; minute--) await publish(pack(t - minute * 60_000, { slab: 12 + minute / 10 }));
      await until(() => stored() === 63 && slabNow() === 12);
      const onDisk = new Libsql(join(running.data, "nightslab.sqlite"), { readonly: true });
      expect(onDisk.prepare("SELECT count(*) AS rows FROM readings").get()).toMatchObject({ rows: 63 });
      onDisk.close();
      await until(async () => (await keptCall()).call === "pour");
      expect(await keptCall()).toEqual({ call: "pour", limiting: null, retain: true });
    });

    it("change nothing when they come twice; another value for the same time is refused", async () => {
      const before = { stored: stored(), same: counter(running, "readingsSame") };
      const t = Math.round(running.nowMs()) - 30_000;
      await publish(pack(t));
      await publish(pack(t));
      await publish(pack(t, { slab: 19 }));
      await until(() => counter(running, "readingsSame") === before.same + 5);
      expect(stored()).toBe(before.stored + 3);
      expect(troubleOf(running, NODE.id).reason).toBe("another value stands for this time");
    });

    it.each([
      ["what is not JSON", "{slab: 12}", "not JSON"],
      ["another unit", '[{"n":"bay-1/slab","u":"F","v":51}]', "not a reading"],
      ["a name of another node", '[{"n":"yard/slab","u":"Cel","v":11}]', "name of another node"],
      ["an impossible value", '[{"n":"bay-1/slab","u":"Cel","v":400}]', "impossible value"],
    ])("put %s into quarantine with its reason, and go on", async (_, body, reason) => {
      const before = { count: troubleOf(running, NODE.id).count, stored: stored() };
      await publish(body);
      await until(() => troubleOf(running, NODE.id).count === before.count + 1);
      expect(troubleOf(running, NODE.id).reason).toBe(reason);
      await publish(pack(Math.round(running.nowMs()) - before.count * 1000 - 7));
      await until(() => stored() === before.stored + 3);
    });

    it("bring presence and its last will", async () => {
      const will = { topic: presence, payload: Buffer.from("offline"), qos: 1, retain: true } as const;
      const mortal = await broker.client("bay-1", { will, clientId: "bay-1-mortal" });
      await mortal.publishAsync(presence, "online", { qos: 1, retain: true });
      await until(() => presenceNow() === "online");
      mortal.stream.destroy();
      await until(() => presenceNow() === "offline");
    });

    it("let a node knock, and hear it when a person has let it in", async () => {
      const north = await broker.client("north");
      const key = createHash("sha256").update("its own secret").digest("hex");
      const knock = { what: "slab probe", quantities: ["slab"], everyS: 60, key };
      await north.publishAsync(topicOf({ kind: "knock", site: SITE.id, node: "north" }), JSON.stringify(knock), {
        qos: 1,
      });
      const waiting = () => valueOf(running.app.desk.knocks(SITE.id)).find((one) => one.node === "north");
      await until(() => waiting() !== undefined);
      expect(waiting()).toMatchObject({ what: "slab probe", state: "waiting", fingerprint: key.slice(0, 16) });
      valueOf(await running.app.desk.putNode(SITE.id, { ...NODE, id: "north" }, "add"));
      const before = stored();
      await north.publishAsync(senml("north"), JSON.stringify(pack(Math.round(running.nowMs()) - 900, {}, "north")), {
        qos: 1,
      });
      await until(() => stored() === before + 3);
      await north.endAsync();
    });

    it("of sensors that exist are read through a recipe", async () => {
      valueOf(await running.app.desk.putNode(SITE.id, { ...NODE, id: "corner" }, "add"));
      valueOf(await running.app.desk.putRecipes(SITE.id, [RECIPE]));
      const gateway = await broker.client("gateway");
      const before = stored();
      const ts = Math.round(running.nowMs()) - 5000;
      // The subscription to a new topic is under way; a gateway says again what it measured.
      await until(async () => {
        await gateway.publishAsync("floor/corner/state", JSON.stringify({ ts, floor_f: 53.6 }), { qos: 1 });
        return stored() === before + 1;
      });
      const { series } = valueOf(await running.app.desk.series(SITE.id, ZONE.id, ts - 1000, ts + 1000, 2));
      expect(series["corner/slab"]?.flatMap(({ mean }) => mean ?? [])).toEqual([12]);
      await gateway.endAsync();
    });

    it("wait for a store that does not answer, and are lost by nobody", async () => {
      const other = new Libsql(join(running.data, "nightslab.sqlite"));
      other.exec("BEGIN IMMEDIATE");
      const before = stored();
      const t = Math.round(running.nowMs()) - 2500;
      const sending = publish(pack(t, { slab: 11.25 }));
      sending.catch(() => undefined);
      await until(() => running.app.desk.health().parts["store"]?.state === "down");
      expect(stored()).toBe(before);
      other.exec("ROLLBACK");
      other.close();
      await until(() => stored() === before + 3);
      await until(() => running.app.desk.health().parts["store"]?.state === "up");
    });

    it("that stop a pour reach the siren as an alarm", async () => {
      const siren = await broker.client("siren");
      const alarms: string[] = [];
      siren.on("message", (_, payload) => alarms.push(payload.toString()));
      await siren.subscribeAsync(topicOf({ kind: "alarm", site: SITE.id }), { qos: 1 });
      await publish(pack(Math.round(running.nowMs())));
      await until(async () => (await keptCall()).call === "pour");
      const at = new Date(running.nowMs()).toISOString();
      valueOf(await running.app.desk.addEntry(SITE.id, { did: "pouring", at, zone: ZONE.id, coat: 0 }, "Ida"));
      running.moveClock(2000);
      await publish(pack(Math.round(running.nowMs()), { slab: 8 }));
      await until(() => alarms.some((one) => one.includes("stop-pour")));
      await siren.endAsync();
    });

    it("that were sent while the server was away arrive, each once, and the call stands again", async () => {
      await publish("online", presence, true);
      await until(() => presenceNow() === "online");
      const t = Math.round(running.nowMs()) + 1000;
      await running.stop();
      const sent = Array.from({ length: 50 }, (_, second) => publish(pack(t + second, { slab: 6 })));
      sent.push(publish([{ n: `${NODE.id}/slab`, u: "Cel", v: 30 }], senml(), true));
      running = await runApp({ data: running.data, settings: broker.settings, empty: true, atMs: t + 60_000 });
      await Promise.all(sent);
      // It counted from a now that is long past.
      await until(() => counter(running, "quarantined.relative time in a message that was kept or sent again") > 0);
      await until(() => slabNow() === 6);
      await until(async () => (await keptCall()).limiting === "slab-cold");
      // Who was online is not known until it says so, or the broker that kept it does.
      await until(isUp);
      await publish("online", presence, true);
      await until(() => presenceNow() === "online");
      await running.stop();
      const store = openStore(running.data);
      const { values } = store.readings.range(SITE.id, NODE.id, "slab", t, t + 49);
      store.close();
      expect(values).toEqual(Array.from({ length: 50 }, () => 6));
    });
  });
}
