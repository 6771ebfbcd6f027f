// The office over a real Mosquitto: what the servers of two sites say, what their silence says, and what it refuses.
import { afterAll, beforeAll, expect, it } from "vitest";
import { connectAsync, type MqttClient } from "mqtt";
import type { AboutBody } from "#contract/about.ts";
import { OfficeAnswerSchema, type OfficeBody, type OfficeSiteBody } from "#contract/office.ts";
import { readerOf } from "#contract/faults.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { topicOf } from "#contract/topics.ts";
import { type RunningMosquitto, startMosquitto } from "../support/mosquitto.ts";
import { ACL, USERS } from "../support/mosquitto-house.ts";
import { counter, runApp, type RunningApp, until } from "../support/running-app.ts";
import { sampleAlarm } from "../support/sample-alarms.ts";
import { NODE, pack, SITE, ZONE } from "../support/small-site.ts";

const OFFICE_ACL = ["user office", "topic read nightslab/v1/+/about", "topic read nightslab/v1/+/zone/+/call"]
  .concat("topic read nightslab/v1/+/alarm", "user other", "topic readwrite nightslab/v1/#")
  .join("\n");
const SECRETS = { office: "looks on only", other: "another server" };

let broker: RunningMosquitto;
let site: RunningApp;
let office: RunningApp;
let other: MqttClient;

const look = async (running = office): Promise<OfficeBody> => {
  const answer = await fetch(`${running.httpUrl}/api/v1/office`);
  const checked = readerOf(OfficeAnswerSchema)(await answer.json());
  if (!checked.ok) return expect.fail(JSON.stringify(checked.faults));
  return checked.value.office ?? expect.fail("is no office");
};
const seen = async (id: string): Promise<OfficeSiteBody | null> =>
  (await look()).sites.find((one) => one.site === id) ?? null;
const asOther = (topic: string, body: unknown, retain = true) =>
  other.publishAsync(topic, body === "" ? "" : JSON.stringify(body), { qos: 1, retain });
const aboutPier = (more: Partial<AboutBody> = {}): AboutBody => ({
  ...{ site: "pier", name: "Pier hall", timezone: "Europe/Oslo", at: isoFromMs(office.nowMs()), everyS: 60 },
  ...{ publicUrl: "https://pier.example", alarms: [], alarmCount: 0 },
  zones: [{ id: "deck", name: "Deck", call: null, callAt: null }],
  ...more,
});

const officeWishes = () => ({
  settings: {
    ...{ office: "on", mqttUrl: broker.url, mqttUsername: "office", mqttPassword: SECRETS.office },
    mqttClientId: "office",
  },
  empty: true,
});

beforeAll(async () => {
  broker = await startMosquitto({ users: { ...USERS, ...SECRETS }, acl: `${ACL}\n${OFFICE_ACL}` });
  site = await runApp({
    settings: { mqttUrl: broker.url, mqttUsername: "nightslab", mqttPassword: USERS.nightslab, mqttConnections: 1 },
  });
  office = await runApp(officeWishes());
  const login = { username: "other", password: SECRETS.other, reconnectPeriod: 0 };
  other = await connectAsync(broker.url, { ...login, protocolVersion: 5 });
});
afterAll(async () => {
  await other.endAsync();
  await office.end();
  await site.end();
  await broker.stop();
});

it("shows what a site says of itself, its call, and that its server lives", async () => {
  await until(async () => ((await seen(SITE.id))?.zones[0]?.call ?? null) !== null);
  await until(async () => ((await seen(SITE.id))?.aliveAt ?? null) !== null);
  const dock = await seen(SITE.id);
  expect(dock).toMatchObject({ name: SITE.name, timezone: SITE.timezone, publicUrl: null, oldAfterS: 150 });
  expect(dock?.zones).toMatchObject([{ id: ZONE.id, name: ZONE.name, unread: false, behind: false }]);
  expect(dock?.zones[0]?.call).toMatchObject({ site: SITE.id, zone: ZONE.id, call: "wait" });
  // Of the rules only the one to read first comes along.
  expect(dock?.zones[0]?.call?.rules.length).toBeLessThanOrEqual(1);
});

it("follows a call that changes, and takes no reading for itself", async () => {
  const bay = await connectAsync(broker.url, { username: "bay-1", password: USERS["bay-1"], protocolVersion: 5 });
  const topic = topicOf({ kind: "senml", site: SITE.id, node: NODE.id });
  for (let k = 0; k < 6; k++)
    await bay.publishAsync(topic, JSON.stringify(pack(Math.round(site.nowMs()) + k, { slab: 14 })), { qos: 1 });
  await until(async () => (await seen(SITE.id))?.zones[0]?.call?.call === "pour");
  expect([counter(site, "messages"), counter(office, "messages")]).toEqual([6, 0]);
  await bay.endAsync();
});

it("lets nobody set up a site there, and says why", async () => {
  const headers = { "content-type": "application/json" };
  const init = { method: "POST", headers, body: JSON.stringify(SITE) };
  const refused = await fetch(`${office.httpUrl}/api/v1/sites`, init);
  expect(refused.status).toBe(409);
  expect(await refused.text()).toContain("this server is an office");
  // And a server that is no office has none.
  expect(await (await fetch(`${site.httpUrl}/api/v1/office`)).json()).toEqual({ office: null });
  expect((await fetch(`${site.httpUrl}/api/v1/office/stream`)).status).toBe(404);
});

it("holds a site that says nothing more for old, whatever its clock says, and the same word again for no word", async () => {
  const ahead = aboutPier({ at: isoFromMs(office.nowMs() + 3_600_000) });
  const firstMs = office.nowMs();
  await asOther(topicOf({ kind: "about", site: "pier" }), ahead);
  await until(async () => (await seen("pier")) !== null);
  const aliveMs = async () => Date.parse((await seen("pier"))?.aliveAt ?? "");
  const before = await aliveMs();
  expect(before).toBeGreaterThanOrEqual(Math.floor(firstMs));
  expect(before).toBeLessThan(firstMs + 60_000);
  const heard = counter(office, "officeHeard");
  await asOther(topicOf({ kind: "about", site: "pier" }), ahead);
  await until(() => counter(office, "officeHeard") > heard);
  expect(await aliveMs()).toBe(before);
});

it("says so where a call is behind what the site tells, or cannot be read", async () => {
  const call = (await seen(SITE.id))?.zones[0]?.call;
  const at = isoFromMs(Math.floor(office.nowMs()));
  const topic = topicOf({ kind: "call", site: "pier", zone: "deck" });
  await asOther(topic, { ...call, site: "pier", zone: "deck", at });
  await until(async () => (await seen("pier"))?.zones[0]?.call?.call === "pour");
  const later = isoFromMs(Math.floor(office.nowMs()) + 7_200_000);
  await asOther(
    topicOf({ kind: "about", site: "pier" }),
    aboutPier({ at: later, zones: [{ id: "deck", name: "Deck", call: "abrade", callAt: later }] }),
  );
  await until(async () => (await seen("pier"))?.zones[0]?.behind === true);
  // A call of another zone than its topic, and one of no known shape: neither leaves the old pour standing.
  await asOther(topic, { ...call, site: "pier", zone: "elsewhere", at });
  await until(async () => (await seen("pier"))?.zones[0]?.unread === true);
  expect((await seen("pier"))?.zones[0]?.call).toBeNull();
  expect(counter(office, "officeUnread")).toBe(1);
});

it("lists alarms of all sites until the site says that they are over", async () => {
  const alarm = { ...sampleAlarm({}), site: "pier", id: "a-1", changedAt: isoFromMs(office.nowMs()) };
  await asOther(topicOf({ kind: "alarm", site: "pier" }), alarm, false);
  await until(async () => (await seen("pier"))?.alarms.length === 1);
  // The end of it was said while the office was away; what the site says of itself tells it.
  const at = isoFromMs(office.nowMs() + 9_000_000);
  await asOther(topicOf({ kind: "about", site: "pier" }), aboutPier({ at }));
  await until(async () => (await seen("pier"))?.alarms.length === 0);
});

it("knows after a restart what it knew, without a broker, and how old that is", async () => {
  const before = await look();
  await other.endAsync();
  await office.stop();
  await broker.halt("ask");
  office = await runApp({ ...officeWishes(), data: office.data, atMs: office.nowMs() });
  const after = await look();
  expect(after.sites).toEqual(before.sites);
  expect(after.deaf).toContain("0 of 1 connections");
  await broker.restart("ask");
  await until(async () => (await look()).deaf === null);
});

it("forgets a site whose words are taken back at the broker", async () => {
  const login = { username: "other", password: SECRETS.other, reconnectPeriod: 0 };
  other = await connectAsync(broker.url, { ...login, protocolVersion: 5 });
  await asOther(topicOf({ kind: "call", site: "pier", zone: "deck" }), "");
  await asOther(topicOf({ kind: "about", site: "pier" }), "");
  await until(async () => (await seen("pier")) === null);
});
