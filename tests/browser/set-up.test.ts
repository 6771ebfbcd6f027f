// From nothing to a first call, as somebody who has read nothing: the whole server, its own store, and a real browser.
import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { judgeZone } from "../../server/core/judge/judge.ts";
import { spotCheck } from "../../server/core/judge/spot-check.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { runApp, type RunningApp, valueOf } from "../support/running-app.ts";
import { axeFinds } from "./axe.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

let running: RunningApp;
beforeAll(async () => {
  running = await runApp({
    empty: true,
    judge: { judgeZone, spotCheck },
    dashboardDir: await builtDashboard(),
    atMs: Date.now(),
  });
});
afterAll(() => running.end());

const desk = () => running.app.desk;
const zonesOf = (site: string) => valueOf(desk().board(site)).zones.map(({ zone }) => zone);

/** Nothing is cut off, a glove can press all of it, and a screen reader can read it. */
async function isFit(page: Page): Promise<void> {
  expect(await axeFinds(page)).toEqual([]);
  expect(await overflowPx(page)).toBe(0);
  // A file field is pressed by its label.
  expect((await smallTargets(page)).filter((one) => !one.endsWith(" 1x1"))).toEqual([]);
  expect(await page.locator("main").innerText()).not.toMatch(/undefined|NaN|\[object/);
}

/** Taps places of the paper, given as shares of its width and height. */
async function tap(page: Page, shares: readonly (readonly [x: number, y: number])[]): Promise<void> {
  const paper = page.locator("svg.plan-paper");
  await paper.scrollIntoViewIfNeeded();
  const box = await paper.boundingBox();
  if (box === null) throw new Error("no paper");
  for (const [x, y] of shares) await page.mouse.click(box.x + x * box.width, box.y + y * box.height);
}

describe("a server that knows nothing", () => {
  it("is set up on a phone, step by step, to a first call", async () => {
    const { page, close } = await openPage(
      running.httpUrl,
      { widthPx: 390, heightPx: 844, touch: true },
      { language: "en", units: "si", theme: "light" },
    );
    await page.getByLabel("Name of the site").fill("Boat shed");
    expect(await page.getByLabel("Time zone").inputValue()).toBe("UTC");
    await page.getByLabel("The crew drives").fill("45");
    await isFit(page);
    await page.getByRole("button", { name: "Begin" }).click();

    await page.getByText("Step 2 of 5").waitFor();
    await page.locator(".choice-option", { hasText: "epoxy primer" }).click();
    await page.getByText("nobody has held it").waitFor();
    await page.locator(".set-up-warn summary").click();
    await isFit(page);
    await page.getByRole("button", { name: "I have held these against the page" }).click();
    await page.getByText("nobody has held it").waitFor({ state: "detached" });
    expect(desk().sheets()[0]?.confirmed).toMatchObject({ same: true });

    await page.getByRole("link", { name: "On to: Floor" }).click();
    await page.getByRole("button", { name: "Add a zone" }).click();
    // A square of ten by ten on a paper of thirty by twenty metres, closed by its first corner.
    const [left, right, top, bottom] = [0.1, 0.1 + 10 / 30, 0.1, 0.6];
    await tap(page, [
      [left, top],
      [right, top],
      [right, bottom],
      [left, bottom],
      [left, top],
    ]);
    await page.getByText("Encloses 100 m²").waitFor();
    await page.getByLabel("Area", { exact: true }).fill("97,5");
    await page.getByText("Typed: this counts.").waitFor();
    await isFit(page);
    await page.getByRole("button", { name: "Keep" }).click();
    await page.getByRole("button", { name: "Split at a joint" }).waitFor();
    expect(zonesOf("boat-shed")).toMatchObject([{ id: "bay-1", areaM2: 97.5, areaTyped: true }]);
    await page.getByRole("button", { name: "Add a zone" }).click();
    await page.getByLabel("Length").fill("8");
    await page.getByLabel("Width").fill("6.5");
    await page.getByRole("button", { name: "Make a rectangle" }).click();
    await page.getByRole("button", { name: "Keep" }).click();
    await page.getByRole("heading", { name: "Bay 2" }).waitFor();
    const [bay1, bay2] = zonesOf("boat-shed");
    expect(bay2).toMatchObject({ areaM2: 52, system: ["invented-primer"] });
    // The rectangle stands at the wall of its neighbour.
    expect(bay2?.outline?.[0]?.xM).toBe(Math.max(...(bay1?.outline ?? []).map(({ xM }) => xM)));
    await isFit(page);

    await page.getByRole("link", { name: "On to: Sensors" }).click();
    await page.getByRole("button", { name: "Add by hand" }).click();
    await page.getByLabel("Name", { exact: true }).fill("shed-1");
    await page.locator(".sensor-form").getByRole("button", { name: "Add by hand" }).click();
    await page.locator(".choice-option", { hasText: "shed-1" }).click();
    await tap(page, [[0.15, 0.2]]);
    await page.locator(".choice-option", { hasText: "shed-1 ✓" }).waitFor();
    const probe = valueOf(desk().nodes("boat-shed"))[0]?.node.probes?.["slab"];
    expect(probe).toMatchObject({ place: "coldest edge" });
    expect(probe?.xM).toBeCloseTo(4.5, 0);
    expect(probe?.yM).toBeCloseTo(4, 0);
    await isFit(page);

    await page.getByRole("link", { name: "On to: First call" }).click();
    await page.getByText("Step 5 of 5").waitFor();
    expect(await page.locator(".set-up-calls .call").allInnerTexts()).toEqual(["WAIT", "WAIT"]);
    await isFit(page);

    // Left and come back to: every step was kept.
    await page.goto(`${running.httpUrl}/#/site/boat-shed/set-up`);
    await page.getByText("Step 1 of 5").waitFor();
    expect(await page.getByLabel("The crew drives").inputValue()).toBe("45");
    await close();
  });

  it("shows an invented night that says so, on the board and on the plan", async () => {
    const { page, close } = await openPage(
      `${running.httpUrl}/#/sites/new`,
      { widthPx: 360, heightPx: 740, touch: true },
      { language: "es", units: "si", theme: "dark" },
    );
    await page.getByRole("button", { name: "Probar con una noche inventada" }).click();
    await page.locator(".call-pour").first().waitFor();
    await page.getByRole("link", { name: "Plano", exact: true }).click();
    await page.getByRole("link", { name: /APLICAR Nave interior \(inventada\)/ }).waitFor();
    expect(await page.locator(".plan-fill-pour").getAttribute("fill")).toBe("url(#fill-pour)");
    expect(await page.locator(".plan-fill-wait").getAttribute("fill")).toBe("url(#fill-wait)");
    expect(await page.locator(".plan-node").count()).toBe(2);
    await isFit(page);
    await page.getByRole("link", { name: /APLICAR Nave interior \(inventada\)/ }).press("Enter");
    await page.getByRole("heading", { name: "Nave interior (inventada)" }).waitFor();
    await close();
  });

  it("takes a drawing to scale, splits at a joint, and judges a night that somebody sent", async () => {
    const sheet = { ...desk().inventedNight().sheets[0], id: "test-epoxy", name: "Test epoxy" } as Parameters<
      RunningApp["app"]["desk"]["putSheet"]
    >[0];
    valueOf(await desk().putSheet(sheet));
    valueOf(await desk().addSite({ id: "hall", name: "Hall", timezone: "UTC", altitudeM: 0 }));
    const outline = [
      { xM: 2, yM: 2 },
      { xM: 12, yM: 2 },
      { xM: 12, yM: 10 },
      { xM: 2, yM: 10 },
    ];
    valueOf(
      await desk().putZone(
        "hall",
        { id: "floor", name: "Floor", areaM2: 80, pourM2PerH: 40, system: ["test-epoxy"], base: "porous", outline },
        "add",
      ),
    );
    const { page, close } = await openPage(
      `${running.httpUrl}/#/site/hall/set-up/floor`,
      { widthPx: 1280, heightPx: 1000 },
      { language: "en", units: "us", theme: "light" },
    );
    await page.getByRole("button", { name: "Size, drawing, photo" }).click();
    const picture = await sharp({ create: { width: 900, height: 300, channels: 3, background: "#fff" } })
      .png()
      .toBuffer();
    await page
      .locator("input[type=file]")
      .setInputFiles({ name: "drawing.png", mimeType: "image/png", buffer: picture });
    await page.getByText("Tap the first point.").waitFor();
    await tap(page, [
      [0.25, 0.5],
      [0.75, 0.5],
    ]);
    await page.getByText("They really lie apart").waitFor();
    await page.getByLabel("They really lie apart").fill("59,06");
    await page.getByRole("button", { name: "Set the scale" }).click();
    await page.getByText("Tap the first point.").waitFor();
    // 59.06 ft are 18 m for half of the picture, so the whole of it is 36 m wide.
    expect(valueOf(desk().plan("hall"))?.widthM).toBeCloseTo(36, 0);
    await page.getByRole("button", { name: "Done" }).click();

    await page.getByRole("button", { name: "Split at a joint" }).click();
    await tap(page, [
      [6 / 36, 0.05],
      [6 / 36, 0.95],
    ]);
    await page.getByText("2 parts.").waitFor();
    await isFit(page);
    await page.getByRole("button", { name: "Split it" }).click();
    await page.getByRole("heading", { name: "Floor A" }).waitFor();
    const areas = zonesOf("hall").map(({ areaM2 }) => areaM2);
    expect(areas.reduce((sum, area) => sum + area, 0)).toBeCloseTo(80, 1);
    expect(areas.every((area) => area > 20)).toBe(true);

    // A night file of the trade with the call that must come out: tests/cases/SOURCE.md.
    await page.goto(`${running.httpUrl}/#/sites/new`);
    const night = readFileSync(new URL("../cases/01.json", import.meta.url));
    await page
      .getByLabel("See what a night file comes to")
      .setInputFiles({ name: "night.json", mimeType: "application/json", buffer: night });
    await page.locator(".set-up-calls .call-pour").waitFor();
    await close();
  });
});
