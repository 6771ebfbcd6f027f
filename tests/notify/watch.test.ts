// The watchman watched: heartbeat, the message that all is well, the test button, and what sirens hear.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readerOf } from "#contract/faults.ts";
import { SirenStateSchema, type WebhookMessage } from "#contract/notify.ts";
import { allWellText } from "../../server/notify/all-well.ts";
import { createHeartbeat } from "../../server/notify/heartbeat.ts";
import { createSirens, sirenState } from "../../server/notify/siren.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { type House, openHouse, SITES, WISH } from "./house.ts";
import { type Hook, openHook } from "./post-box.ts";
import { NIGHT_MS, sampleAlarm, stepAt } from "./sample-alarm.ts";

const MIN = 60_000;
const H = 60 * MIN;
let hook: Hook;
beforeEach(async () => void (hook = await openHook()));
afterEach(() => hook.close());

describe("the heartbeat", () => {
  const beating = (ill: () => string | null, url: string | null = hook.url) => {
    let steadyMs = 0;
    const heart = createHeartbeat({ url, method: "POST", everyMs: 5 * MIN, steadyMs: () => steadyMs, ill });
    const later = async (ms: number) => {
      steadyMs += ms;
      await heart.tick();
    };
    return { heart, later };
  };
  it("is one request every five minutes, while all is well", async () => {
    const { heart, later } = beating(() => null);
    for (let n = 0; n < 600; n += 10) await later(10_000);
    expect(hook.taken.map(({ method }) => method)).toEqual(["POST", "POST"]);
    expect(heart.health()).toEqual({ state: "up", detail: null });
  });
  it("stays away while broker, store or judge is not well, and comes back", async () => {
    let ill: string | null = "store: disk full";
    const { heart, later } = beating(() => ill);
    await later(0);
    expect(hook.taken).toHaveLength(0);
    expect(heart.health()).toEqual({ state: "degraded", detail: "no heartbeat is sent: store: disk full" });
    ill = null;
    await later(5 * MIN);
    expect(hook.taken).toHaveLength(1);
  });
  it("says when nobody takes it, without the address, which is a secret", async () => {
    hook.answer = { status: 500 };
    const { heart, later } = beating(() => null);
    await later(0);
    expect(heart.health()).toEqual({ state: "degraded", detail: "heartbeat: answered 500" });
    const away = beating(() => null, "http://127.0.0.1:1/secret-id");
    await away.later(0);
    expect(away.heart.health().state).toBe("degraded");
    expect(away.heart.health().detail).not.toContain("secret-id");
  });
});

describe("all well", () => {
  let house: House;
  beforeEach(() => void (house = openHouse()));
  afterEach(() => house.end());
  const messages = () => hook.taken.splice(0).map(({ body }) => JSON.parse(body) as WebhookMessage);
  const webhook = () => ({ url: hook.url, levels: ["tell" as const], secret: "a secret of sixteen" });

  it("comes once a day at the hour that was picked, by the clock of the site", async () => {
    house.add({ allWellAt: "06:30", webhook: webhook() });
    // It is 02:10 in Chicago.
    await house.later(4 * H + 19 * MIN);
    expect(messages()).toEqual([]);
    for (let n = 0; n < 5; n += 1) await house.later(MIN);
    const [message, ...more] = messages();
    expect(more).toEqual([]);
    expect(message).toMatchObject({ kind: "all-well", title: "Boathouse: no alarm is open" });
    expect(message?.body).toBe("Slip: no call yet, margin not known\nLoft: no call yet, margin not known");
    house.restart();
    await house.later(10 * MIN);
    expect(messages()).toEqual([]);
    await house.later(24 * H - 10 * MIN);
    expect(messages()).toHaveLength(1);
  });
  it("a server that was away at that hour says it within two hours, or not on that day", async () => {
    house.add({ allWellAt: "03:00", webhook: webhook() });
    await house.later(2 * H);
    expect(messages()).toHaveLength(1);
    house.add({ name: "Bo", allWellAt: "02:00", webhook: webhook() });
    await house.later(MIN);
    expect(messages()).toEqual([]);
  });
  it("tells each zone in one line, in the contact's language and units; and what is not well", () => {
    const board = SAMPLE_BOARD.zones.slice(0, 1).map(({ zone, call }) => ({ id: zone.id, name: zone.name, call }));
    const [site] = SITES;
    const [first] = board;
    if (site === undefined || first === undefined) expect.fail("no sample");
    const zone = {
      ...first,
      call: {
        ...first.call,
        call: "wait" as const,
        conditions: { ...first.call.conditions, marginK: 2.5 },
        night: null,
      },
    };
    const facts = { site: { ...site, zones: [zone] }, serverWell: false, nowMs: NIGHT_MS };
    const open = [sampleAlarm([stepAt("raised", NIGHT_MS)])];
    const es = allWellText({ ...WISH, language: "es", units: "si" }, { ...facts, open });
    expect(es.title).toBe("Boathouse: una alarma abierta");
    expect(es.body.split("\n")[0]).toMatch(/avería/);
    expect(es.body.split("\n").at(-1)).toBe(`${first.name}: esperar, margen 2.5 °C (4.5 °F)`);
    const en = allWellText(WISH, { ...facts, open: [] });
    expect(en.body.split("\n").at(-1)).toBe(`${first.name}: wait, margin 4.5 °F (2.5 °C)`);
  });
});

describe("the test button", () => {
  it("tries every way at once and says what came of each", async () => {
    const house = openHouse();
    const id = house.add({ webhook: { url: hook.url, levels: [], secret: "a secret of sixteen" } });
    house.desk.subscribe(id, {
      endpoint: "http://127.0.0.1:1/b",
      keys: {
        p256dh: `BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4`,
        auth: "a".repeat(22),
      },
      device: "phone",
    });
    const answer = await house.desk.test(id);
    if (!answer.ok) expect.fail("no answer");
    expect(answer.value.results.map(({ way, ok }) => [way.slice(0, 2), ok])).toEqual([
      ["we", true],
      ["p-", false],
    ]);
    expect(hook.taken).toHaveLength(1);
    expect(hook.taken[0]?.body).toContain("Nothing is wrong");
    expect(house.desk.contacts()[0]?.ways.map(({ state }) => state)).toEqual(["up", "failing"]);
    // It is not tried again by itself.
    await house.later(24 * H);
    expect(hook.taken).toHaveLength(1);
    expect((await house.desk.test("c-nobody")).ok).toBe(false);
    await house.end();
  });
});

describe("sirens", () => {
  const wake = sampleAlarm([stepAt("raised", NIGHT_MS)]);
  it.each([
    ["open, wakes", wake, true],
    ["acknowledged", { ...wake, state: "acknowledged" as const }, false],
    ["put off", { ...wake, state: "snoozed" as const }, false],
    ["only told", { ...wake, level: "tell" as const }, false],
  ])("%s", (_what, alarm, sound) => {
    const state = sirenState([alarm], NIGHT_MS);
    expect(readerOf(SirenStateSchema)(state)).toMatchObject({ ok: true });
    expect([state.sound, state.forS > 0]).toEqual([sound, sound]);
  });
  it("hear it retained: at the start, at each minute while it sounds, and once that it is over", () => {
    let open = [wake];
    const heard: boolean[] = [];
    const publish = (topic: string, body: string, retain: boolean) => {
      expect([topic, retain]).toEqual(["nightslab/v1/boathouse/siren", true]);
      heard.push((JSON.parse(body) as { sound: boolean }).sound);
    };
    const sirens = createSirens(
      () => open,
      publish,
      () => NIGHT_MS,
    );
    sirens.tell("boathouse");
    sirens.tell("boathouse");
    open = [];
    for (let n = 0; n < 3; n += 1) sirens.tell("boathouse");
    expect(heard).toEqual([true, true, false]);
  });
});
