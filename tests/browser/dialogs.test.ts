// Every form of the journal as a dialog: opened, filled and put away by keyboard alone, read by a screen reader, whole on a phone.
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { enJournal } from "../../dashboard/text/en-journal.ts";
import { esJournal } from "../../dashboard/text/es-journal.ts";
import { DAILY_ACTS, RARE_ACTS } from "../../dashboard/features/journal/acts.ts";
import { type BoardServer, startBoardServer } from "../support/board-server.ts";
import { lookOver } from "./look-over.ts";
import { openPage, smallTargets } from "./open-page.ts";

let server: BoardServer;
beforeAll(async () => {
  server = await startBoardServer();
});
afterAll(() => server.kill());

/** Whether the keyboard is inside of the dialog; past its last field the browser's own frame has it for a moment. */
const isInside = (page: Page) =>
  page.evaluate(() => {
    const at = document.activeElement;
    return at === document.body || (at?.closest("dialog[open]") ?? null) !== null;
  });

/** What stands in the dialog and reaches out of the window at the side. */
const cutOff = (page: Page) =>
  page.evaluate(() => {
    const dialog = document.querySelector("dialog[open]");
    const box = dialog?.getBoundingClientRect();
    if (dialog === null || box === undefined) return ["no dialog"];
    const found = dialog.scrollWidth > dialog.clientWidth ? [`${dialog.scrollWidth} px in ${dialog.clientWidth}`] : [];
    return box.left < 0 || box.right > innerWidth || box.bottom > innerHeight ? [...found, "out of the window"] : found;
  });

describe.each([
  { widthPx: 360, heightPx: 740, language: "en", units: "us", theme: "dark" },
  { widthPx: 1280, heightPx: 800, language: "es", units: "si", theme: "light" },
] as const)("$widthPx pixels wide, $language, $theme", ({ widthPx, heightPx, ...prefs }) => {
  it("each opens by Enter, keeps the keyboard, and gives it back at Escape, having written nothing", async () => {
    server.entries.length = 0;
    const words = prefs.language === "en" ? enJournal : esJournal;
    const address = `${server.url}/#/site/boathouse/zone/rigging`;
    const { page, close } = await openPage(address, { widthPx, heightPx, touch: widthPx < 700 }, prefs);
    await page.getByRole("button", { name: words.more, exact: true }).click();
    const found: string[] = [];
    for (const act of [...DAILY_ACTS, ...RARE_ACTS]) {
      const button = page.locator(".pad").getByRole("button", { name: words.acts[act], exact: true });
      await button.focus();
      await page.keyboard.press("Enter");
      const dialog = page.getByRole("dialog", { name: new RegExp(`^${words.acts[act]}`) });
      await dialog.waitFor();
      expect(await isInside(page), act).toBe(true);
      const stops = await dialog.locator("button, input, select, textarea").count();
      for (let stop = 0; stop < stops + 2; stop++) {
        await page.keyboard.press("Tab");
        if (!(await isInside(page))) found.push(`${act}: the keyboard left it after ${stop + 1}`);
      }
      found.push(...(await lookOver(page, act, { within: "dialog[open]", widthsPx: [] })));
      found.push(...(await cutOff(page)).map((one) => `${act}: ${one}`));
      found.push(...(await smallTargets(page)).map((one) => `${act}: small: ${one}`));
      await page.keyboard.press("Escape");
      await dialog.waitFor({ state: "detached" });
      if (!(await button.evaluate((one) => one === document.activeElement)))
        found.push(`${act}: the keyboard was not given back`);
    }
    expect(found).toEqual([]);
    expect(server.entries).toEqual([]);
    await close();
  });
});

it("who asks for less motion gets none", async () => {
  const { page, close } = await openPage(`${server.url}/#/site/boathouse/zone/slip`);
  await page.emulateMedia({ reducedMotion: "reduce" });
  await page.locator(".rules").waitFor();
  const moving = await page.evaluate(
    () =>
      [...document.querySelectorAll("*")].filter((one) => {
        const { animationName, transitionDuration, scrollBehavior } = getComputedStyle(one);
        return animationName !== "none" || !/^0s(, 0s)*$/.test(transitionDuration) || scrollBehavior === "smooth";
      }).length,
  );
  expect(moving).toBe(0);
  expect(await page.evaluate(() => document.getAnimations().length)).toBe(0);
  await close();
});
