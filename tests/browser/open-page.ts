// A page of the dashboard in the real browser; any error on it fails the test that opened it.
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, expect, vi } from "vitest";
import { chromiumArgs } from "../support/chromium.ts";
import { programPath } from "../../.ci/programs.ts";
import { inTime } from "./in-time.ts";

/** Machines that test are often busy with more than one thing; a wait that ends early would tell nothing. */
vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

let browser: Browser;
// One browser for a file and a blank context for each page: nothing is carried from test to test, and starting is cheap.
beforeAll(async () => {
  browser = await chromium.launch({ executablePath: programPath("chromium"), headless: true, args: chromiumArgs });
});
afterAll(() => browser.close());

export interface Wishes {
  widthPx?: number;
  heightPx?: number;
  touch?: boolean;
  /** The browser keeps no page for later: then a test sees and can stop every request of the page itself. */
  keepsNothing?: boolean;
}

export interface OpenPage {
  page: Page;
  /** What went wrong on the page so far: uncaught errors, and what the browser writes to its console as an error. */
  errors: string[];
  close(): Promise<void>;
}

export interface Prefs {
  language?: "en" | "es";
  units?: "us" | "si";
  theme?: "auto" | "light" | "dark";
}

/** Opens an address. Errors of fetches that a test provokes itself are told apart by `expected`. */
export async function openPage(
  url: string,
  wishes: Wishes = {},
  prefs: Prefs | null = null,
  expected: RegExp | null = null,
): Promise<OpenPage> {
  const context = await inTime(
    "a blank context",
    browser.newContext({
      viewport: { width: wishes.widthPx ?? 1280, height: wishes.heightPx ?? 800 },
      hasTouch: wishes.touch ?? false,
      serviceWorkers: wishes.keepsNothing === true ? "block" : "allow",
      locale: "en-US",
      timezoneId: "UTC",
    }),
  );
  context.setDefaultTimeout(60_000);
  const page = await inTime("a blank page", context.newPage());
  const errors: string[] = [];
  page.on("pageerror", (error) => errors.push(error.stack ?? error.message));
  page.on("console", (message) => {
    if (message.type() === "error" && expected?.test(message.text()) !== true) errors.push(message.text());
  });
  if (prefs !== null) {
    await page.addInitScript((kept) => {
      if (localStorage.getItem("nightslab.prefs") === null) localStorage.setItem("nightslab.prefs", kept);
    }, JSON.stringify(prefs));
  }
  await page.goto(url);
  return {
    page,
    errors,
    async close() {
      await inTime("closing a page", context.close());
      expect(errors).toEqual([]);
    },
  };
}

/** Pixels by which the page is wider than the window; 0 when nothing is cut off at the side. */
export function overflowPx(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

/** Buttons, links and fields that are smaller than a gloved finger, with their size. */
export function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const small: string[] = [];
    for (const element of document.querySelectorAll<HTMLElement>(
      "button, a, select, input:not([type=radio]):not([type=checkbox]), .check, .choice-option",
    )) {
      if (element.matches(".skip") || element.offsetParent === null) continue;
      // The link of a zone covers its whole row by its ::after.
      const box = (element.closest(".row") !== null ? element.closest(".row")! : element).getBoundingClientRect();
      if (box.height < 56 || box.width < 44)
        small.push(`${element.textContent?.trim() ?? element.tagName} ${box.width}x${box.height}`);
    }
    return small;
  });
}
