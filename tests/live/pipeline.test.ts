// The flow from a packet to what people are told: judged at once, told when it changes, never green by accident.
import Libsql from "libsql";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import type { CallBody } from "#contract/call.ts";
import type { AlarmBody } from "#contract/alarm.ts";
import { topicOf } from "#contract/topics.ts";
import { fakeJudge } from "../support/fake-judge.ts";
import { type AppWishes, counter, runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, pack, SITE } from "../support/small-site.ts";

const open: RunningApp[] = [];
const run = async (wishes: AppWishes = {}) => {
  const running = await runApp(wishes);
  open.push(running);
  return running;
};
afterEach(async () => {
  for (const running of open.splice(0)) await running.end();
});
const bay = (running: RunningApp) => {
  const [zone] = valueOf(running.app.desk.board(SITE.id)).zones;
  if (zone === undefined) throw new Error("no zone");
  return zone;
};

interface Told {
  readonly event: string;
  readonly data: Record<string, unknown>;
}

/** Follows the stream of a site and keeps what it says. */
async function follow(running: RunningApp): Promise<{ readonly told: Told[]; end(): void }> {
  const stop = new AbortController();
  const answer = await fetch(`${running.httpUrl}/api/v1/sites/${SITE.id}/stream`, { signal: stop.signal });
  const told: Told[] = [];
  const read = async () => {
    let text = "";
    for await (const piece of answer.body ?? []) {
      text += Buffer.from(piece as Uint8Array).toString();
      const blocks = text.split("\n\n");
      text = blocks.pop() ?? "";
      for (const block of blocks) {
        const event = /^event: (.*)$/m.exec(block)?.[1];
        const data = /^data: (.*)$/m.exec(block)?.[1];
        if (event !== undefined && data !== undefined) told.push({ event, data: JSON.parse(data) as Told["data"] });
      }
    }
  };
  read().catch(() => undefined);
  await until(() => told.some(({ event }) => event === "snapshot"));
  return { told, end: () => stop.abort() };
}

describe("a call", () => {
  it("is told on the stream, at the broker and in the journal of calls when it changes, and only then", async () => {
    const running = await run();
    const { told, end } = await follow(running);
    const published: CallBody[] = [];
    const phone = await running.client();
    phone.on("message", (_, payload) => published.push(JSON.parse(payload.toString()) as CallBody));
    await phone.subscribeAsync(topicOf({ kind: "call", site: SITE.id, zone: "bay" }), { qos: 1 });
    await until(() => published.length === 1);

    for (const slab of [12, 12.5, 13, 9, 8.5]) {
      const judged = counter(running, "judged");
      running.moveClock(61_000);
      await running.send(pack(Math.round(running.nowMs()), { slab }));
      await until(() => counter(running, "judged") > judged);
    }
    await until(() => told.filter(({ event }) => event === "conditions").length >= 5);
    await until(() => published.length === 3);
    const calls = told
      .filter(({ event }) => event === "call")
      .map(({ data }) => `${String(data["call"])} ${String(data["limiting"])}`);
    expect(calls).toEqual(["pour null", "wait slab-cold"]);
    expect(published.map(({ call, limiting }) => `${call} ${limiting}`)).toEqual([
      "wait data-stale",
      "pour null",
      "wait slab-cold",
    ]);
    expect(told.filter(({ event }) => event === "zone").length).toBeGreaterThanOrEqual(3);
    await until(() => told.some(({ event }) => event === "node"));
    expect(
      bay(running)
        .past.filter(({ hindsight }) => !hindsight)
        .map(({ call }) => call),
    ).toEqual(["wait", "pour", "wait"]);
    end();
  });

  it("stands at the broker again after a restart, though it has not changed", async () => {
    const first = await run();
    await first.send(pack(Math.round(first.nowMs())));
    await until(() => bay(first).call.call === "pour");
    await first.stop();
    const second = await run({ data: first.data, empty: true, atMs: Math.round(first.nowMs()) + 60_000 });
    const phone = await second.client();
    const kept: CallBody[] = [];
    phone.on("message", (_, payload) => kept.push(JSON.parse(payload.toString()) as CallBody));
    await phone.subscribeAsync(topicOf({ kind: "call", site: SITE.id, zone: "bay" }), { qos: 1 });
    await until(() => kept.length > 0);
    expect(kept[0]).toMatchObject({ call: "pour", zone: "bay" });
    expect(counter(second, "callsChanged")).toBe(0);
    expect(
      valueOf(second.app.desk.board(SITE.id)).zones[0]?.past.map(({ call, hindsight }) => `${call} ${hindsight}`),
    ).toContain("pour false");
  });

  it("goes to wait when nothing is heard: silence is an input", async () => {
    const running = await run({ pace: 600 });
    await running.send(pack(Math.round(running.nowMs())));
    await until(() => bay(running).call.call === "pour");
    await until(() => bay(running).call.limiting === "data-stale", 20_000);
    expect(counter(running, "messages")).toBe(1);
  });

  it("does not stay green when a zone cannot be judged, and costs that zone only", async () => {
    const judge = fakeJudge();
    const running = await run({ judge });
    valueOf(
      await running.app.desk.putZone(
        SITE.id,
        { id: "ramp", name: "Ramp", areaM2: 12, pourM2PerH: 20, system: ["body-coat"], base: "porous" },
        "add",
      ),
    );
    valueOf(await running.app.desk.putNode(SITE.id, { ...NODE, id: "ramp-1", zone: "ramp" }, "add"));
    const rampTopic = topicOf({ kind: "senml", site: SITE.id, node: "ramp-1" });
    const zones = () =>
      valueOf(running.app.desk.board(SITE.id)).zones.map(
        ({ zone, call }) => `${zone.id} ${call.call} ${call.limiting}`,
      );
    const t = Math.round(running.nowMs());
    await running.send(pack(t));
    await running.send(pack(t, {}, "ramp-1"), { topic: rampTopic });
    await until(() => zones().join() === "bay pour null,ramp pour null");

    judge.broken.add("ramp");
    await running.send(pack(t + 1000));
    await running.send(pack(t + 1000, {}, "ramp-1"), { topic: rampTopic });
    await until(() => zones().join() === "bay pour null,ramp wait data-fault");
    const ramp = valueOf(running.app.desk.zonePage(SITE.id, "ramp")).call;
    expect(ramp.rules).toMatchObject([{ rule: "data-fault", outcome: "stop", detail: "judge-error" }]);
    const { state, parts } = running.app.desk.health();
    expect(state).toBe("degraded");
    expect(parts["judge"]?.detail).toContain("no idea of ramp");
    expect(counter(running, "judgeErrors")).toBeGreaterThan(0);

    judge.broken.clear();
    await running.send(pack(t + 2000, {}, "ramp-1"), { topic: rampTopic });
    await until(() => zones().join() === "bay pour null,ramp pour null");
  });

  it("that stops a pour is an alarm", async () => {
    const running = await run();
    const t = Math.round(running.nowMs());
    await running.send(pack(t));
    await until(() => bay(running).call.call === "pour");
    const { told, end } = await follow(running);
    const at = new Date(running.nowMs()).toISOString();
    valueOf(await running.app.desk.addEntry(SITE.id, { did: "pouring", at, zone: "bay", coat: 0 }, "Ida"));
    expect(bay(running).call.pouring).toBe(true);
    running.moveClock(2000);
    await running.send(pack(t + 1000, { slab: 8 }));
    const stops = () => told.filter(({ event, data }) => event === "alarm" && (data as AlarmBody).kind === "stop-pour");
    await until(() => stops().length > 0);
    expect(stops()[0]?.data).toMatchObject({
      zones: ["bay"],
      level: "wake",
      state: "open",
      facts: { measured: 8, limit: 10, unit: "Cel", about: "slab-cold" },
      history: [{ step: "raised" }],
    });
    end();
  });
});

describe("a store that does not answer", () => {
  it("gets no packet acknowledged and shows on the health page, until it answers again", async () => {
    const running = await run();
    const node = await running.client({ reconnectPeriod: 50 });
    const other = new Libsql(join(running.data, "nightslab.sqlite"));
    other.exec("BEGIN IMMEDIATE");
    const topic = topicOf({ kind: "senml", site: SITE.id, node: NODE.id });
    let acknowledged = false;
    node.publish(topic, JSON.stringify(pack(Math.round(running.nowMs()))), { qos: 1 }, (error) => {
      acknowledged = !error;
    });
    await until(() => running.app.desk.health().parts["store"]?.state === "down", 20_000);
    expect(acknowledged).toBe(false);
    const answer = await fetch(`${running.httpUrl}/api/v1/health`);
    expect(answer.status).toBe(503);
    other.exec("ROLLBACK");
    other.close();
    await until(() => acknowledged, 20_000);
    await until(() => running.app.desk.health().parts["store"]?.state === "up");
    expect(counter(running, "readingsStored")).toBe(3);
  });
});

const TWELVE = Array.from({ length: 12 }, (_, index) => ({
  ...{ id: `z${index}`, name: `Z ${index}`, areaM2: 5, pourM2PerH: 5, system: ["body-coat"], base: "porous" as const },
}));
const addTwelve = async ({ app }: RunningApp) => {
  for (const zone of TWELVE) valueOf(await app.desk.putZone(SITE.id, zone, "add"));
};
/** Turns of the loop that others had while something was waited for. */
async function turnsWhile(work: () => Promise<unknown>): Promise<number> {
  let turns = 0;
  let counting = true;
  const turn = () => {
    turns += 1;
    if (counting) setImmediate(turn);
  };
  setImmediate(turn);
  await work();
  counting = false;
  return turns;
}

describe("an app", () => {
  it("judges in slices: one zone a turn", async () => {
    const judge = fakeJudge();
    const running = await run({ judge });
    await addTwelve(running);
    judge.judged.length = 0;
    const turns = await turnsWhile(async () => valueOf(await running.app.desk.patchSite(SITE.id, { altitudeM: 7 })));
    expect(new Set(judge.judged.map(({ zone }) => zone)).size).toBe(13);
    expect(turns).toBeGreaterThanOrEqual(12);
  });

  it("that has just started lets others take their turn while the first board waits for its calls", async () => {
    const first = await run();
    await addTwelve(first);
    await first.stop();
    const judge = fakeJudge();
    const second = await run({ data: first.data, empty: true, atMs: Math.round(first.nowMs()) + 60_000, judge });
    const known = judge.judged.length;
    const turns = await turnsWhile(() => second.app.desk.judgedOnce(SITE.id));
    expect(new Set(judge.judged.map(({ zone }) => zone)).size).toBe(13);
    expect(turns).toBeGreaterThanOrEqual(12 - known);
    const board = await fetch(`${second.httpUrl}/api/v1/sites/${SITE.id}/board`);
    expect(((await board.json()) as { zones: unknown[] }).zones).toHaveLength(13);
  });

  it("answers metrics in the Prometheus text format", async () => {
    const running = await run();
    await running.send("{", { raw: true });
    await running.send(pack(Math.round(running.nowMs())));
    await until(() => bay(running).call.call === "pour");
    const text = await (await fetch(`${running.httpUrl}/api/v1/metrics`)).text();
    expect(text).toMatch(/^# TYPE nightslab_messages_total counter\nnightslab_messages_total 2$/m);
    expect(text).toMatch(/^nightslab_quarantined_total\{reason="not JSON"\} 1$/m);
    expect(text).toMatch(/^nightslab_part_up\{part="store"\} 1$/m);
    for (const line of text.trimEnd().split("\n"))
      expect(line).toMatch(/^(# TYPE \w+ (counter|gauge)|\w+(\{\w+="[^"]*"\})? -?[\d.]+(e-?\d+)?)$/);
  });
});
