// The first picture in a real browser: there before the program, exactly what the program then shows, and gone where it does
// not belong.
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { judgeZone } from "../../server/core/judge/judge.ts";
import { spotCheck } from "../../server/core/judge/spot-check.ts";
import { DICTIONARIES } from "../dashboard/voice.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { runApp, type RunningApp, valueOf } from "../support/running-app.ts";
import { axeFinds } from "./axe.ts";
import { openPage, overflowPx } from "./open-page.ts";

let running: RunningApp;
const site = "first";
let zone: string;
beforeAll(async () => {
  const dashboardDir = await builtDashboard();
  running = await runApp({ empty: true, judge: { judgeZone, spotCheck }, dashboardDir, atMs: Date.now() });
  const night: unknown = await (await fetch(`${running.httpUrl}/api/v1/invented-night`)).json();
  const post = async (path: string, body: unknown) => {
    const headers = { "content-type": "application/json" };
    const made = await fetch(`${running.httpUrl}/api/v1${path}`, {
      method: "POST",
      headers,
      body: JSON.stringify(body),
    });
    expect(made.ok, await made.text()).toBe(true);
  };
  await post("/sites", { id: site, name: "First", timezone: "America/Chicago", altitudeM: 100 });
  await post(`/sites/${site}/night-files`, night);
  zone = valueOf(running.app.desk.board(site)).zones[0]?.zone.id ?? "";
});
afterAll(() => running.end());

/** A page of this server that shows no board. */
const blank = () => `${running.httpUrl}/reset`;
const PROGRAM = /\/assets\/index-[\w-]+\.js/;
/** Keeps the program away until it is let in. */
async function holdProgram(page: Page): Promise<() => void> {
  let letIn = () => {};
  const held = new Promise<void>((resolve) => {
    letIn = resolve;
  });
  await page.route(PROGRAM, async (route) => {
    await held;
    await route.continue();
  });
  return letIn;
}
const isDrawn = (page: Page) => page.evaluate(() => document.getElementById("drawn") !== null);
/** What stands in the window and where; what lies below it is laid out later. */
const picture = (page: Page) =>
  page.evaluate(() => ({
    title: document.title,
    language: document.documentElement.lang,
    theme: document.documentElement.dataset["theme"],
    words: document.body.innerText.replaceAll(/\s+/g, " "),
    rows: [...document.querySelectorAll(".row, .visit")]
      .map((row) => row.getBoundingClientRect())
      .filter(({ top, bottom }) => top < innerHeight && bottom <= innerHeight)
      .map(({ top, height }) => [Math.round(top), Math.round(height)]),
  }));
/** The page is hidden for a moment, as when somebody puts the phone away: then it says how it is set. */
const putAway = (page: Page) =>
  page.evaluate(() => void document.dispatchEvent(new Event("visibilitychange", { bubbles: true })));

it.each([
  { widthPx: 390, heightPx: 844, language: "es", units: "si", theme: "dark" },
  { widthPx: 1280, heightPx: 800, language: "en", units: "us", theme: "light" },
] as const)(
  "$widthPx pixels wide, $language: it is what the program then shows, and nothing between",
  async ({ widthPx, heightPx, ...prefs }) => {
    const wishes = { widthPx, heightPx, touch: widthPx < 700, keepsNothing: true };
    const { page, close } = await openPage(running.httpUrl, wishes, prefs);
    await page.locator(".row").first().waitFor();
    await putAway(page);
    const letIn = await holdProgram(page);
    await page.reload({ waitUntil: "commit" });
    await page.locator(".row .call").first().waitFor();
    expect(await isDrawn(page)).toBe(true);
    const before = await picture(page);
    expect(before.words).toContain(DICTIONARIES[prefs.language].words.pour);
    expect(before.title).toBe("First · Nightslab");
    expect(await axeFinds(page)).toEqual([]);
    expect(await overflowPx(page)).toBe(0);
    await page.evaluate(() => {
      const seen: string[] = [];
      Object.assign(globalThis, { seen });
      new MutationObserver(() => seen.push(document.querySelector("main")?.innerText ?? "nothing")).observe(
        document.body,
        { childList: true, subtree: true },
      );
    });
    letIn();
    await page.waitForFunction(() => document.getElementById("drawn") === null);
    const after = await picture(page);
    expect({ ...after, words: "" }).toEqual({ ...before, words: "" });
    const seen = await page.evaluate(() => (globalThis as unknown as { seen: string[] }).seen);
    expect(seen.length).toBeGreaterThan(0);
    const { loading } = DICTIONARIES[prefs.language].app;
    expect(seen.filter((words) => words === "nothing" || words.includes(loading))).toEqual([]);
    await close();
  },
);

it("a tap before the program is there leads where it points once it is", async () => {
  const { page, close } = await openPage(blank(), { keepsNothing: true }, { language: "en", units: "us" });
  const letIn = await holdProgram(page);
  await page.goto(running.httpUrl, { waitUntil: "commit" });
  await page.locator(".row-name a").first().click();
  await expect.poll(() => new URL(page.url()).hash).toBe(`#/site/${site}/zone/${zone}`);
  letIn();
  await page.locator(".rules").waitFor();
  await close();
});

it.each(["#/sites", `#/site/first/tonight`, "#/site/another"])("%s: no board flashes up", async (hash) => {
  const missing = /status of 404/;
  const { page, close } = await openPage(blank(), { keepsNothing: true }, { language: "en" }, missing);
  await page.addInitScript(() => {
    const seen: boolean[] = [];
    Object.assign(globalThis, { seen });
    const look = () => {
      seen.push((document.querySelector(".row")?.getClientRects().length ?? 0) > 0);
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  await page.goto(`${running.httpUrl}/${hash}`);
  await page.locator("main h1, main h2, main .empty").first().waitFor();
  const seen = await page.evaluate(() => (globalThis as unknown as { seen: boolean[] }).seen);
  expect(seen.length).toBeGreaterThan(0);
  expect(seen).not.toContain(true);
  await close();
});

it("a device that is set otherwise than the server knew shows its own words alone", async () => {
  const { page, close } = await openPage(running.httpUrl, { keepsNothing: true }, { language: "es", units: "si" });
  await page.locator(".row").first().waitFor();
  expect(Object.values(DICTIONARIES.es.words)).toContain(await page.locator(".row .call").first().innerText());
  expect(await isDrawn(page)).toBe(false);
  await close();
});

it("without the program it does not stay: an old call must not look like one of now", async () => {
  const { page, close } = await openPage(blank(), { keepsNothing: true }, { language: "en", units: "us" }, /ERR_/);
  await page.clock.install();
  await page.route(PROGRAM, (route) => route.abort());
  await page.goto(running.httpUrl);
  await page.clock.runFor(1000);
  await page.locator(".row .call").first().waitFor();
  await page.clock.fastForward(41_000);
  await page.getByRole("alert").filter({ hasText: DICTIONARIES.en.app.notFetched }).waitFor();
  expect(await page.locator(".call").count()).toBe(0);
  expect(await axeFinds(page)).toEqual([]);
  await close();
});
