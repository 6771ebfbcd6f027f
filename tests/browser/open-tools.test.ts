// Tools while they are in use: a mix that runs, a recipe that is tried, drawing, a photo that is taken. As on every page
// axe-core finds nothing in either theme, and nothing is cut off.
import type { Page } from "playwright-core";
import sharp from "sharp";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { materialText } from "../../dashboard/text/material.ts";
import { planText } from "../../dashboard/text/plan.ts";
import { recordText } from "../../dashboard/text/record.ts";
import { sensorsText } from "../../dashboard/text/sensors.ts";
import { DICTIONARIES } from "../dashboard/voice.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { runApp, type RunningApp, valueOf } from "../support/running-app.ts";
import { EPOXY } from "../support/sample-takeoff.ts";
import { SHEET, SITE, ZONE } from "../support/small-site.ts";
import { lookOver, settled } from "./look-over.ts";
import { openPage, type OpenPage } from "./open-page.ts";

const OUTLINE = [
  { xM: 2, yM: 2 },
  { xM: 12, yM: 2 },
  { xM: 12, yM: 8 },
  { xM: 2, yM: 8 },
];

let running: RunningApp;
beforeAll(async () => {
  running = await runApp({ dashboardDir: await builtDashboard() });
  valueOf(await running.app.desk.putSheet({ ...SHEET, material: EPOXY }));
  valueOf(await running.app.desk.putZone(SITE.id, { ...ZONE, outline: OUTLINE }, "change"));
}, 300_000);
afterAll(() => running.end());

describe.each([
  { widthPx: 1280, heightPx: 800, language: "en", units: "us", theme: "light" },
  { widthPx: 360, heightPx: 740, language: "es", units: "si", theme: "dark" },
] as const)("$widthPx pixels wide, $language, $theme", ({ widthPx, heightPx, ...prefs }) => {
  const text = DICTIONARIES[prefs.language];
  let opened: OpenPage;
  let page: Page;
  let found: string[];
  /** A refused try is told by the browser too. */
  const refused = /status of 4\d\d/;
  const go = async (path: string) => {
    opened = await openPage(`${running.httpUrl}/#/site/${SITE.id}${path}`, { widthPx, heightPx }, prefs, refused);
    page = opened.page;
    await settled(page);
  };
  beforeEach(() => {
    found = [];
  });
  const look = async (what: string) => {
    found.push(...(await lookOver(page, what, { widthsPx: [360, 1280] })));
  };
  const end = async () => {
    expect(found).toEqual([]);
    await opened.close();
  };
  const press = (name: string) => page.locator("main").getByRole("button", { name, exact: true }).first().click();
  const tap = async (shares: readonly (readonly [x: number, y: number])[]) => {
    const paper = page.locator("svg.plan-paper");
    await paper.scrollIntoViewIfNeeded();
    const box = await paper.boundingBox();
    if (box === null) throw new Error("no paper");
    for (const [x, y] of shares) await page.mouse.click(box.x + x * box.width, box.y + y * box.height);
  };

  it("the mixing card, still and while a mix runs", async () => {
    await go(`/material/${ZONE.id}`);
    const words = materialText(text);
    await press(words.cardOpen);
    await page.getByRole("heading", { name: words.batchOf(1, 3) }).waitFor();
    await look("mixing card");
    await press(words.start);
    await page.getByRole("timer").waitFor();
    await look("mixing card, running");
    await press(words.discard);
    await end();
  });

  it("a recipe: each shape to begin with, what it gives, and what does not fit", async () => {
    await go("/sensors");
    const words = sensorsText(text);
    for (const shape of Object.values(words.shapes)) {
      await page.locator(".recipes .choice-option", { hasText: shape }).click();
      await press(words.tryIt);
      await page.locator(".recipe-answer dd").first().waitFor();
    }
    await look("recipe, tried");
    await page.getByLabel(words.message, { exact: true }).fill("{}");
    await press(words.tryIt);
    await page.locator(".recipes").getByText(words.givesNothing).or(page.getByText(words.faults)).first().waitFor();
    await look("recipe, nothing given");
    await page.getByLabel(words.recipe, { exact: true }).fill("{");
    await press(words.tryIt);
    await page.getByRole("alert").filter({ hasText: words.notJson }).waitFor();
    await look("recipe, not JSON");
    await end();
  });

  it("drawing: an outline with its corners, one that crosses itself, a joint, the size of the paper", async () => {
    await go("/set-up/floor");
    const words = planText(text);
    await press(words.change);
    await page.locator("summary", { hasText: words.corners(4) }).click();
    await look("an outline");
    await press(words.cancel);
    await press(words.newZone);
    await tap([
      [0.7, 0.3],
      [0.9, 0.6],
      [0.7, 0.6],
      [0.9, 0.3],
    ]);
    await page.getByRole("button", { name: words.close, exact: true }).click();
    await page.getByText(words.faults["crosses-itself"]).first().waitFor();
    await look("an outline that crosses itself");
    await press(words.cancel);
    await press(words.split);
    const x = 7 / 30;
    await tap([
      [x, 0.02],
      [x, 0.98],
    ]);
    await page.getByText(words.jointParts(2)).waitFor();
    await look("a joint");
    await press(words.cancel);
    await press(words.pictureTitle);
    await page.getByLabel(words.sizeWidth).fill("0");
    await page.getByText(words.faults.paper).waitFor();
    await look("the size of the paper");
    await press(words.done);
    await end();
  });

  it("a photo for the record: without a picture, and taken", async () => {
    await go(`/record/${ZONE.id}`);
    const words = recordText(text);
    await press(words.photoSend);
    await page.getByRole("alert").filter({ hasText: words.photoNeed }).waitFor();
    await look("no picture yet");
    const picture = await sharp({ create: { width: 320, height: 240, channels: 3, background: "#c9c4b8" } })
      .jpeg()
      .toBuffer();
    await page
      .getByLabel(words.photoFile)
      .setInputFiles({ name: "floor.jpg", mimeType: "image/jpeg", buffer: picture });
    await press(words.photoSend);
    await page.getByText(words.photoKept).waitFor();
    await look("a picture taken");
    await end();
  });
});
