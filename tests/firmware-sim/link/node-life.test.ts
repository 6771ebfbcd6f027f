// Cheap nodes on the real server: knocking, loss of power, no time, cold cells, lost network; nothing is dated by guessing.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { jumpingClock } from "../../../firmware-sim/clock.ts";
import { Building } from "../../../firmware-sim/building/building.ts";
import { hourlyWeather } from "../../../firmware-sim/building/weather.ts";
import { NO_FAULTS } from "../../../firmware-sim/link/faults.ts";
import { joinSite, newFlash } from "../../../firmware-sim/link/join.ts";
import { type BrokerAt, MqttNode } from "../../../firmware-sim/link/mqtt-node.ts";
import { Firmware } from "../../../firmware-sim/node/firmware.ts";
import type { NodeFault } from "../../../firmware-sim/node/spec.ts";
import { shed, shedNode } from "../../../firmware-sim/scenario/shed.ts";
import { runApp, type RunningApp, until, valueOf } from "../../support/running-app.ts";
import { SHEET, SITE, ZONE } from "../../support/small-site.ts";

const NOW = Date.UTC(2026, 1, 3, 12);
const T0 = NOW - 24 * 3_600_000;
const H = 3_600_000;
const never = new AbortController().signal;
let running: RunningApp;
const shedZone = shedNode(300).body.zone ?? "";

beforeAll(async () => {
  running = await runApp({ settings: { joinSecret: "tide-over-gravel" }, atMs: NOW, empty: true });
  valueOf(await running.app.desk.addSite(SITE));
  valueOf(await running.app.desk.putSheet(SHEET));
  valueOf(await running.app.desk.putZone(SITE.id, { ...ZONE, id: shedZone }, "add"));
});
afterAll(() => running.end());

function firmwareOf(id: string, faults: readonly NodeFault[], hours: number, airC = 3): Firmware {
  const weather = hourlyWeather([{ atMs: T0, airC, dewPointC: airC - 3, windMPerS: 2, sunWPerM2: 0, cloud: 1 }]);
  const building = new Building(
    shed({ floor: "on-grade", shell: "tight", heat: null, startC: airC + 2 }, 0, T0),
    weather,
    T0,
  );
  const made = shedNode(300, faults);
  const firmware = new Firmware({ ...made, drift: 30, body: { ...made.body, id } }, 4, T0);
  for (let atMs = firmware.nextSampleMs(T0); atMs <= T0 + hours * H; atMs = firmware.nextSampleMs(atMs + 1)) {
    building.advanceTo(atMs);
    firmware.keepTime(atMs);
    firmware.sample(atMs, building);
  }
  return firmware;
}

/** Adds the node with a password, and sends all that waits. */
async function sendAll(firmware: Firmware): Promise<MqttNode> {
  const { body } = firmware.node;
  valueOf(await running.app.desk.putNode(SITE.id, body, "add"));
  const { username, password } = valueOf(await running.app.desk.makeCredentials(SITE.id, body.id));
  return connectAll(firmware, { url: running.mqttUrl, username, password });
}
async function connectAll(firmware: Firmware, broker: BrokerAt, faults = NO_FAULTS): Promise<MqttNode> {
  const node = new MqttNode(firmware, {
    site: SITE.id,
    broker,
    faults,
    seed: 4,
    clock: jumpingClock(NOW),
    say: () => undefined,
  });
  node.start();
  await until(() => node.isConnected());
  await node.flush();
  return node;
}
const slabTimes = async (node: string) => {
  const from = T0 - H;
  const { series } = valueOf(await running.app.desk.series(SITE.id, shedZone, from, NOW, 300));
  const stepMs = (NOW - from) / 300;
  return (series[`${node}/slab`] ?? []).flatMap(({ mean }, index) =>
    mean === null ? [] : [(from + index * stepMs - T0) / H],
  );
};
const sensor = (node: string) => valueOf(running.app.desk.sensors(SITE.id)).sensors.find((one) => one.node.id === node);
const lines = (node: string) =>
  valueOf(running.app.desk.sensors(SITE.id)).quarantine.filter((line) => line.node === node);

describe("a node on the real server", () => {
  it("draws its own secret, knocks, is let in by a person, and sends with its own password", async () => {
    const firmware = firmwareOf("fresh-1", [], 2);
    const { joinSecret } = valueOf(running.app.desk.joinSecret(SITE.id));
    const joined = joinSite(firmware.node, { url: running.mqttUrl, site: SITE.id, joinSecret }, newFlash(), 200, never);
    const knock = () => valueOf(running.app.desk.knocks(SITE.id)).find(({ node }) => node === "fresh-1");
    await until(() => knock() !== undefined);
    const { id: _, ...record } = firmware.node.body;
    valueOf(
      await running.app.desk.admitKnock(SITE.id, "fresh-1", { ...record, fingerprint: knock()?.fingerprint ?? null }),
    );
    const own = await joined;
    if (own === null) throw new Error("not let in");
    expect(own.username).toBe(`${SITE.id}/fresh-1`);
    const node = await connectAll(firmware, own);
    expect(firmware.buffer.count()).toBe(0);
    expect((await slabTimes("fresh-1")).at(-1)).toBeCloseTo(2, 0);
    expect(sensor("fresh-1")).toMatchObject({ presence: "online", doubts: [] });
    node.cut();
    await until(() => sensor("fresh-1")?.presence === "offline");
  });

  it("dates what it measured before it knew the time by the counter of the same start", async () => {
    const firmware = firmwareOf("late-clock", [{ kind: "no-time", fromMs: T0, toMs: T0 + 3 * H }], 5);
    await (await sendAll(firmware)).stop();
    expect((await slabTimes("late-clock"))[0]).toBeCloseTo(0, 0);
    expect(lines("late-clock")).toEqual([]);
  });

  it("sends what a start that never learnt the time has measured without one, and the server dates none of it", async () => {
    const faults: NodeFault[] = [
      { kind: "no-time", fromMs: T0 + 2 * H - 1, toMs: T0 + 6 * H },
      { kind: "brown-out", fromMs: T0 + 2 * H, toMs: T0 + 2 * H + 60_000 },
      { kind: "brown-out", fromMs: T0 + 5 * H, toMs: T0 + 5 * H + 60_000 },
    ];
    const firmware = firmwareOf("twice-down", faults, 8);
    await (await sendAll(firmware)).stop();
    expect(firmware.buffer.count()).toBe(0);
    const hours = await slabTimes("twice-down");
    // Up to the first brown-out, then from the second on, which lies before the time was told again: never in between.
    expect(hours.some((hour) => hour < 1.9)).toBe(true);
    expect(hours.some((hour) => hour > 2.2 && hour < 4.9)).toBe(false);
    expect(hours.some((hour) => hour > 5.1 && hour < 5.9)).toBe(true);
    const [line] = lines("twice-down");
    expect(line).toMatchObject({ reason: "time unknown" });
    expect(line?.field).toMatch(/^start 2, \d+ to \d+ s after it: \d+ readings$/);
  });

  it("fails in the cold with an old cell, says so beforehand, and comes back", async () => {
    const firmware = firmwareOf("cold-cell", [{ kind: "weak-battery", fromMs: T0, toMs: NOW }], 3, -3);
    await (await sendAll(firmware)).stop();
    expect(sensor("cold-cell")?.warnings.map(({ kind }) => kind)).toContain("battery-cold");
    const dead = firmwareOf("frozen-cell", [{ kind: "weak-battery", fromMs: T0, toMs: T0 + 3 * H }], 5, -12);
    const held = dead.buffer.count();
    expect(held).toBeGreaterThan(20);
    expect(held).toBeLessThan(5 * 12 - 20);
  });

  it("keeps a day without network and brings it in order; a link that repeats changes nothing", async () => {
    const firmware = firmwareOf("far-off", [{ kind: "no-network", fromMs: T0 + H, toMs: T0 + 22 * H }], 23);
    const { body } = firmware.node;
    valueOf(await running.app.desk.putNode(SITE.id, body, "add"));
    const { username, password } = valueOf(await running.app.desk.makeCredentials(SITE.id, body.id));
    const node = await connectAll(firmware, { url: running.mqttUrl, username, password }, { ...NO_FAULTS, repeat: 1 });
    expect(firmware.buffer.lost).toBe(0);
    expect(lines("far-off")).toEqual([]);
    const hours = await slabTimes("far-off");
    expect(hours.length).toBeGreaterThan(270);
    await node.stop();
  });
});
