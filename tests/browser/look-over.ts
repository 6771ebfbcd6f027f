// What is asked of every page wherever it stands: nothing that axe-core finds in either theme, nothing cut off at the side
// from a small phone to a wall screen.
import type { Page } from "playwright-core";
import { expect } from "vitest";
import { axeFinds } from "./axe.ts";
import { inTime } from "./in-time.ts";
import { overflowPx } from "./open-page.ts";

export const WIDTHS_PX = [360, 390, 768, 1280, 2560, 3840] as const;

/** The page asked for stands: nothing is being fetched any more, and nothing has changed for a moment. */
export async function settled(page: Page): Promise<void> {
  await page.locator("main :is(h1, h2, h3)").first().waitFor();
  await page.getByText(/^(Fetching|Trayendo)/).waitFor({ state: "detached" });
  const words = () => page.locator("main").innerText();
  let before = await words();
  await expect
    .poll(
      async () => {
        await page.waitForTimeout(120);
        const now = await words();
        const same = now === before;
        before = now;
        return same;
      },
      { interval: 1, timeout: 20_000 },
    )
    .toBe(true);
}

/** Everything in the theme that the page stands in, and the colours in the other one. */
async function inBothThemes(page: Page, within: string | undefined): Promise<string[]> {
  const theme = await page.evaluate(() => document.documentElement.dataset["theme"]);
  const found = await axeFinds(page, { within });
  const other = theme === "dark" ? "light" : "dark";
  await page.evaluate((to) => (document.documentElement.dataset["theme"] = to), other);
  found.push(...(await axeFinds(page, { within, only: ["color-contrast"] })).map((one) => `${other}: ${one}`));
  await page.evaluate((to) => (document.documentElement.dataset["theme"] = to), theme);
  return found;
}

/** Pixels cut off after the page has drawn itself anew for this width. */
async function cutOffAt(page: Page, widthPx: number, heightPx: number): Promise<number> {
  await page.setViewportSize({ width: widthPx, height: heightPx });
  await page.evaluate(
    () => new Promise<void>((done) => requestAnimationFrame(() => requestAnimationFrame(() => done()))),
  );
  if ((await overflowPx(page)) === 0) return 0;
  // A drawing measures itself first, and is drawn a moment later.
  await page.waitForTimeout(300);
  return overflowPx(page);
}

export interface Look {
  /** Only what stands in here is held to the rules; the whole page unless given. */
  readonly within?: string;
  /** Widths at which nothing may be cut off; all unless given. */
  readonly widthsPx?: readonly number[];
}

/** One line for each finding. */
export async function lookOver(page: Page, where: string, look: Look = {}): Promise<string[]> {
  const found = await inTime(`${where}, axe`, inBothThemes(page, look.within));
  const size = page.viewportSize();
  if (size === null) throw new Error("a page without a size");
  for (const widthPx of look.widthsPx ?? WIDTHS_PX) {
    const heightPx = widthPx < 700 ? 740 : Math.round(widthPx * 0.6);
    const overflow = await inTime(`${where}, ${widthPx} pixels wide`, cutOffAt(page, widthPx, heightPx));
    if (overflow > 0) found.push(`${overflow} px too wide at ${widthPx}`);
  }
  await inTime(`${where}, back to its width`, page.setViewportSize(size));
  return found.map((one) => `${where}: ${one}`);
}
