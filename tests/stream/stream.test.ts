// Live updates over real connections: snapshot, numbers, coming back, slow listeners, beats, a full server, the end.
import { EventEmitter } from "node:events";
import type { ServerResponse } from "node:http";
import { setImmediate as nextTurn } from "node:timers/promises";
import type { FastifyInstance } from "fastify";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { readerOf } from "#contract/faults.ts";
import { STREAM_EVENTS } from "#contract/stream.ts";
import { buildHttp } from "../../server/http/server.ts";
import { createStream, type Stream } from "../../server/stream/stream.ts";
import { type EventStream, listenTo } from "../support/event-stream.ts";
import { fakeDesk } from "../support/fake-desk.ts";
import { sampleAlarm } from "../support/sample-alarms.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { at, SAMPLE_AT_MS, SAMPLE_JOURNAL } from "../support/sample-site.ts";

const MAX_CLIENTS = 3;
const ZONE = SAMPLE_BOARD.zones[0] as (typeof SAMPLE_BOARD.zones)[number];
let app: FastifyInstance;
let stream: Stream;
let url: string;
let beat: () => void;
const open: EventStream[] = [];
let warned: object[];

beforeEach(async () => {
  warned = [];
  stream = createStream({
    startId: "run-1",
    nowMs: () => SAMPLE_AT_MS,
    snapshot: (site) => (site === "boathouse" ? SAMPLE_BOARD : null),
    logger: { warn: (fields) => void warned.push(fields) },
    maxClients: MAX_CLIENTS,
    limits: { maxWaiting: 20, maxBlockedBeats: 2 },
    every: (_everyMs, callBack) => {
      beat = callBack;
      return () => {
        beat = () => expect.fail("a beat after the end");
      };
    },
  });
  app = await buildHttp({ desk: fakeDesk(), stream, logger: false, dashboardDir: null, startId: "run-1" });
  url = `${await app.listen({ host: "127.0.0.1", port: 0 })}/api/v1/sites/boathouse/stream`;
});
afterEach(async () => {
  for (const listener of open.splice(0)) listener.close();
  await app.close();
});

async function listen(lastEventId?: string, to = url): Promise<EventStream> {
  const listener = await listenTo(to, lastEventId);
  open.push(listener);
  return listener;
}
const call = (n: number) => stream.publish("boathouse", "call", "slip", { ...ZONE.call, ruleVersion: String(n) });
const conditions = (zone: string, ageS: number) =>
  stream.publish("boathouse", "conditions", zone, { zone, at: at(0), conditions: { ...ZONE.call.conditions, ageS } });
const count = (name: string, least: number) => (heard: EventStream["heard"]) =>
  heard.filter(({ event }) => event === name).length >= least;

it("begins with a snapshot, then tells every change under its number, each as its schema says", async () => {
  call(0);
  const listener = await listen();
  await listener.until(count("snapshot", 1));
  call(1);
  conditions("slip", 60);
  stream.publish("boathouse", "zone", "slip", ZONE);
  stream.publish("boathouse", "node", "slip-1", SAMPLE_BOARD.nodes[0] as (typeof SAMPLE_BOARD.nodes)[number]);
  stream.publish("boathouse", "journal", "slip", SAMPLE_JOURNAL[0] as (typeof SAMPLE_JOURNAL)[number]);
  stream.publish("boathouse", "alarm", "a1", sampleAlarm());
  const heard = await listener.until(count("alarm", 1));
  expect(heard.map(({ id, event }) => [id, event])).toEqual([
    ["run-1-1", "snapshot"],
    ["run-1-2", "call"],
    ["run-1-3", "conditions"],
    ["run-1-4", "zone"],
    ["run-1-5", "node"],
    ["run-1-6", "journal"],
    ["run-1-7", "alarm"],
  ]);
  for (const { event, data } of heard)
    expect(readerOf(STREAM_EVENTS[event as keyof typeof STREAM_EVENTS])(data), event).toMatchObject({ ok: true });
  expect(heard[0]?.data).toEqual(SAMPLE_BOARD);
});

it("is sent so that nothing on the way holds it back, and under the same guards as everything", async () => {
  const { status, headers } = await listen();
  expect(status).toBe(200);
  expect(headers).toMatchObject({
    "content-type": "text/event-stream; charset=utf-8",
    "cache-control": "no-store, no-transform",
    "x-accel-buffering": "no",
    "x-content-type-options": "nosniff",
  });
  expect(headers["content-encoding"]).toBeUndefined();
});

it("numbers each site for itself, and tells a site only its own", async () => {
  const listener = await listen();
  stream.publish("depot", "alarm", "x", sampleAlarm({ site: "depot", zones: [] }));
  call(1);
  const heard = await listener.until(count("call", 1));
  expect(heard.map(({ id }) => id)).toEqual(["run-1-0", "run-1-1"]);
});

describe("who comes back", () => {
  it("goes on where they left, without a snapshot", async () => {
    for (let n = 1; n <= 5; n += 1) call(n);
    const heard = await (await listen("run-1-3")).until(count("call", 2));
    expect(heard.map(({ id, event }) => [id, event])).toEqual([
      [null, "beat"],
      ["run-1-4", "call"],
      ["run-1-5", "call"],
    ]);
  });
  it("a board says up to where it is told: who has it hears what followed, and it is not sent a second time", async () => {
    const board = url.replace(/stream$/, "board");
    const upTo = async () => ((await (await fetch(board)).json()) as { upTo: string }).upTo;
    expect(await upTo()).toBe("run-1-0");
    const listener = await listen(await upTo());
    call(1);
    expect((await listener.until(count("call", 1))).map(({ id, event }) => [id, event])).toEqual([
      [null, "beat"],
      ["run-1-1", "call"],
    ]);
    expect(await upTo()).toBe("run-1-1");
  });
  it.each(["run-0-3", "run-1-9", "run-1-4"])(
    "begins with a snapshot if %s is of another run, unknown, or too long ago",
    async (id) => {
      if (id === "run-1-4") for (let n = 1; n <= 30; n += 1) call(n);
      const [first] = await (await listen(id)).until((heard) => heard.length > 0);
      expect(first?.event).toBe("snapshot");
    },
  );
});

describe("a slow listener", () => {
  /** Fills what the system buffers between the two, until the listener's line is really blocked. */
  async function block(listener: EventStream): Promise<void> {
    listener.pause();
    while (stream.stats().coalesced === 0) {
      stream.publish("boathouse", "zone", "slip", ZONE);
      await nextTurn();
    }
  }

  it("gets every call and entry, and of conditions and zones the latest, in order", async () => {
    const listener = await listen();
    await block(listener);
    for (let n = 1; n <= 5; n += 1) {
      call(n);
      conditions("slip", n);
      conditions("tools", n * 10);
      stream.publish("boathouse", "journal", "slip", {
        ...SAMPLE_JOURNAL[1],
        id: `j${n}`,
      } as (typeof SAMPLE_JOURNAL)[number]);
    }
    stream.publish("boathouse", "zone", "slip", { ...ZONE, marginLimitK: 4.5 });
    listener.resume();
    const heard = await listener.until((all) => all.some(({ data }) => (data as typeof ZONE).marginLimitK === 4.5));
    const of = (name: string) => heard.filter(({ event }) => event === name);
    expect(of("call").map(({ data }) => (data as typeof ZONE.call).ruleVersion)).toEqual(["1", "2", "3", "4", "5"]);
    expect(of("journal").map(({ data }) => (data as { id: string }).id)).toEqual(["j1", "j2", "j3", "j4", "j5"]);
    expect(
      of("conditions")
        .map(({ data }) => data as { zone: string; conditions: { ageS: number } })
        .map((body) => [body.zone, body.conditions.ageS]),
    ).toEqual([
      ["slip", 5],
      ["tools", 50],
    ]);
    const numbers = heard.map(({ id }) => Number(id?.split("-").at(-1)));
    expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
    expect(stream.stats()).toMatchObject({ clients: 1, givenUp: 0 });
  });

  it("does not hold the others up", async () => {
    const [slow, quick] = [await listen(), await listen()];
    await block(slow);
    call(1);
    await quick.until(count("call", 1));
    expect(slow.heard.some(({ event }) => event === "call")).toBe(false);
  });

  it("is cut off when too many calls wait for it, and begins anew with a snapshot", async () => {
    const listener = await listen();
    await block(listener);
    for (let n = 1; n <= 25; n += 1) call(n);
    expect(stream.stats().givenUp).toBe(1);
    expect(warned).toEqual([{ site: "boathouse" }]);
    listener.resume();
    await listener.ended;
    const last = listener.heard.findLast(({ id }) => id !== null)?.id ?? "";
    const [first] = await (await listen(last)).until((heard) => heard.length > 0);
    expect(first?.event).toBe("snapshot");
  });

  it("that takes nothing for some beats is cut off", async () => {
    const listener = await listen();
    await block(listener);
    for (let beats = 0; beats < 3; beats += 1) beat();
    expect(stream.stats().givenUp).toBe(1);
    listener.resume();
    await listener.ended;
  });
});

it("beats, so that silence is seen; a beat is no change and has no number", async () => {
  const listener = await listen();
  await listener.until(count("snapshot", 1));
  beat();
  beat();
  const heard = await listener.until(count("beat", 2));
  expect(heard.slice(1)).toEqual(Array.from({ length: 2 }, () => ({ id: null, event: "beat", data: { at: at(0) } })));
});

it("beats every fifteen seconds by the clock of the machine, until it is closed", () => {
  vi.useFakeTimers();
  const written: string[] = [];
  const raw = Object.assign(new EventEmitter(), {
    writeHead: () => raw,
    write: (text: string) => written.push(text) > 0,
    end: () => raw,
    destroyed: false,
  });
  const clocked = createStream({
    startId: "run-2",
    nowMs: () => SAMPLE_AT_MS,
    snapshot: () => SAMPLE_BOARD,
    logger: false,
  });
  expect(clocked.open("boathouse", null, raw as unknown as ServerResponse)).toBe("opened");
  const before = written.length;
  vi.advanceTimersByTime(44_999);
  expect(written.length - before).toBe(2);
  clocked.close();
  vi.advanceTimersByTime(60_000);
  expect(written.length - before).toBe(2);
  vi.useRealTimers();
});

it("does not count somebody who has hung up before the stream began", () => {
  expect(stream.open("boathouse", null, { destroyed: true } as ServerResponse)).toBe("opened");
  expect(stream.stats().clients).toBe(0);
});

it("takes as many listeners as it may, refuses the next with a problem, and has room again when one leaves", async () => {
  const listeners = [await listen(), await listen(), await listen()];
  expect(stream.stats().clients).toBe(MAX_CLIENTS);
  const refused = await listen();
  await refused.ended;
  expect([refused.status, refused.headers["content-type"]]).toEqual([503, "application/problem+json; charset=utf-8"]);
  expect(JSON.parse(refused.text())).toMatchObject({ status: 503 });
  listeners[0]?.close();
  while (stream.stats().clients === MAX_CLIENTS) await nextTurn();
  expect((await listen()).status).toBe(200);
});

it("knows no stream of an unknown site, and keeps nothing of it", async () => {
  expect((await listen(undefined, url.replace("boathouse", "depot"))).status).toBe(404);
  expect(stream.stats().clients).toBe(0);
});

it("ends every stream when the server stops, and opens none afterwards", async () => {
  const listeners = [await listen(), await listen()];
  await app.close();
  await Promise.all(listeners.map((listener) => listener.ended));
  expect(stream.open("boathouse", null, undefined as never)).toBe("full");
  expect(stream.stats().clients).toBe(0);
});
