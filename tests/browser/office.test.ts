// All sites of an office in a real browser: a few simulated sites through a real broker, of which one falls silent.
import { readFileSync } from "node:fs";
import { connectAsync, type MqttClient } from "mqtt";
import { afterAll, beforeAll, expect, it } from "vitest";
import { callsOfNight } from "../../firmware-sim/many-sites/pool.ts";
import { SaidSite } from "../../firmware-sim/many-sites/site.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { type RunningMosquitto, startMosquitto } from "../support/mosquitto.ts";
import { runApp, type RunningApp } from "../support/running-app.ts";
import { axeFinds } from "./axe.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

const ZONES = 3;
let broker: RunningMosquitto;
let office: RunningApp;
let voice: MqttClient;
let sites: SaidSite[];

const speak = async (site: SaidSite) => {
  for (const { topic, body, retain } of site.words(office.nowMs()))
    await voice.publishAsync(topic, JSON.stringify(body), { qos: 1, retain });
};

beforeAll(async () => {
  broker = await startMosquitto();
  const settings = { office: "on", mqttUrl: broker.url, mqttClientId: "office" };
  office = await runApp({ settings, empty: true, atMs: Date.now(), dashboardDir: await builtDashboard() });
  voice = await connectAsync(broker.url, { protocolVersion: 5 });
  const file: unknown = JSON.parse(readFileSync("tests/golden/nights/second-01.json", "utf8"));
  const night = callsOfNight(file, 3);
  sites = Array.from({ length: 5 }, (_, index) => new SaidSite([night], 1, index, ZONES, 60));
  for (const site of sites) await speak(site);
});
afterAll(async () => {
  await voice.endAsync();
  await office.end();
  await broker.stop();
});

it.each([
  [390, 844, "es", "dark"],
  [1280, 800, "en", "light"],
] as const)(
  "%d x %d, %s, %s: every site and zone, nothing cut off, each with its own page",
  async (widthPx, heightPx, language, theme) => {
    const { page, close } = await openPage(
      office.httpUrl,
      { widthPx, heightPx, touch: widthPx < 800 },
      { language, theme },
    );
    await page.locator(".office-site").nth(4).waitFor();
    expect(await page.locator(".office-zone").count()).toBe(5 * ZONES);
    expect(await page.locator("h1").innerText()).toBe(language === "en" ? "All sites" : "Todas las obras");
    expect(await page.locator(".office-head a").first().getAttribute("href")).toMatch(/^https:\/\/site-00\d\.example$/);
    expect(await overflowPx(page)).toBe(0);
    expect(await smallTargets(page)).toEqual([]);
    expect(await axeFinds(page)).toEqual([]);
    await close();
  },
);

it("sets a site that fell silent first, old, and counts none of its zones as anything; and hears it again", async () => {
  const { page, close } = await openPage(office.httpUrl, {}, { language: "en", theme: "light" });
  await page.locator(".office-site").nth(4).waitFor();
  office.moveClock(200_000);
  for (const site of sites.slice(1)) await speak(site);
  // The page learns the time with the next beat.
  const silent = page.locator(".office-site.office-old");
  await silent.waitFor();
  expect(await silent.count()).toBe(1);
  expect(await silent.innerText()).toContain("does not stand any more");
  expect(await silent.locator(".call-old").count()).toBe(ZONES);
  expect(await page.locator(".office-filter .office-unknown b").innerText()).toBe(String(ZONES));
  await page.locator(".office-filter .office-unknown").click();
  expect(await page.locator(".office-site").count()).toBe(1);
  await speak(sites[0] as SaidSite);
  await silent.waitFor({ state: "detached" });
  await close();
});
