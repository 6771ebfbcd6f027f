// The page of the night in the browser: chosen by the hour, turned with one tap, nothing cut off.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type BoardServer, startBoardServer } from "../support/board-server.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

let server: BoardServer;
beforeAll(async () => {
  server = await startBoardServer();
});
afterAll(() => server.kill());

describe("the page of the night", () => {
  it.each([
    [360, 740, "es", "dark", "Esta mañana", "Esta noche", "Trabaje en este orden", "Antes de irse"],
    [1280, 800, "en", "light", "This morning", "Tonight", "Work in this order", "Before you leave"],
  ] as const)(
    "%d x %d, %s, %s: at five past six it is the morning's; one tap, and it is the evening's",
    async (widthPx, heightPx, language, theme, morning, tonight, work, before) => {
      const wishes = { widthPx, heightPx, touch: widthPx < 800 };
      const { page, close } = await openPage(`${server.url}/#/site/boathouse`, wishes, { language, theme });
      await page.locator(".board-ways").getByRole("link", { name: morning }).click();
      await page.getByRole("heading", { name: work }).waitFor();
      // Every zone stands in the list once, and the one that must be begun first is numbered so.
      expect(await page.locator(".night-work > li").count()).toBe(6);
      expect(await overflowPx(page)).toBe(0);
      expect(await smallTargets(page)).toEqual([]);
      await page.locator(".night").getByRole("link", { name: tonight }).click();
      await page.getByRole("heading", { name: before }).waitFor();
      await page.getByText(/Ana Ruiz.+Lee Ode/).waitFor();
      expect(await page.locator(".night-zones > li").count()).toBe(6);
      // A zone without readings is at stake, whatever the night is like.
      expect(await page.locator(".night-zones > li").first().getAttribute("class")).toBe("night-level-3");
      expect(await overflowPx(page)).toBe(0);
      expect(await smallTargets(page)).toEqual([]);
      expect(await page.locator("main").innerText()).not.toMatch(/undefined|NaN|\d\s*K\b/);
      await close();
    },
  );
});
