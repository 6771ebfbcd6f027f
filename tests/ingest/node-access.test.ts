// Who may do what at the built-in broker: knocking, held readings, own passwords and topics, floods, TLS; with real clients.
import { execFileSync } from "node:child_process";
import { createHash, randomBytes } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { connect as connectSocket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { IClientOptions, MqttClient } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { topicOf } from "#contract/topics.ts";
import { counter, runApp, type RunningApp, troubleOf, until, valueOf } from "../support/running-app.ts";
import { NODE, pack, SITE, ZONE } from "../support/small-site.ts";

const HOUSE = "tide-over-gravel";
const topic = (kind: "senml" | "presence" | "knock", node: string, site = SITE.id) => topicOf({ kind, site, node });
const keyOf = (secret: string) => createHash("sha256").update(secret).digest("hex");
const RECORD = { zone: ZONE.id, everyS: 60, accuracy: NODE.accuracy, probes: { slab: { place: "middle" } } };

/** What becomes of a publish: acknowledged, or the connection is closed. */
function fate(client: MqttClient, name: string, body: unknown): Promise<"acknowledged" | "closed"> {
  return new Promise((resolve) => {
    const closed = () => resolve("closed");
    client.once("close", closed);
    client.publish(name, JSON.stringify(body), { qos: 1 }, (error) => {
      client.off("close", closed);
      resolve(error ? "closed" : "acknowledged");
    });
  });
}

describe("a broker that asks for passwords", () => {
  let running: RunningApp;
  const secret = randomBytes(32).toString("base64url");
  const knock = { what: "slab probe with air chip", quantities: ["slab", "air", "rh"], everyS: 60, key: keyOf(secret) };
  const client = (username: string, password: string, more: IClientOptions = {}) =>
    running.client({ username, password, ...more });
  const joining = () => client(SITE.id, valueOf(running.app.desk.joinSecret(SITE.id)).joinSecret);
  const waiting = (node: string) => valueOf(running.app.desk.knocks(SITE.id)).find((one) => one.node === node);
  const quarantined = (node: string) =>
    valueOf(running.app.desk.sensors(SITE.id))
      .quarantine.filter((line) => line.node === node)
      .map(({ reason }) => reason);

  beforeAll(async () => {
    running = await runApp({ settings: { joinSecret: HOUSE } });
  });
  afterAll(() => running.end());

  it("lets nobody in without one", async () => {
    await expect(running.client()).rejects.toThrow(/[Nn]ot authorized|[Bb]ad user/);
    await expect(client(SITE.id, "")).rejects.toThrow(/[Nn]ot authorized|[Bb]ad user/);
    await expect(client(SITE.id, `${HOUSE}.`)).rejects.toThrow(/[Nn]ot authorized|[Bb]ad user/);
    await expect(client(`${SITE.id}/${NODE.id}`, randomBytes(32).toString("base64url"))).rejects.toThrow();
  });

  it("gives every site a join secret of its own, which a new one ends", async () => {
    const before = valueOf(running.app.desk.joinSecret(SITE.id)).joinSecret;
    expect(before).toMatch(/^([a-z2-9]{5}-){3}[a-z2-9]{5}$/);
    const after = valueOf(running.app.desk.renewJoinSecret(SITE.id)).joinSecret;
    expect(after).not.toBe(before);
    await expect(client(SITE.id, before)).rejects.toThrow();
    await client(SITE.id, after);
  });

  it("holds the readings of a node that knocks, never judges them, and reads them when a person lets it in", async () => {
    const node = await joining();
    const t = Math.round(running.nowMs()) - 60_000;
    expect(await fate(node, topic("senml", "north"), pack(t, {}, "north"))).toBe("closed");
    const again = await joining();
    expect(await fate(again, topic("knock", "north"), knock)).toBe("acknowledged");
    expect(await fate(again, topic("senml", "north"), pack(t, { slab: 10.5 }, "north"))).toBe("acknowledged");
    expect(waiting("north")).toMatchObject({ what: knock.what, state: "waiting", held: 1, known: false, times: 1 });
    expect(counter(running, "readingsStored")).toBe(0);
    await until(() => quarantined("north").includes("not let in yet"));

    const { desk } = running.app;
    const admit = { ...RECORD, fingerprint: keyOf("another").slice(0, 16) };
    expect(await desk.admitKnock(SITE.id, "north", admit)).toMatchObject({ ok: false, refusal: "conflict" });
    const fingerprint = waiting("north")?.fingerprint ?? null;
    expect(fingerprint).toBe(keyOf(secret).slice(0, 16));
    valueOf(await desk.admitKnock(SITE.id, "north", { ...RECORD, fingerprint }));
    expect(counter(running, "readingsStored")).toBe(3);
    expect(waiting("north")).toBeUndefined();

    const own = await client(`${SITE.id}/north`, secret);
    expect(await fate(own, topic("senml", "north"), pack(t + 60_000, {}, "north"))).toBe("acknowledged");
    expect(counter(running, "readingsStored")).toBe(6);
    // With the join secret alone it is nobody any more.
    expect(await fate(await joining(), topic("senml", "north"), pack(t + 120_000, {}, "north"))).toBe("closed");
  });

  it("does not give a waiting name to another device", async () => {
    const [one, other] = [await joining(), await joining()];
    await fate(one, topic("knock", "south"), knock);
    await fate(other, topic("knock", "south"), { ...knock, key: keyOf("forger") });
    expect(waiting("south")).toMatchObject({ fingerprint: keyOf(secret).slice(0, 16), others: 1 });
    valueOf(running.app.desk.refuseKnock(SITE.id, "south"));
    expect(waiting("south")).toMatchObject({ state: "refused" });
    // After a no the other one may ask.
    await fate(other, topic("knock", "south"), { ...knock, key: keyOf("forger") });
    expect(waiting("south")).toMatchObject({ state: "waiting", fingerprint: keyOf("forger").slice(0, 16) });
  });

  it("takes ten knocks from one address and not an eleventh", async () => {
    const many = await joining();
    for (let index = 0; index < 12; index += 1) await fate(many, topic("knock", `crowd-${index}`), knock);
    const crowd = valueOf(running.app.desk.knocks(SITE.id)).filter(({ state }) => state === "waiting");
    expect(crowd).toHaveLength(10);
    await until(() => quarantined("(others)").includes("too many knocks"));
  });

  it.each([
    ["readings of another node", topic("senml", NODE.id), pack(0)],
    ["presence of another node", topic("presence", "yard"), "online"],
    ["another site", topic("senml", "north", "elsewhere"), pack(0)],
    ["a call", topicOf({ kind: "call", site: SITE.id, zone: ZONE.id }), { call: "pour" }],
    ["an alarm", topicOf({ kind: "alarm", site: SITE.id }), { text: "all clear" }],
    ["a topic that no recipe reads", "anything/else", {}],
  ])("closes on a node that writes %s, and counts it for that node", async (_, name, body) => {
    const before = troubleOf(running, "north").count;
    expect(await fate(await client(`${SITE.id}/north`, secret), name, body)).toBe("closed");
    expect(troubleOf(running, "north").count).toBe(before + 1);
  });

  it("lets a node read nothing", async () => {
    const node = await client(`${SITE.id}/north`, secret);
    for (const filter of [topic("senml", "north"), topicOf({ kind: "alarm", site: SITE.id }), "#"])
      await expect(node.subscribeAsync(filter, { qos: 1 })).rejects.toThrow();
  });

  it("ends the connections of a password that was renewed", async () => {
    const old = await client(`${SITE.id}/north`, secret);
    const gone = new Promise<void>((resolve) => old.once("close", () => resolve()));
    const made = valueOf(await running.app.desk.makeCredentials(SITE.id, "north"));
    await gone;
    await expect(client(`${SITE.id}/north`, secret)).rejects.toThrow();
    const own = await client(made.username, made.password);
    expect(await fate(own, topic("presence", "north"), "online")).toBe("acknowledged");
    valueOf(await running.app.desk.dropCredentials(SITE.id, "north"));
    await expect(client(made.username, made.password)).rejects.toThrow();
  });

  it("cuts a packet off that is too large, before it has come", async () => {
    const { password, username } = valueOf(await running.app.desk.makeCredentials(SITE.id, "north"));
    const big = await client(username, password);
    const gone = new Promise((resolve) => big.once("close", () => resolve("closed")));
    big.publish(topic("senml", "north"), Buffer.alloc(400_000, 32), { qos: 1 }, () => undefined);
    expect(await gone).toBe("closed");
    expect(troubleOf(running, "north").reason).toBe("cut off: a packet that is too large");
    // A stranger may send no more than a CONNECT.
    const { port } = new URL(running.mqttUrl);
    const stranger = connectSocket(Number(port), "127.0.0.1");
    const cut = new Promise((resolve) => stranger.once("close", resolve).on("error", () => undefined));
    stranger.write(Buffer.from([0x10, 0xff, 0xff, 0xff, 0x7f, 0, 4]));
    await cut;
  });

  it("slows a flood, and nobody but its sender", async () => {
    const made = valueOf(await running.app.desk.makeCredentials(SITE.id, "north"));
    const flood = await client(made.username, made.password);
    const calm = await client(
      `${SITE.id}/yard`,
      valueOf(await running.app.desk.makeCredentials(SITE.id, "yard")).password,
    );
    let answered = 0;
    const at = Math.round(running.nowMs());
    for (let index = 0; index < 1500; index += 1)
      flood.publish(
        topic("senml", "north"),
        JSON.stringify(pack(at - index * 1000, {}, "north")),
        { qos: 1 },
        () => (answered += 1),
      );
    await until(() => troubleOf(running, "north").reason === "slowed: too many messages at once");
    expect(await fate(calm, topic("presence", "yard"), "online")).toBe("acknowledged");
    // The calm one did not wait for the flood to drain: what was let through at once, and what has dripped since, are answered;
    // the rest still waits at its sender.
    expect(answered).toBeLessThan(1400);
    expect(answered).toBeGreaterThan(500);
  });
});

it("on this machine without secrets leaves all open, but not what has a password", async () => {
  const running = await runApp();
  const t = Math.round(running.nowMs()) - 1000;
  const open = await running.client();
  expect(await fate(open, topic("senml", NODE.id), pack(t))).toBe("acknowledged");
  const made = valueOf(await running.app.desk.makeCredentials(SITE.id, NODE.id));
  expect(await fate(open, topic("senml", NODE.id), pack(t + 1))).toBe("closed");
  const own = await running.client({ username: made.username, password: made.password });
  expect(await fate(own, topic("senml", NODE.id), pack(t + 2))).toBe("acknowledged");
  expect(counter(running, "readingsStored")).toBe(6);
  await running.end();
});

describe("a broker with a certificate", () => {
  const dir = mkdtempSync(join(tmpdir(), "nightslab-tls-"));
  const file = (name: string) => join(dir, name);
  const openssl = (...args: string[]) => execFileSync("openssl", args, { cwd: dir, stdio: "pipe" });
  beforeAll(() => {
    const key = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"];
    openssl("req", "-x509", ...key, "-keyout", "ca.key", "-out", "ca.pem", "-days", "2", "-subj", "/CN=Test authority");
    openssl("req", ...key, "-keyout", "broker.key", "-out", "broker.csr", "-subj", "/CN=localhost");
    execFileSync("sh", ["-c", 'echo "subjectAltName=IP:127.0.0.1" > ext.txt'], { cwd: dir });
    openssl(
      "x509",
      "-req",
      "-in",
      "broker.csr",
      "-CA",
      "ca.pem",
      "-CAkey",
      "ca.key",
      "-CAcreateserial",
      "-days",
      "2",
      "-extfile",
      "ext.txt",
      "-out",
      "broker.pem",
    );
  });
  afterAll(() => rmSync(dir, { recursive: true, force: true }));

  it("speaks TLS with whoever trusts its authority, and with nobody else", async () => {
    const running = await runApp({ settings: { mqttTlsCert: file("broker.pem"), mqttTlsKey: file("broker.key") } });
    expect(running.mqttUrl).toMatch(/^mqtts:/);
    const node = await running.client({ ca: readFileSync(file("ca.pem")) });
    expect(await fate(node, topic("senml", NODE.id), pack(running.nowMs() - 1000))).toBe("acknowledged");
    await expect(running.client({})).rejects.toThrow(/certificate/);
    await running.end();
  });

  it("says which setting is wrong", async () => {
    await expect(
      runApp({ settings: { mqttTlsCert: file("none.pem"), mqttTlsKey: file("broker.key") } }),
    ).rejects.toThrow(/mqttTlsCert/);
  });
});
