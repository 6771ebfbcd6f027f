// What Mosquitto guards and withstands when it is set up as the documents say: topics, certificates, floods, a pulled plug.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { connectAsync, type IClientOptions, type MqttClient } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { topicOf } from "#contract/topics.ts";
import { freePort } from "../support/free-port.ts";
import { type MadeCertificates, makeCertificates } from "../support/made-certificates.ts";
import { type RunningMosquitto, startMosquitto } from "../support/mosquitto.ts";
import { ACL, LIMITS, tlsListener, USERS } from "../support/mosquitto-house.ts";
import { counter, runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, pack, SITE, ZONE } from "../support/small-site.ts";

const senml = (node: string, site = SITE.id) => topicOf({ kind: "senml", site, node });

describe("a Mosquitto of a careful house", () => {
  let made: MadeCertificates;
  let broker: RunningMosquitto;
  let running: RunningApp;
  let certificatePort: number;
  const comes = (username: keyof typeof USERS, options: IClientOptions = {}) =>
    connectAsync(broker.url, {
      ...{ protocolVersion: 4, reconnectPeriod: 0, connectTimeout: 5000 },
      ...{ username, password: USERS[username] },
      ...options,
    });
  const comesWithCertificate = (node: string, options: IClientOptions = {}) =>
    connectAsync(`mqtts://127.0.0.1:${certificatePort}`, {
      ...{ protocolVersion: 4, reconnectPeriod: 0, connectTimeout: 5000, ca: made.ca },
      cert: readFileSync(join(made.folder, `node-${node}.pem`)),
      key: readFileSync(join(made.folder, `node-${node}-key.pem`)),
      ...options,
    });
  const say = (client: MqttClient, topic: string, body: unknown) =>
    client.publishAsync(topic, JSON.stringify(body), { qos: 1 });
  /** Says something that it may not. Mosquitto acknowledges that under 3.1.1, drops it and cuts the line (2.0.11). */
  const trespass = async (client: MqttClient, topic: string, body: unknown) => {
    const gone = new Promise<void>((resolve) => client.once("close", () => resolve()));
    // Whether the acknowledgement comes through before the cut is chance.
    client.on("error", () => undefined);
    client.publish(topic, JSON.stringify(body), { qos: 1 }, () => undefined);
    await gone;
  };
  const slabNow = () => valueOf(running.app.desk.board(SITE.id)).zones[0]?.call.conditions.slabColdC ?? null;
  const state = () => running.app.desk.health().parts["broker"]?.state;

  beforeAll(async () => {
    made = makeCertificates("--nodes", "bay-1,north");
    certificatePort = await freePort();
    broker = await startMosquitto({
      users: USERS,
      acl: ACL,
      extra: [
        ...LIMITS,
        // A listener for nodes that prove who they are by a certificate of the house; its name is their user name.
        ...tlsListener(certificatePort, made),
        `cafile ${join(made.folder, "ca.pem")}`,
        "require_certificate true",
        "use_identity_as_username true",
      ],
    });
    running = await runApp({
      settings: { mqttUrl: broker.url, mqttUsername: "nightslab", mqttPassword: USERS.nightslab, mqttConnections: 2 },
    });
    await until(() => state() === "up");
  });
  afterAll(async () => {
    await running.end();
    await broker.stop();
    made.remove();
  });

  it("lets nobody in without a password", async () => {
    await expect(comes("bay-1", { password: "guessed" })).rejects.toThrow(/[Nn]ot authorized/);
    await expect(connectAsync(broker.url, { reconnectPeriod: 0, protocolVersion: 4 })).rejects.toThrow(/authorized/);
  });

  it("drops what a node writes to the topics of others, and the log hears nothing of it", async () => {
    const heard: string[] = [];
    const siren = await comes("siren");
    siren.on("message", (_, payload) => heard.push(payload.toString()));
    await siren.subscribeAsync(["nightslab/v1/+/zone/+/call", "nightslab/v1/+/alarm"], { qos: 1 });
    await until(() => heard.length > 0);
    const before = counter(running, "messages");
    const foreign: [topic: string, body: unknown][] = [
      [senml(NODE.id), pack(0)],
      [topicOf({ kind: "presence", site: SITE.id, node: NODE.id }), "offline"],
      [senml("north", "pier"), pack(0)],
      [topicOf({ kind: "call", site: SITE.id, zone: ZONE.id }), { forged: "pour" }],
      [topicOf({ kind: "alarm", site: SITE.id }), { forged: "all clear" }],
      ["floor/corner/state", { floor_f: 60 }],
    ];
    await Promise.all(foreign.map(async ([topic, body]) => trespass(await comes("north"), topic, body)));
    // Its own topic is heard after that: so none of those before is on its way.
    const north = await comes("north");
    await say(north, senml("north"), pack(Math.round(running.nowMs()), {}, "north"));
    await until(() => counter(running, "quarantined.unknown node") === 1);
    expect(counter(running, "messages")).toBe(before + 1);
    expect(heard.filter((one) => one.includes("forged"))).toEqual([]);
    await Promise.all([north.endAsync(), siren.endAsync()]);
  });

  it("lets a node hear nothing, and the siren nothing but calls and alarms", async () => {
    const [north, siren, bay] = [await comes("north"), await comes("siren"), await comes("bay-1")];
    const heard: string[] = [];
    for (const [name, client] of Object.entries({ north, siren })) {
      client.on("message", (topic) => heard.push(`${name} ${topic}`));
      await client.subscribeAsync(["#", "nightslab/v1/+/node/+/senml"], { qos: 1 }).catch(() => undefined);
    }
    await say(bay, senml(NODE.id), pack(Math.round(running.nowMs()), { slab: 14 }));
    await until(() => slabNow() === 14);
    await until(() => heard.includes(`siren ${topicOf({ kind: "call", site: SITE.id, zone: ZONE.id })}`));
    expect(heard.filter((one) => one.startsWith("north") || one.includes("/node/"))).toEqual([]);
    await Promise.all([north, siren, bay].map((client) => client.endAsync()));
  });

  it("takes a certificate of the house for a name, and holds its bearer to that name", async () => {
    await trespass(await comesWithCertificate("north"), senml(NODE.id), pack(Math.round(running.nowMs())));
    const north = await comesWithCertificate("north");
    const before = counter(running, "quarantined.unknown node");
    await say(north, senml("north"), pack(Math.round(running.nowMs()), {}, "north"));
    await until(() => counter(running, "quarantined.unknown node") === before + 1);
    const bay = await comesWithCertificate("bay-1");
    await say(bay, senml(NODE.id), pack(Math.round(running.nowMs()), { slab: 13.5 }));
    await until(() => slabNow() === 13.5);
    await Promise.all([north.endAsync(), bay.endAsync()]);
    // Whatever else it says of itself.
    const forged = { username: "bay-1", password: USERS["bay-1"] };
    const forgery = pack(Math.round(running.nowMs()), { slab: 2 });
    await trespass(await comesWithCertificate("north", forged), senml(NODE.id), forgery);
    const again = await comesWithCertificate("north", forged);
    await say(again, senml("north"), pack(Math.round(running.nowMs()), {}, "north"));
    await until(() => counter(running, "quarantined.unknown node") === before + 2);
    expect(slabNow()).toBe(13.5);
    await again.endAsync();
  });

  it("turns away who has no certificate, or one of another house", async () => {
    const bare = { ca: made.ca, reconnectPeriod: 0, connectTimeout: 5000 };
    await expect(connectAsync(`mqtts://127.0.0.1:${certificatePort}`, bare)).rejects.toThrow();
    const other = makeCertificates("--nodes", "bay-1");
    const [cert, key] = ["node-bay-1.pem", "node-bay-1-key.pem"].map((file) => readFileSync(join(other.folder, file)));
    other.remove();
    const stranger = { ...bare, ...(cert === undefined || key === undefined ? {} : { cert, key }) };
    await expect(connectAsync(`mqtts://127.0.0.1:${certificatePort}`, stranger)).rejects.toThrow();
  });

  it("cuts off who sends a packet larger than any pack", async () => {
    const north = await comes("north");
    const gone = new Promise<void>((resolve) => north.once("close", () => resolve()));
    north.on("error", () => undefined);
    north.publish(senml("north"), Buffer.alloc(200_000, 32), { qos: 1 }, () => undefined);
    await gone;
    expect(state()).toBe("up");
  });

  it("brings the readings of others through while one floods", async () => {
    const [north, bay] = [await comes("north"), await comes("bay-1")];
    const before = counter(running, "quarantined.unknown node");
    const t = Math.round(running.nowMs());
    const flood = Array.from({ length: 600 }, (_, index) => say(north, senml("north"), pack(t - index, {}, "north")));
    await say(bay, senml(NODE.id), pack(t, { slab: 15.5 }));
    await until(() => slabNow() === 15.5);
    await Promise.all(flood);
    // Nothing of it is lost either: it is counted, every packet of it.
    await until(() => counter(running, "quarantined.unknown node") === before + 600);
    await Promise.all([north.endAsync(), bay.endAsync()]);
  });

  it("that is away is said on the health page, and gets back the calls that it lost", async () => {
    await broker.halt("kill");
    await until(() => state() === "down");
    expect(running.app.desk.health().state).toBe("down");
    await broker.restart("kill");
    await until(() => state() === "up");
    const bay = await comes("bay-1");
    await say(bay, senml(NODE.id), pack(Math.round(running.nowMs()), { slab: 15 }));
    await until(() => slabNow() === 15);
    const siren = await comes("siren");
    const kept = new Promise<string>((resolve) => siren.once("message", (_, body) => resolve(body.toString())));
    await siren.subscribeAsync("nightslab/v1/+/zone/+/call", { qos: 1 });
    expect(JSON.parse(await kept)).toMatchObject({ zone: ZONE.id, call: "pour" });
    await Promise.all([bay.endAsync(), siren.endAsync()]);
  });
});

describe.each([5, 4] as const)(
  "a Mosquitto whose list forgets a topic that the server writes, MQTT %i",
  (mqttVersion) => {
    it("loses that topic alone, and the health page names it", async () => {
      const acl = ACL.split("\n").filter((line) => !line.includes("/siren"));
      expect(acl.length).toBeLessThan(ACL.split("\n").length);
      const broker = await startMosquitto({ users: USERS, acl: acl.join("\n") });
      const login = { mqttUsername: "nightslab", mqttPassword: USERS.nightslab, mqttVersion, mqttConnections: 1 };
      const running = await runApp({ settings: { mqttUrl: broker.url, ...login } });
      const detail = () => running.app.desk.health().parts["broker"]?.detail ?? "";
      await until(() => detail().includes(`1 of 1 connections; may not write to nightslab/v1/${SITE.id}/siren`));
      const siren = await connectAsync(broker.url, { username: "siren", password: USERS.siren, reconnectPeriod: 0 });
      const kept = new Promise<string>((resolve) => siren.once("message", (_, body) => resolve(body.toString())));
      await siren.subscribeAsync("nightslab/v1/+/zone/+/call", { qos: 1 });
      expect(JSON.parse(await kept)).toMatchObject({ zone: ZONE.id, call: "wait" });
      await siren.endAsync();
      await running.end();
      await broker.stop();
    });
  },
);
