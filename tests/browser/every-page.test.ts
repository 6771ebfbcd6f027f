// Every page of a site: nothing that axe-core finds, nothing cut off at the side from a small phone to a wall screen.
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { judgeZone } from "../../server/core/judge/judge.ts";
import { spotCheck } from "../../server/core/judge/spot-check.ts";
import { opinionsText } from "../../dashboard/text/opinions.ts";
import { sensorsText } from "../../dashboard/text/sensors.ts";
import { tellText } from "../../dashboard/text/tell.ts";
import { DICTIONARIES } from "../dashboard/voice.ts";
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

/** Unfolds what a page keeps folded, some of it where there is much of a kind; how many it opened. */
async function unfold(page: Page, names: readonly string[]): Promise<number> {
  let opened = 0;
  for (const summary of await page.locator("main details:not([open]) > summary:visible").all()) {
    await summary.click();
    opened += 1;
  }
  const folded = page.locator("main button[aria-expanded=false]:visible");
  for (; opened < 6 && (await folded.count()) > 0; opened++) await folded.first().click();
  for (const name of names) {
    const button = page.locator("main").getByRole("button", { name, exact: true }).first();
    if (!(await button.isVisible())) continue;
    await button.click();
    opened += 1;
  }
  return opened;
}

describe.each([
  { widthPx: 1280, heightPx: 800, language: "en", units: "us", theme: "light" },
  { widthPx: 360, heightPx: 740, language: "es", units: "si", theme: "dark" },
] as const)("$widthPx pixels wide, $language, $theme", ({ widthPx, heightPx, ...prefs }) => {
  it("axe-core finds nothing in either theme, and nothing is cut off at any width", async () => {
    const { page, close } = await openPage(running.httpUrl, { widthPx, heightPx }, prefs);
    const found: string[] = [];
    const unfolded: string[] = [];
    const text = DICTIONARIES[prefs.language];
    const opinions = opinionsText(text);
    const names = [sensorsText(text).add, opinions.measure, opinions.start, tellText(text).add];
    for (const hash of pages()) {
      await page.goto(`${running.httpUrl}/${hash}`);
      await settled(page);
      found.push(...(await lookOver(page, hash)));
      if ((await unfold(page, names)) === 0) continue;
      await settled(page);
      unfolded.push(hash);
      found.push(...(await lookOver(page, `${hash}, unfolded`, { widthsPx: [360, 1280] })));
    }
    expect(found).toEqual([]);
    expect(unfolded).toEqual(
      expect.arrayContaining([`#/site/${site}/zone/${zone}`, `#/site/${site}/sensors`, "#/sites/new"]),
    );
    await close();
  });
});
