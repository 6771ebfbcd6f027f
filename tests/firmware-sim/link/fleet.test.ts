// A fleet of nodes on a real broker: what arrives is what the nodes said, through loss, outage and a pulled plug.
import { connectAsync, type MqttClient } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readingFromRecord } from "#contract/reading.ts";
import { resolveSenml } from "#contract/senml.ts";
import { nodeFilters, topicFrom } from "#contract/topics.ts";
import { type Clock, jumpingClock, pacedClock } from "../../../firmware-sim/clock.ts";
import { Fleet } from "../../../firmware-sim/fleet.ts";
import { type LinkFaults, NO_FAULTS } from "../../../firmware-sim/link/faults.ts";
import { readingsUntil } from "../../../firmware-sim/scenario/play.ts";
import { heronReach } from "../../../firmware-sim/scenario/heron-reach/demo-night.ts";
import { type RunningMosquitto, startMosquitto } from "../../support/mosquitto.ts";

const OPENED = Date.UTC(2026, 0, 20, 23);
const H = 3_600_000;
const never = new AbortController().signal;

let broker: RunningMosquitto;
beforeAll(async () => {
  broker = await startMosquitto();
});
afterAll(() => broker.stop());

interface Heard {
  readonly client: MqttClient;
  readonly values: Map<string, number>;
  readonly presence: Map<string, string>;
  conflicts: number;
  packs: number;
}

async function listen(site: string): Promise<Heard> {
  const client = await connectAsync(broker.url, { protocolVersion: 4 });
  const heard: Heard = { client, values: new Map(), presence: new Map(), conflicts: 0, packs: 0 };
  client.on("message", (name, payload) => {
    const topic = topicFrom(name);
    if (topic?.kind === "presence") heard.presence.set(topic.node, payload.toString());
    if (topic?.kind !== "senml") return;
    heard.packs += 1;
    const resolved = resolveSenml(JSON.parse(payload.toString()), 0);
    if (!resolved.ok) throw new Error(JSON.stringify(resolved.faults));
    for (const record of resolved.value) {
      const reading = readingFromRecord(record);
      if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
      const { node, quantity, atMs, value } = reading.value;
      const key = `${node}/${quantity}@${atMs}`;
      if (node !== topic.node || (heard.values.get(key) ?? value) !== value) heard.conflicts += 1;
      heard.values.set(key, value);
    }
  });
  await client.subscribeAsync([...nodeFilters(site)], { qos: 1 });
  return heard;
}

async function until(what: string, holds: () => boolean): Promise<void> {
  for (let i = 0; i < 200; i++) {
    if (holds()) return;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  throw new Error(`waited in vain until ${what}`);
}

function fleetOf(site: string, faults: LinkFaults = NO_FAULTS, backfillH = 54, clock: Clock = jumpingClock(OPENED)) {
  const made = heronReach(OPENED, 2);
  const scenario = { ...made, site: { ...made.site, id: site } };
  const fleet = new Fleet(scenario, {
    site,
    broker: { url: broker.url },
    faults,
    seed: 2,
    clock,
    say: () => undefined,
  });
  fleet.rememberUntil(OPENED, OPENED - backfillH * H);
  return { scenario, fleet };
}

const expected = (scenario: ReturnType<typeof heronReach>, toMs: number, fromMs = 0) =>
  new Map(
    readingsUntil(scenario, toMs)
      .filter((reading) => reading.atMs >= fromMs)
      .map((reading) => [`${reading.node}/${reading.quantity}@${reading.atMs}`, reading.value]),
  );

describe("fleet", () => {
  it("brings 54 hours of past as late packets, every reading, each once in value", async () => {
    const heard = await listen("s-past");
    const { scenario, fleet } = fleetOf("s-past");
    expect(await fleet.connect(never, 20_000)).toBe(true);
    const all = expected(scenario, OPENED);
    await until("all is heard", () => heard.values.size >= all.size);
    expect(new Map([...heard.values].sort())).toEqual(new Map([...all].sort()));
    expect(heard.conflicts).toBe(0);
    await fleet.stop();
    await heard.client.endAsync();
  });

  it("announces nodes, and a silent one is offline by its last will", async () => {
    const heard = await listen("s-will");
    const { fleet } = fleetOf("s-will", NO_FAULTS, 1);
    await fleet.connect(never, 20_000);
    await until("the will is out", () => heard.presence.get("oars-1") === "offline");
    expect(heard.presence.get("bay-1")).toBe("online");
    await fleet.stop();
    await until("all have left", () => [...heard.presence.values()].every((state) => state === "offline"));
    await heard.client.endAsync();
  });

  it("heals a lossy, repeating link: two packs in ten lost, no reading lost but the last few", async () => {
    const heard = await listen("s-lossy");
    // A round in every 60 ms of real time, so that packs stay as small as they are on a site.
    const faults = { ...NO_FAULTS, drop: 0.2, repeat: 0.2 };
    const { scenario, fleet } = fleetOf("s-lossy", faults, 0.1, pacedClock(OPENED, 5000));
    await fleet.connect(never, 20_000);
    await fleet.live(never, OPENED + 4 * H);
    await until("the buffers are empty", () => fleet.waiting() === 0);
    const all = expected(scenario, OPENED + 3.5 * H, OPENED + 900_000);
    // Four in a row lost take a round away: 0.2^4 a round and node, about one in six hundred.
    const missing = () => [...all.keys()].filter((key) => !heard.values.has(key)).length / all.size;
    await until("all but the unlucky is heard", () => missing() < 0.01);
    expect(heard.conflicts).toBe(0);
    await fleet.stop();
    await heard.client.endAsync();
  });

  it("sends what it kept after the broker was away", async () => {
    const heard = await listen("s-away");
    const { scenario, fleet } = fleetOf("s-away", NO_FAULTS, 0.1);
    await fleet.connect(never, 20_000);
    await heard.client.endAsync();
    await broker.halt("ask");
    await until("the nodes know", () => fleet.nodes.every((node) => !node.isConnected()));
    await fleet.live(never, OPENED + 3 * H);
    expect(fleet.waiting()).toBeGreaterThan(150);
    await broker.restart("ask");
    const again = await listen("s-away");
    expect(await fleet.connect(never, 20_000)).toBe(true);
    const all = expected(scenario, OPENED + 3 * H, OPENED + 60_000);
    await until("all is heard", () => [...all.keys()].every((key) => again.values.has(key)));
    await fleet.stop();
    await again.client.endAsync();
  });
});
