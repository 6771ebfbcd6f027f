// The board in a real browser: a zone for each call, every size, both themes, both languages, keyboard.
import { sampleAlarm } from "../support/sample-alarms.ts";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type BoardServer, startBoardServer } from "../support/board-server.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

let server: BoardServer;
beforeAll(async () => {
  server = await startBoardServer();
});
afterAll(() => server.kill());

const WORDS = {
  en: ["WAIT", "POUR", "ABRADE", "FINISHED", "WAIT", "WAIT"],
  es: ["ESPERAR", "APLICAR", "LIJAR", "TERMINADO", "ESPERAR", "ESPERAR"],
} as const;

describe("the board", () => {
  it.each([
    [390, 844, "en", "light"],
    [390, 844, "es", "dark"],
    [360, 740, "es", "light"],
    [768, 1024, "en", "dark"],
    [1280, 800, "es", "dark"],
    [3840, 2160, "en", "light"],
  ] as const)(
    "%d x %d, %s, %s: six calls, nothing cut off, targets for gloves",
    async (widthPx, heightPx, language, theme) => {
      const { page, close } = await openPage(
        server.url,
        { widthPx, heightPx, touch: widthPx < 800 },
        { language, theme, units: "us" },
      );
      await page.locator(".row").nth(4).waitFor();
      expect(await page.locator(".row .call").allInnerTexts()).toEqual(WORDS[language]);
      expect(await page.locator(".strip svg").count()).toBe(6);
      expect(await overflowPx(page)).toBe(0);
      expect(await smallTargets(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.lang)).toBe(language);
      const paper = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
      expect(paper).toBe(theme === "light" ? "rgb(251, 250, 246)" : "rgb(21, 18, 13)");
      await close();
    },
  );

  it("says why, until when and what comes next, with units in both systems", async () => {
    const { page, close } = await openPage(server.url, {}, { language: "en", units: "us" });
    const slip = page.locator(".row", { hasText: "Slip bay, river door" });
    await slip.waitFor();
    const words = (await slip.innerText()).replaceAll("\u00a0", " ");
    expect(words).toContain("Slab may fall to 2 °F (1.1 °C) above dew point at 12:11 pm. Limit 5.4 °F (3 °C).");
    expect(words).toContain("Pour from about 5:20 pm (in 11 h 15), chance 82 %.");
    expect(words).toContain("read 1 min ago");
    await close();
  });

  it("changes language, units and colours by one tap each, and remembers them", async () => {
    const { page, close } = await openPage(server.url, {}, { language: "en", units: "us", theme: "light" });
    await page.getByRole("button", { name: "ES: cambiar a español" }).click();
    await page.getByText("Empiece antes de 11:41").waitFor();
    await page.getByRole("button", { name: "°F: mostrar °C" }).click();
    await page.getByText("Empiece antes de 11:41").waitFor();
    await page.getByRole("button", { name: /Colores de día o de noche/ }).click();
    await page.getByRole("button", { name: /Colores de día o de noche/ }).click();
    expect(await page.evaluate(() => document.documentElement.dataset["theme"])).toBe("dark");
    await page.reload();
    await page.getByText("Empiece antes de 11:41").waitFor();
    expect(await page.evaluate(() => document.documentElement.dataset["theme"])).toBe("dark");
    await close();
  });

  it("is reached by keyboard alone: skip link, rows, zone, and back", async () => {
    const { page, close } = await openPage(server.url, {}, { language: "en", units: "us" });
    await page.locator(".row").nth(4).waitFor();
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Skip to content");
    await page.keyboard.press("Enter");
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("content");
    // The come-back list lies on the way: every zone of it is a stop, and so is its print button; then the rows.
    const stops: string[] = [];
    for (let count = 0; count < 16; count++) {
      await page.keyboard.press("Tab");
      const stop = await page.evaluate(
        () => document.activeElement?.getAttribute("aria-label") ?? document.activeElement?.textContent ?? "",
      );
      stops.push(stop);
      if (stop === "Slip bay, inner: why, and write the journal") break;
    }
    expect(stops.at(-1)).toBe("Slip bay, inner: why, and write the journal");
    expect(stops.some((stop) => stop.includes("Slip bay, inner") && !stop.endsWith("write the journal"))).toBe(true);
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Slip bay, inner" }).waitFor();
    await page.goBack();
    await page.locator(".row").nth(4).waitFor();
    await close();
  });

  it("follows the stream: a new call shows without a reload", async () => {
    const { page, close } = await openPage(server.url, {}, { language: "en", units: "us" });
    const inner = page.locator(".row", { hasText: "Slip bay, inner" });
    await inner.getByText("POUR", { exact: true }).waitFor();
    const board = (await (await fetch(`${server.url}/api/v1/sites/boathouse/board`)).json()) as {
      zones: { call: object }[];
    };
    await server.tell("call", { ...board.zones[1]?.call, call: "wait", limiting: "dew-margin" });
    await inner.getByText("WAIT", { exact: true }).waitFor();
    server.alarms.push(sampleAlarm({ zones: ["inner"] }));
    await server.tell("alarm", server.alarms[0]);
    await expect
      .poll(() => page.getByRole("alert").allInnerTexts())
      .toContainEqual(expect.stringContaining("Slip bay, inner: dew threatens the film"));
    await page.getByRole("link", { name: /dew threatens the film/ }).waitFor();
    server.alarms.length = 0;
    await close();
  });

  it("needs no chart code, and at most ninety-five kilobytes of script before it is drawn", async () => {
    const blocked = await openPage("about:blank", { keepsNothing: true }, null, /ERR_FAILED|night-chart/);
    await blocked.page.route("**/night-chart-*.js", (route) => route.abort());
    await blocked.page.goto(server.url);
    await blocked.page.locator(".row").nth(4).waitFor();
    await blocked.page.getByRole("link", { name: /^Slip bay, river door/ }).click();
    await blocked.page.getByText("The chart could not be loaded").waitFor();
    await blocked.page.getByRole("button", { name: "Looked at it" }).waitFor();
    await blocked.close();

    const folder = await builtDashboard();
    const page = readFileSync(join(folder, "index.html"), "utf8");
    const first = [...page.matchAll(/(?:src|href)="\/(assets\/[^"]+\.js)"/g)].map((match) => match[1] ?? "");
    const language = readdirSync(join(folder, "assets"))
      .filter((name) => /^es-.*\.js$/.test(name))
      .map((name) => `assets/${name}`);
    expect(first.length).toBeGreaterThan(0);
    expect(language).toHaveLength(1);
    const bytes = [...first, ...language].map((name) => gzipSync(readFileSync(join(folder, name))).length);
    expect(bytes.reduce((sum, one) => sum + one, 0)).toBeLessThanOrEqual(95_000);
  });
});

describe("several sites", () => {
  it("are offered to choose from, and the choice stays", async () => {
    const many = await startBoardServer({ sites: 3 });
    const { page, close } = await openPage(many.url, {}, { language: "en" });
    await page.getByRole("heading", { name: "Choose a site" }).waitFor();
    expect(await smallTargets(page)).toEqual([]);
    await page.getByRole("link", { name: "Otter Landing boathouse", exact: true }).click();
    await page.locator(".row").nth(4).waitFor();
    await page.goto(`${many.url}/#/`);
    await page.locator(".row").nth(4).waitFor();
    await page.getByRole("link", { name: "More" }).click();
    await page.getByRole("link", { name: "Sites" }).click();
    await page.getByRole("heading", { name: "Choose a site" }).waitFor();
    await close();
    await many.kill();
  });
});
