// Packets through the built-in broker, as nodes send them: kept, repeated, late, ahead, kept by the broker, and nonsense.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { topicOf } from "#contract/topics.ts";
import { counter, runApp, type RunningApp, troubleOf, until, valueOf } from "../support/running-app.ts";
import { NODE, pack, SITE } from "../support/small-site.ts";

const HOUR = 3_600_000;
const senml = (node: string, site = SITE.id) => topicOf({ kind: "senml", site, node });

describe("the built-in broker", () => {
  let running: RunningApp;
  beforeAll(async () => {
    running = await runApp();
  });
  afterAll(() => running.end());

  const slabs = async (fromMs: number, toMs: number) =>
    valueOf(await running.app.desk.series(SITE.id, "bay", fromMs, toMs, 500)).series[`${NODE.id}/slab`]?.flatMap(
      ({ mean }) => mean ?? [],
    ) ?? [];
  /** What a packet did to the counters, and what it says on the sensors page. */
  const sent = async (
    body: unknown,
    options: { topic?: string; retain?: boolean; raw?: boolean; node?: string } = {},
  ) => {
    const { node = NODE.id, ...rest } = options;
    const before = {
      stored: counter(running, "readingsStored"),
      same: counter(running, "readingsSame"),
      count: troubleOf(running, node).count,
    };
    await running.send(body, { topic: senml(node), ...rest });
    const { count, reason } = troubleOf(running, node);
    return {
      stored: counter(running, "readingsStored") - before.stored,
      same: counter(running, "readingsSame") - before.same,
      refused: count - before.count,
      reason: count > before.count ? reason : null,
    };
  };
  const clean = { same: 0, refused: 0, reason: null };

  it("stores a packet before it acknowledges, and judges its zone", async () => {
    const atMs = running.nowMs() - 1000;
    expect(await sent(pack(atMs, { slab: 12.5 }))).toEqual({ ...clean, stored: 3 });
    await until(() => valueOf(running.app.desk.board(SITE.id)).zones[0]?.call.conditions.slabColdC === 12.5);
    const [zone] = valueOf(running.app.desk.board(SITE.id)).zones;
    expect(zone?.call).toMatchObject({ call: "pour", limiting: null });
    expect(Date.parse(zone?.lastHeard ?? "")).toBe(Math.round(atMs));
    expect(counter(running, "lagP99Ms")).toBeGreaterThan(0);
  });

  it("changes nothing when a packet comes twice, and heals a lost one from a repeat", async () => {
    const t = Math.round(running.nowMs()) - 10 * 60_000;
    const round = (atMs: number, slab: number) => pack(atMs, { slab });
    expect(await sent(round(t, 11))).toEqual({ ...clean, stored: 3 });
    expect(await sent(round(t, 11))).toEqual({ ...clean, stored: 0, same: 3 });
    expect(await sent([...round(t, 11), ...round(t + 60_000, 11.25)])).toEqual({ ...clean, stored: 3, same: 3 });
  });

  it("lets the first of two values of one time stand and shows the other one", async () => {
    const t = Math.round(running.nowMs()) - 20 * 60_000;
    await sent(pack(t, { slab: 9.5 }));
    expect(await sent(pack(t, { slab: 19.5 }))).toEqual({
      stored: 0,
      same: 2,
      refused: 1,
      reason: "another value stands for this time",
    });
    expect(await slabs(t, t + 1000)).toEqual([9.5]);
  });

  it("takes a packet that is three days late, in its place", async () => {
    const t = Math.round(running.nowMs()) - 70 * HOUR;
    expect(await sent(pack(t, { slab: 7.75 }))).toEqual({ ...clean, stored: 3 });
    expect(await slabs(t - 1000, t + 1000)).toEqual([7.75]);
  });

  it.each([
    ["ahead of the clock by more than two minutes", 3 * 60_000, "clock"],
    ["older than five weeks", -36 * 24 * HOUR, "too old"],
    ["from before any clock was set", -26 * 365 * 24 * HOUR, "clock"],
  ])("refuses a time %s", async (_, offMs, reason) => {
    expect(await sent(pack(running.nowMs() + offMs))).toEqual({ stored: 0, same: 0, refused: 3, reason });
  });

  it("takes a time that is ahead by less", async () => {
    expect(await sent(pack(Math.round(running.nowMs()) + 90_000))).toEqual({ ...clean, stored: 3 });
  });

  it("takes times relative to now, but not from a packet that the broker keeps", async () => {
    const relative = (t: number) => [{ bn: `${NODE.id}/`, bu: "Cel", n: "slab", t, v: 12 }];
    expect(await sent(relative(-5))).toEqual({ ...clean, stored: 1 });
    expect(await sent(relative(-6), { retain: true })).toEqual({
      stored: 0,
      same: 0,
      refused: 1,
      reason: "relative time in a message that was kept or sent again",
    });
  });

  it("puts a kept packet with its own time where it belongs, and gives it to nobody", async () => {
    const t = Math.round(running.nowMs()) - 5 * HOUR;
    expect(await sent(pack(t, { slab: 8.25 }), { retain: true })).toEqual({ ...clean, stored: 3 });
    expect(await slabs(t - 1000, t + 1000)).toEqual([8.25]);
  });

  it.each([
    ["not JSON", "{slab: 12}", "not JSON"],
    ["no text at all", "\u0000\u0001", "not JSON"],
    ["an object", '{"slab":12}', "not SenML"],
    ["an empty pack", "[]", "not SenML"],
    ["a later version", '[{"bver":11,"n":"bay-1/slab","u":"Cel","v":1}]', "not SenML"],
    ["a label that must be understood", '[{"n":"bay-1/slab","u":"Cel","v":1,"x_":2}]', "not SenML"],
    ["an unknown quantity", '[{"n":"bay-1/mood","u":"Cel","v":1}]', "not a reading"],
    ["another unit", '[{"n":"bay-1/slab","u":"F","v":51}]', "not a reading"],
    ["a name of another node", '[{"n":"yard/slab","u":"Cel","v":11}]', "name of another node"],
    ["a slab at 400 degrees", '[{"n":"bay-1/slab","u":"Cel","v":400}]', "impossible value"],
    ["air as wet as 140 %", '[{"n":"bay-1/rh","u":"%RH","v":140}]', "impossible value"],
  ])("refuses %s and says why", async (_, body, reason) => {
    expect(await sent(body, { raw: true })).toEqual({ stored: 0, same: 0, refused: 1, reason });
  });

  it("keeps the good readings of a packet with a bad one", async () => {
    const t = Math.round(running.nowMs()) - 7 * 60_000;
    const body = [...pack(t), { n: "battery", u: "%EL", v: 250 }, { n: "rssi", u: "dBm", v: -71 }];
    expect(await sent(body)).toEqual({ stored: 4, same: 0, refused: 1, reason: "impossible value" });
  });

  it("keeps the exact error codes of one-wire probes for the trust in sensors", async () => {
    const t = Math.round(running.nowMs()) - 8 * 60_000;
    expect(
      await sent([
        { bn: `${NODE.id}/`, bt: t / 1000, bu: "Cel", n: "slab", v: 85 },
        { n: "slab", t: 1, v: -127 },
      ]),
    ).toEqual({ ...clean, stored: 2 });
  });

  it("refuses more than 64 KiB", async () => {
    const long = [...pack(running.nowMs()), { n: "x".repeat(66_000), v: 1 }];
    expect(await sent(long)).toEqual({ stored: 0, same: 0, refused: 1, reason: "too large" });
  });

  it("counts what comes from a node or a site that nobody knows, and goes on", async () => {
    const before = counter(running, "quarantined.unknown node");
    await running.send(pack(running.nowMs(), {}, "bay-9"), { topic: senml("bay-9") });
    await running.send(pack(running.nowMs()), { topic: senml(NODE.id, "pier") });
    expect(counter(running, "quarantined.unknown node")).toBe(before + 1);
    expect(counter(running, "quarantined.unknown site")).toBe(1);
    expect(await sent(pack(Math.round(running.nowMs()) - 500))).toMatchObject({ stored: 3 });
  });

  it.each([
    ["nightslab/v1/dock/node/bay-1/telemetry"],
    ["homes/7/temperature"],
    ["nightslab/v1/dock/zone/bay/call"],
    ["nightslab/v1/dock/alarm"],
  ])("acknowledges and drops what is sent to %s", async (topic) => {
    const before = counter(running, "quarantined.wrong topic");
    const listener = await running.client();
    const heard: string[] = [];
    listener.on("message", (_, payload) => heard.push(payload.toString()));
    await listener.subscribeAsync(["nightslab/v1/+/zone/+/call", "nightslab/v1/+/alarm"], { qos: 1 });
    await running.send("forged", { topic, retain: true, raw: true });
    await running.send(pack(Math.round(running.nowMs()) - 400));
    expect(counter(running, "quarantined.wrong topic")).toBe(before + 1);
    expect(heard).not.toContain("forged");
    await listener.endAsync();
  });

  it("remembers battery in percent, not in volts", async () => {
    const t = Math.round(running.nowMs()) - 100;
    await sent([{ n: `${NODE.id}/battery`, u: "V", t: t / 1000, v: 3.7 }]);
    const state = () => valueOf(running.app.desk.nodes(SITE.id)).find(({ node }) => node.id === NODE.id);
    expect(state()?.batteryPct).toBeNull();
    await sent([{ n: `${NODE.id}/battery`, u: "%EL", t: t / 1000, v: 64 }]);
    expect(state()?.batteryPct).toBe(64);
  });

  it("tells every subscriber the call, and keeps it for the next one", async () => {
    const early = await running.client();
    const heard: { call: string; slab: number }[] = [];
    const note = (payload: Buffer) => {
      const { call, conditions } = JSON.parse(payload.toString()) as {
        call: string;
        conditions: { slabColdC: number };
      };
      heard.push({ call, slab: conditions.slabColdC });
    };
    early.on("message", (_, payload) => note(payload));
    await early.subscribeAsync(topicOf({ kind: "call", site: SITE.id, zone: "bay" }), { qos: 1 });
    await until(() => heard.length > 0);
    running.moveClock(200_000);
    await sent(pack(Math.round(running.nowMs()), { slab: 4 }));
    await until(() => heard.at(-1)?.call === "wait" && heard.at(-1)?.slab === 4);
    const late = await running.client();
    const kept = new Promise<string>((resolve) =>
      late.once("message", (_, payload, packet) =>
        resolve(`${packet.retain} ${(JSON.parse(payload.toString()) as { limiting: string }).limiting}`),
      ),
    );
    await late.subscribeAsync(topicOf({ kind: "call", site: SITE.id, zone: "bay" }), { qos: 1 });
    expect(await kept).toBe("true slab-cold");
  });

  it("lets nobody listen to what nodes say", async () => {
    const curious = await running.client();
    const refused = await curious.subscribeAsync(["nightslab/v1/dock/node/+/senml", "#"], { qos: 1 }).then(
      () => null,
      (error: unknown) => error,
    );
    expect(refused).not.toBeNull();
  });
});

describe("a broker on this machine", () => {
  it("takes a user name at its word: each sends only as itself", async () => {
    const running = await runApp();
    const password = "none is asked for";
    const yard = await running.client({ username: "yard", password });
    const air = (node: string) =>
      JSON.stringify([{ n: `${node}/air`, u: "Cel", t: Math.round(running.nowMs()) / 1000, v: 3 }]);
    await yard.publishAsync(senml(NODE.id), air(NODE.id), { qos: 1 });
    expect(troubleOf(running, NODE.id).reason).toBe("topic of another node");
    await yard.publishAsync(senml("yard"), air("yard"), { qos: 1 });
    expect(counter(running, "readingsStored")).toBe(1);
    const gateway = await running.client({ username: "gateway", password });
    await gateway.publishAsync(senml(NODE.id), air(NODE.id), { qos: 1 });
    expect(counter(running, "readingsStored")).toBe(2);
    await running.end();
  });
});

describe("presence", () => {
  it("comes with the node and goes with its last will", async () => {
    const running = await runApp();
    const presence = topicOf({ kind: "presence", site: SITE.id, node: NODE.id });
    const of = () => valueOf(running.app.desk.nodes(SITE.id)).find(({ node }) => node.id === NODE.id)?.presence;
    expect(of()).toBe("unknown");
    const node = await running.client({
      will: { topic: presence, payload: Buffer.from("offline"), qos: 1, retain: true },
    });
    await node.publishAsync(presence, "online", { qos: 1, retain: true });
    expect(of()).toBe("online");
    node.stream.destroy();
    await until(() => of() === "offline");
    await running.send("perhaps", { topic: presence, raw: true });
    expect(troubleOf(running, NODE.id).reason).toBe("not a presence");
    await running.end();
  });
});
