// Every page of a site: nothing that axe-core finds, nothing cut off at the side from a small phone to a wall screen.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { judgeZone } from "../../server/core/judge/judge.ts";
import { spotCheck } from "../../server/core/judge/spot-check.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { runApp, type RunningApp, valueOf } from "../support/running-app.ts";
import { lookOver, settled } from "./look-over.ts";
import { openPage } from "./open-page.ts";

let running: RunningApp;
let site: string;
let zone: string;
beforeAll(async () => {
  const dashboardDir = await builtDashboard();
  running = await runApp({ empty: true, judge: { judgeZone, spotCheck }, dashboardDir, atMs: Date.now() });
  // The night that whoever has no sensors yet can try: two zones with readings, sheets and a journal.
  const night: unknown = await (await fetch(`${running.httpUrl}/api/v1/invented-night`)).json();
  site = "every-page";
  const headers = { "content-type": "application/json" };
  const made = await fetch(`${running.httpUrl}/api/v1/sites`, {
    ...{ method: "POST", headers },
    body: JSON.stringify({ id: site, name: "Every page", timezone: "America/Chicago", altitudeM: 100 }),
  });
  expect(made.status, await made.text()).toBe(201);
  const taken = await fetch(`${running.httpUrl}/api/v1/sites/${site}/night-files`, {
    ...{ method: "POST", headers },
    body: JSON.stringify(night),
  });
  expect(taken.status, await taken.text()).toBeLessThan(300);
  zone = valueOf(running.app.desk.board(site)).zones[0]?.zone.id ?? "";
  expect(zone).not.toBe("");
});
afterAll(() => running.end());

const pages = (): readonly string[] => {
  const sheet = running.app.desk.sheets()[0]?.id ?? "";
  const of = (page: string) => `#/site/${site}${page}`;
  return [
    ...["", `/zone/${zone}`, `/record/${zone}`, "/plan", "/set-up", "/material", `/material/${zone}`].map(of),
    ...["/sensors", "/alarms", "/alarms/who", "/tonight", "/help", "/more", "/spot-check"].map(of),
    ...["#/sheets", `#/sheets/${sheet}`, "#/sites", "#/sites/new"],
  ];
};

describe.each([
  { widthPx: 1280, heightPx: 800, language: "en", units: "us", theme: "light" },
  { widthPx: 360, heightPx: 740, language: "es", units: "si", theme: "dark" },
] as const)("$widthPx pixels wide, $language, $theme", ({ widthPx, heightPx, ...prefs }) => {
  it("axe-core finds nothing in either theme, and nothing is cut off at any width", async () => {
    const { page, close } = await openPage(running.httpUrl, { widthPx, heightPx }, prefs);
    const found: string[] = [];
    for (const hash of pages()) {
      await page.goto(`${running.httpUrl}/${hash}`);
      await settled(page);
      found.push(...(await lookOver(page, hash)));
    }
    expect(found).toEqual([]);
    await close();
  });
});
