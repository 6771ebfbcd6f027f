// Deliveries and contacts in the embedded store: one row a key, order, what is given up, and what a new start finds.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { KeptContact, NewDelivery } from "../../server/store/notify-ports.ts";
import { type EmbeddedStore, openStore } from "../../server/store/store.ts";
import { NIGHT_MS, sampleAlarm, stepAt } from "./sample-alarm.ts";

let folder: string;
let store: EmbeddedStore;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "nightslab-notify-"));
  store = openStore(folder);
});
afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true });
});

const ADA: KeptContact = {
  ...{ id: "c-1", name: "Ada Ruiz", person: null, language: "en", units: "us", sites: null, quiet: null },
  ...{ allWellAt: null, mail: { address: "ada@example.org", levels: ["wake"] }, pushLevels: [] },
  webhook: { url: "https://hooks.example/x", secret: "only in the database", levels: ["tell"] },
};
const keys = { p256dh: "B".repeat(87), auth: "a".repeat(22) };
const push = (id: string, contact: string) => ({
  ...{ id, contact, endpoint: `https://push.example/${id}`, keys, device: "phone", madeMs: NIGHT_MS },
});
const row = (key: string, wish: Partial<NewDelivery> = {}): NewDelivery => ({
  ...{ key, kind: "alarm", site: "boathouse", alarm: "a-1", step: "s", level: "wake", contact: "c-1", way: "mail" },
  ...{ madeMs: NIGHT_MS, notBeforeMs: NIGHT_MS, title: "Slip", body: "dew", about: null },
  ...wish,
});
const seqs = () => store.notify.due("c-1", "mail", NIGHT_MS, 99).map(({ key }) => key);

it("keeps one row for each key, and gives back what was put in", () => {
  const about = sampleAlarm([stepAt("raised", NIGHT_MS)]);
  expect(store.notify.add([row("a", { about }), row("b"), row("a", { title: "other" })])).toBe(2);
  expect(store.notify.add([row("b")])).toBe(0);
  expect(store.notify.due("c-1", "mail", NIGHT_MS, 1)).toEqual([
    {
      ...row("a", { about }),
      seq: 1,
      state: "queued",
      tries: 0,
      nextTryMs: NIGHT_MS,
      sentMs: null,
      lastError: null,
      repliedMs: null,
    },
  ]);
  expect(store.notify.told("boathouse", "a-1")).toEqual(new Set(["c-1"]));
});

describe("what may go", () => {
  it("is what waits, in order, not before its time; what failed waits for its next try", () => {
    store.notify.add([row("a"), row("later", { notBeforeMs: NIGHT_MS + 1 }), row("b")]);
    expect(seqs()).toEqual(["a", "b"]);
    store.notify.failed([1], "no route", NIGHT_MS + 30_000);
    store.notify.sent([3], NIGHT_MS);
    expect(store.notify.waysDue(NIGHT_MS)).toEqual([]);
    expect(store.notify.waysDue(NIGHT_MS + 30_000)).toEqual([{ contact: "c-1", way: "mail" }]);
    expect(store.notify.delivery(1)).toMatchObject({ state: "failed", tries: 1, lastError: "no route" });
    expect(store.notify.waiting()).toEqual({ count: 2, oldestMs: NIGHT_MS });
  });
  it("is not held back for days by a clock that was set back", () => {
    store.notify.add([row("a")]);
    store.notify.failed([1], "no route", NIGHT_MS + 48 * 3_600_000);
    expect(store.notify.waysDue(NIGHT_MS)).toHaveLength(1);
  });
  it("is there after a new start, sent or not", () => {
    store.notify.add([row("a"), row("b")]);
    store.notify.sent([1], NIGHT_MS);
    store.close();
    store = openStore(folder);
    expect(seqs()).toEqual(["b"]);
    expect(store.notify.add([row("a")])).toBe(0);
  });
});

it("a link is used once", () => {
  store.notify.add([row("a")]);
  expect([store.notify.reply(1, NIGHT_MS), store.notify.reply(1, NIGHT_MS)]).toEqual([true, false]);
});

it("forgets what is done with, and keeps what still waits", () => {
  store.notify.add([row("sent"), row("waits")]);
  store.notify.sent([1], NIGHT_MS);
  store.notify.forget(NIGHT_MS + 1);
  expect(store.notify.deliveries("boathouse", null, null, 10).map(({ key }) => key)).toEqual(["waits"]);
});

describe("contacts", () => {
  it("a removed one leaves its browsers, its place in the order and what waits for it", () => {
    store.notify.putContact(ADA);
    store.notify.putPush(push("p-1", "c-1"));
    store.notify.putOrder("boathouse", ["c-2", "c-1"]);
    store.notify.wayFailed("c-1", "mail", "no route", NIGHT_MS);
    store.notify.add([row("a")]);
    expect(store.notify.contacts()).toEqual([ADA]);
    store.notify.removeContact("c-1");
    expect([store.notify.contacts(), store.notify.pushes(), store.notify.failing()]).toEqual([[], [], []]);
    expect(store.notify.order("boathouse")).toEqual(["c-2"]);
    expect(store.notify.delivery(1)).toMatchObject({ state: "given-up", lastError: "the contact was removed" });
  });
  it("a browser rings for one of them: what waited for the other does not go there", () => {
    store.notify.putPush(push("p-1", "c-1"));
    store.notify.add([row("a", { way: "p-1" })]);
    store.notify.putPush(push("p-1", "c-2"));
    expect(store.notify.pushes().map(({ contact }) => contact)).toEqual(["c-2"]);
    expect(store.notify.delivery(1)?.state).toBe("given-up");
  });
  it("a way fails since its first failure, until it works", () => {
    store.notify.wayFailed("c-1", "mail", "no route", NIGHT_MS);
    store.notify.wayFailed("c-1", "mail", "refused", NIGHT_MS + 60_000);
    expect(store.notify.failing()).toEqual([
      { contact: "c-1", way: "mail", sinceMs: NIGHT_MS, times: 2, lastError: "refused" },
    ]);
    store.notify.wayWorks("c-1", "mail");
    expect(store.notify.failing()).toEqual([]);
  });
});
