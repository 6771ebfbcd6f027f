// A board of many zones in a real browser: every zone is there by name, those near the window in full.
import { afterAll, beforeAll, expect, it } from "vitest";
import type { BoardBody, BoardZoneBody } from "#contract/board.ts";
import { type BoardServer, startBoardServer } from "../support/board-server.ts";
import { axeFinds } from "./axe.ts";
import { openPage, overflowPx } from "./open-page.ts";

const MANY = 300;
let server: BoardServer;
let zones: readonly BoardZoneBody[] = [];
const many = (board: BoardBody): BoardBody => {
  zones = Array.from({ length: MANY }, (_, index) => {
    const like = board.zones[index % board.zones.length] as BoardZoneBody;
    const id = `bay-${index}`;
    return { ...like, zone: { ...like.zone, id, name: `Bay ${index}` }, call: { ...like.call, zone: id } };
  });
  return { ...board, zones: [...zones] };
};
beforeAll(async () => {
  server = await startBoardServer({ board: many });
});
afterAll(() => server.kill());

const address = () => `${server.url}/#/site/boathouse`;
/** The small server knows nothing more of most zones than what its board says. */
const UNKNOWN = /status of 404/;
const prefs = { language: "en", units: "us" } as const;

it.each([
  [390, 844],
  [1280, 800],
])("%d x %d: all are there, few are drawn, and none is a hole where somebody looks", async (widthPx, heightPx) => {
  const { page, close } = await openPage(address(), { widthPx, heightPx, touch: widthPx < 700 }, prefs);
  await page.locator(".rows[role=list] .row").first().waitFor();
  expect(await page.locator(".rows .row").count()).toBe(MANY);
  // Those in the window and some forty beyond it, once the page has stood still.
  await expect.poll(() => page.locator(".rows .strip").count()).toBeGreaterThan(10);
  expect(await page.locator(".rows .strip").count()).toBeLessThan(60);
  // Whoever listens hears of all, each with its place in the whole.
  const heard = await page
    .getByRole("listitem")
    .filter({ hasText: /^Bay \d+/ })
    .all();
  expect(heard).toHaveLength(MANY);
  expect(await page.locator(`[role=listitem][aria-setsize="${MANY}"]`).count()).toBe(MANY);
  expect(await axeFinds(page)).toEqual([]);
  expect(await overflowPx(page)).toBe(0);
  for (const share of [0.5, 1]) {
    await page.evaluate((at) => scrollTo(0, document.documentElement.scrollHeight * at), share);
    await expect
      .poll(() =>
        page.evaluate(() => {
          const seen = [...document.querySelectorAll(".rows .row")].filter((row) => {
            const { top, bottom } = row.getBoundingClientRect();
            return bottom > 0 && top < innerHeight;
          });
          return seen.filter((row) => row.querySelector(".call") === null).length;
        }),
      )
      .toBe(0);
  }
  await page.getByText(`Bay ${MANY - 1}`, { exact: true }).waitFor();
  await expect.poll(() => page.locator(".rows .strip").count()).toBeLessThan(60);
  await close();
});

it("the keyboard goes from row to row into what was not drawn yet, and is not lost when it comes and goes", async () => {
  const { page, close } = await openPage(address(), {}, prefs);
  await page.locator(".rows[role=list] .call").first().waitFor();
  const focused = () => page.evaluate(() => document.activeElement?.getAttribute("href") ?? null);
  await page.locator(".rows .row").nth(60).locator("a").focus();
  await page.locator(".rows .row").nth(60).locator(".call").waitFor();
  expect(await focused()).toBe("#/site/boathouse/zone/bay-60");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Tab");
  expect(await focused()).toBe("#/site/boathouse/zone/bay-62");
  await page.evaluate(() => scrollTo(0, 0));
  await page.waitForTimeout(400);
  expect(await focused()).toBe("#/site/boathouse/zone/bay-62");
  await close();
});

it.each(["back", "link"])("who comes back from a zone by %s is where they were, keyboard and all", async (by) => {
  const { page, close } = await openPage(address(), {}, prefs, UNKNOWN);
  await page.locator(".rows[role=list] .call").first().waitFor();
  const row = page.locator(".rows .row").nth(150);
  await row.scrollIntoViewIfNeeded();
  await row.locator(".call").waitFor();
  await page.waitForTimeout(400);
  const place = () => row.evaluate((element) => Math.round(element.getBoundingClientRect().top));
  const before = await place();
  await row.locator("a").click();
  await page.locator(".rules").waitFor();
  expect(await page.evaluate(() => scrollY)).toBe(0);
  if (by === "back") await page.goBack();
  else await page.evaluate(() => (location.hash = "#/site/boathouse"));
  await row.locator(".call").waitFor();
  await page.waitForTimeout(400);
  expect(Math.abs((await place()) - before)).toBeLessThanOrEqual(2);
  expect(await page.evaluate(() => document.activeElement?.getAttribute("href"))).toBe("#/site/boathouse/zone/bay-150");
  await close();
});

it("a call that changes out of sight is there when somebody comes to it", async () => {
  const { page, close } = await openPage(address(), {}, prefs);
  await page.locator(".rows[role=list] .call").first().waitFor();
  const at = zones.findIndex(({ call }, index) => index > 100 && call.call === "pour");
  const { call } = zones[at] as BoardZoneBody;
  await server.tell("call", { ...call, call: "wait", limiting: "dew-margin" });
  await page.evaluate((index) => document.querySelectorAll(".rows .row")[index]?.scrollIntoView(), at);
  await page.locator(".rows .row").nth(at).getByText("WAIT", { exact: true }).waitFor();
  await close();
});

it("the list of when to come back is short until somebody wants all of it", async () => {
  const { page, close } = await openPage(address(), {}, prefs);
  const lines = page.locator(".come-back li");
  await lines.first().waitFor();
  expect(await lines.count()).toBe(24);
  await page.getByRole("button", { name: `${MANY - 24} more` }).click();
  expect(await lines.count()).toBe(MANY);
  await close();
});
