// The server goes away: the board says so, looks old, outlives a reload, takes entries, and comes back by itself.
import { describe, expect, it } from "vitest";
import { startBoardServer } from "../support/board-server.ts";
import { openPage } from "./open-page.ts";

// What the browser itself writes when a fetch finds nobody.
const NOBODY =
  /ERR_CONNECTION_REFUSED|ERR_SOCKET_NOT_CONNECTED|ERR_EMPTY_RESPONSE|ERR_INCOMPLETE_CHUNKED_ENCODING|ERR_CONNECTION_RESET|ERR_FAILED|Failed to fetch/;

describe("when the server is gone", () => {
  it("the board ages, survives a reload, keeps entries, and recovers", async () => {
    const server = await startBoardServer();
    const { page, close } = await openPage(
      server.url,
      { widthPx: 390, heightPx: 844, touch: true },
      { language: "en", units: "us" },
      NOBODY,
    );
    await page.locator(".row").nth(4).waitFor();
    expect(await page.locator(".away").count()).toBe(0);
    // The page itself is kept last, after all that it is made of.
    await expect
      .poll(() => page.evaluate(async () => (await caches.match("/")) !== undefined), { timeout: 20_000 })
      .toBe(true);

    await server.kill();
    const bar = page.getByText(/Server out of reach since 6:05\sam; this board is \d+\smin old\./);
    await bar.waitFor({ timeout: 20_000 });
    expect(await page.locator(".board-old").count()).toBe(1);
    expect(await page.locator(".call-old").count()).toBe(6);

    await page.reload();
    await page.locator(".row").nth(4).waitFor();
    await bar.waitFor({ timeout: 20_000 });
    expect(await page.locator(".row .call").allInnerTexts()).toEqual([
      "WAIT",
      "POUR",
      "ABRADE",
      "FINISHED",
      "WAIT",
      "WAIT",
    ]);

    await page.getByRole("link", { name: "Rigging room: why, and write the journal" }).click();
    await page.getByRole("button", { name: "Abraded" }).click();
    await page.getByRole("button", { name: "Write it down" }).click();
    await page.getByText("1 entry waits for the server.").waitFor();
    expect(server.entries).toEqual([]);

    await server.revive();
    await expect.poll(() => server.entries.length, { timeout: 30_000 }).toBe(1);
    await bar.waitFor({ state: "detached", timeout: 30_000 });
    expect(server.entries[0]).toMatchObject({ did: "abraded", zone: "rigging", how: "screened" });
    await server.kill();
    await close();
  });
});
