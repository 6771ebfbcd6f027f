// From a step of an alarm to what arrives: retries, order, the night, failures, and a process that is killed on the way.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { WebhookMessage } from "#contract/notify.ts";
import { type House, openHouse } from "./house.ts";
import { type Hook, openHook } from "./post-box.ts";
import { openPushService, type PushService } from "./push-service.ts";
import { NIGHT_MS, stepAt } from "./sample-alarm.ts";

const MIN = 60_000;
const H = 60 * MIN;
const raised = stepAt("raised", NIGHT_MS);
let house: House;
let hook: Hook;
let push: PushService;
beforeEach(async () => {
  [hook, push] = await Promise.all([openHook(), openPushService()]);
  house = openHouse();
});
afterEach(async () => {
  await house.end();
  await Promise.all([hook.close(), push.close()]);
});

const messages = () => hook.taken.splice(0).map(({ body }) => JSON.parse(body) as WebhookMessage);
const titles = () => messages().map(({ title }) => title);
const withHook = (wish: Parameters<House["add"]>[0] = {}) =>
  house.add({ webhook: { url: hook.url, levels: ["wake", "tell"], secret: "a secret of sixteen" }, ...wish });
const rows = () => {
  const found = house.desk.deliveries("boathouse", { alarm: null, before: null, limit: 100 });
  if (!found.ok) expect.fail("no such site");
  return found.value;
};
const browser = (contact: string, device = "phone") => {
  const made = house.desk.subscribe(contact, { endpoint: `${push.url}/${contact}/${device}`, keys: push.keys, device });
  if (!made.ok) expect.fail(JSON.stringify(made.faults));
  return made.value.id;
};

it("a wake goes at once, in the night, in the contact's language and units, with the names of zones", async () => {
  withHook({ language: "es", units: "si" });
  await house.tell([raised]);
  const [message] = messages();
  expect(message).toMatchObject({ kind: "alarm", level: "wake", step: "raised", alarm: { id: "a-slip-dew" } });
  expect(message?.title).toMatch(/^Slip/);
  // 1.4 K above the dew point: in degrees Celsius first; foreseen an hour after 02:10 in Chicago.
  expect(`${message?.title} ${message?.body}`).toMatch(/1[.,]4 °C/);
  expect(`${message?.title} ${message?.body}`).toContain("03:10");
  expect(message?.acknowledge).toMatch(/^https:\/\/floor\.example\/api\/reply\/1\.[\w-]{32}$/);
  expect(rows()[0]).toMatchObject({ state: "sent", tries: 1, name: "Ada Ruiz", wayKind: "webhook" });
});

it("the same step handed on twice goes once", async () => {
  withHook();
  await house.tell([raised]);
  await house.tell([raised]);
  await house.later(H);
  expect(messages()).toHaveLength(1);
});

it("twelve things told in the night are one letter in the morning; what is over by then says so", async () => {
  withHook();
  for (let n = 0; n < 12; n += 1)
    await house.tell([stepAt("raised", NIGHT_MS + n * 1000, "tell")], { id: `a-${n}`, kind: "node-silent" });
  const quiet = stepAt("raised", NIGHT_MS, "tell");
  await house.tell([quiet, stepAt("cleared", NIGHT_MS + H, "tell")], { id: "a-3", kind: "node-silent" });
  await house.later(3 * H);
  expect(messages()).toEqual([]);
  await house.later(H);
  const [letter, ...more] = messages();
  expect(more).toEqual([]);
  expect(letter).toMatchObject({ title: "Boathouse: 12 things to know", acknowledge: null });
  expect(letter?.body.split("\n")).toHaveLength(12);
  expect(letter?.body).toContain("Over: ");
  expect(rows().map(({ state }) => state)).toEqual(Array.from({ length: 13 }, () => "sent"));
});

describe("a way that does not work", () => {
  it("is tried again with growing patience, in order, and gives up after a day", async () => {
    withHook({ quiet: null });
    hook.answer = { status: 500 };
    await house.tell([raised]);
    expect(messages()).toHaveLength(1);
    await house.later(14_000);
    expect(messages()).toHaveLength(0);
    await house.later(2000);
    expect(messages()).toHaveLength(1);
    expect(rows()[0]).toMatchObject({ state: "failed", tries: 2, lastError: "answered 500" });
    // 30 s, 1, 2, 4, 8 and then every 15 minutes.
    for (const ms of [30_000, MIN, 2 * MIN, 4 * MIN, 8 * MIN, 15 * MIN, 15 * MIN]) {
      await house.later(ms - 1000);
      expect(messages()).toEqual([]);
      await house.later(1000);
      expect(messages()).toHaveLength(1);
    }
    await house.later(22 * H);
    expect(rows()[0]?.state).toBe("failed");
    await house.later(2 * H);
    expect(rows()[0]?.state).toBe("given-up");
    messages();
    hook.answer = { status: 204 };
    await house.later(H);
    expect(messages()).toEqual([]);
  });
  it("waits as long as it is told to", async () => {
    withHook({ quiet: null });
    hook.answer = { status: 429, headers: { "retry-after": "600" } };
    await house.tell([raised]);
    await house.later(9 * MIN);
    expect(messages()).toHaveLength(1);
    hook.answer = { status: 204 };
    await house.later(2 * MIN);
    expect(rows()[0]?.state).toBe("sent");
  });
  it("keeps its order: what came first arrives first, also when a wake comes while it is away", async () => {
    withHook({ quiet: null });
    hook.answer = { status: 503 };
    for (const n of [1, 2]) await house.tell([stepAt("raised", NIGHT_MS, "tell")], { id: `a-${n}`, kind: "door-open" });
    await house.later(20 * MIN);
    await house.tell([stepAt("raised", house.nowMs)], { id: "a-wake" });
    messages();
    hook.answer = { status: 204 };
    await house.later(MIN);
    expect(messages().map(({ level, alarm }) => [level, alarm?.id ?? "several"])).toEqual([
      ["tell", "several"],
      ["wake", "a-wake"],
    ]);
  });
  it("of the one on call makes the next one hear it, within a minute", async () => {
    const ada = house.add({ webhook: { url: "http://127.0.0.1:1/", levels: ["wake"], secret: "a secret of sixteen" } });
    const bo = withHook({ name: "Bo" });
    house.desk.putOnCall("boathouse", [ada, bo]);
    await house.tell([raised]);
    expect(messages()).toEqual([]);
    await house.later(20_000);
    expect(messages()).toMatchObject([{ level: "wake" }]);
    expect(house.desk.failing("boathouse")).toEqual([]);
    await house.later(4 * MIN);
    expect(house.desk.failing("boathouse")).toMatchObject([{ about: expect.stringContaining("Ada Ruiz") as string }]);
    expect(house.desk.health().state).toBe("degraded");
  });
  it("is tried by the contact's other ways, whatever they were chosen for", async () => {
    const ada = withHook({ webhook: { url: hook.url, levels: ["tell"], secret: "a secret of sixteen" } });
    browser(ada);
    push.answer = { status: 500 };
    await house.tell([raised]);
    await house.later(20_000);
    expect(messages()).toMatchObject([{ level: "wake", step: "raised" }]);
  });
  it("rings nobody late for what was answered meanwhile: that waits for the morning", async () => {
    withHook();
    hook.answer = { status: 503 };
    const alarm = await house.tell([raised]);
    house.standing.set(alarm.id, { ...alarm, state: "cleared" });
    messages();
    hook.answer = { status: 204 };
    await house.later(H);
    expect(messages()).toEqual([]);
    await house.later(3 * H);
    expect(messages()).toMatchObject([{ level: "tell" }]);
  });
});

describe("a browser that takes no more", () => {
  it("is removed, the alarm goes another way, and its owner is told", async () => {
    const ada = withHook();
    const id = browser(ada, "old phone");
    push.answer = { status: 410 };
    await house.tell([raised]);
    await house.later(1000);
    expect(house.store.notify.pushes()).toEqual([]);
    const told = messages();
    expect(told.filter(({ kind }) => kind === "alarm")).toHaveLength(1);
    expect(told.find(({ kind }) => kind === "notice")?.body).toContain("old phone");
    expect(house.desk.failing("boathouse")[0]?.about).toContain("old phone rings no more");
    expect(rows().find(({ way }) => way === id)?.state).toBe("given-up");
    push.answer = { status: 201 };
    browser(ada, "new phone");
    expect(house.desk.failing("boathouse")).toEqual([]);
  });
});

describe("a process that is killed", () => {
  it("between keeping and sending: it is sent by the next, once", async () => {
    withHook();
    hook.answer = { status: 503 };
    await house.tell([raised]);
    messages();
    hook.answer = { status: 204 };
    house.restart();
    await house.later(MIN);
    await house.tell([raised]);
    expect(messages()).toHaveLength(1);
  });
  it("after sending: nothing goes twice, also what the machine hands on again", async () => {
    withHook();
    await house.tell([raised]);
    house.restart();
    await house.tell([raised]);
    await house.later(H);
    expect(messages()).toHaveLength(1);
  });
  it("between sending and noting it: it goes again under the same key, and takes the place of the first", async () => {
    const ada = withHook();
    browser(ada);
    Object.assign(house.store.notify, {
      sent() {
        throw new Error("killed");
      },
    });
    await house.tell([raised]);
    expect(house.failures.splice(0)).toHaveLength(2);
    house.restart();
    await house.later(MIN);
    const [first, second, ...more] = messages();
    expect(more).toEqual([]);
    expect(second?.key).toBe(first?.key);
    const [one, other] = push.taken;
    expect(push.taken).toHaveLength(2);
    expect(other?.headers["topic"]).toBe(one?.headers["topic"]);
  });
});

it("who was told hears who has it, and that it is over", async () => {
  const ada = withHook({ quiet: null });
  withHook({ name: "Bo", quiet: null });
  house.desk.putOnCall("boathouse", [ada]);
  await house.tell([raised]);
  messages();
  const taken = stepAt("acknowledged", NIGHT_MS + MIN, "wake", "Ada Ruiz");
  await house.tell([raised, taken]);
  expect(messages().map(({ body }) => body.slice(0, 16))).toEqual(["Ada Ruiz has it."]);
  await house.tell([raised, taken, stepAt("cleared", NIGHT_MS + H)]);
  expect(titles().map((title) => title.startsWith("Over: "))).toEqual([true, true]);
});

it("a removed contact hears no more, and a person's borders hold for messages", async () => {
  await house.end();
  house = openHouse({ person: (id) => (id === "u-1" ? { name: "Cy", sites: ["barn"] } : null) });
  withHook({ person: "u-1" });
  const bo = withHook({ name: "Bo" });
  hook.answer = { status: 503 };
  await house.tell([raised]);
  expect(rows().map(({ name }) => name)).toEqual(["Bo"]);
  house.desk.removeContact(bo);
  messages();
  await house.later(H);
  expect(messages()).toEqual([]);
});
