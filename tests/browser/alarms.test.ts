// Alarms in a real browser: over the board, answered with one tap also while the server is away, and who is told.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { DeliveryBody } from "#contract/notify.ts";
import { type BoardServer, startBoardServer } from "../support/board-server.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { runApp, type RunningApp } from "../support/running-app.ts";
import { sampleAlarm } from "../support/sample-alarms.ts";
import { SITE } from "../support/small-site.ts";
import { axeFinds } from "./axe.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

const PHONE = { widthPx: 390, heightPx: 844, touch: true };
const NOBODY = /ERR_CONNECTION|ERR_SOCKET_NOT_CONNECTED|ERR_EMPTY|ERR_INCOMPLETE|ERR_FAILED|Failed to fetch/;
const DELIVERY: DeliveryBody = {
  ...{ kind: "alarm", site: "boathouse", alarm: "a1", step: "raised", level: "wake", contact: "c-1" },
  ...{ name: "Luis Ortega", way: "mail", wayKind: "mail", state: "given-up", tries: 8, waitsUntil: null, sentAt: null },
  ...{ id: 1, madeAt: "2026-02-03T11:40:00Z", lastError: "no such mailbox", title: "t", body: "b" },
};

describe("alarms of a site", () => {
  let server: BoardServer;
  beforeAll(async () => {
    server = await startBoardServer();
    server.alarms.push(
      sampleAlarm(),
      sampleAlarm({ id: "a2", kind: "battery-low", level: "list", zones: ["inner"] }),
      sampleAlarm({ id: "a3", kind: "server-away", level: "tell", zones: [], state: "cleared" }),
    );
    server.deliveries.push(DELIVERY);
  });

  it("stand over the board, are answered with one tap, and wait where the server is away", async () => {
    const { page, close } = await openPage(server.url, PHONE, { language: "en", units: "us" }, NOBODY);
    await page.getByRole("link", { name: /Act now.*dew threatens the film/ }).click();
    const card = page.locator(".alarm-card", { hasText: "dew threatens the film" });
    await card.getByText("Why it rang, whom it told").click();
    await card.getByText("not delivered").waitFor();
    await card.getByText("no such mailbox").waitFor();
    await page.getByText("Over: The server was away").waitFor();
    expect(await page.getByRole("link", { name: "Alarms" }).innerText()).toMatch(/Alarms\s*1/);
    expect(await overflowPx(page)).toBe(0);
    expect(await smallTargets(page)).toEqual([]);
    expect(await axeFinds(page)).toEqual([]);

    await card.getByRole("button", { name: "Seen, I take care" }).click();
    await card.getByText("Seen at 6:05").waitFor();
    expect(server.alarms[0]?.state).toBe("acknowledged");

    await server.kill();
    await page.locator(".alarm-card", { hasText: "battery" }).getByRole("button", { name: "Put off 3 h" }).click();
    await page.getByText("Not delivered yet").waitFor();
    expect(server.alarms[1]?.state).toBe("open");
    await server.revive();
    await page.getByText(/^Put off until 9:0\d/).waitFor({ timeout: 40_000 });
    expect(server.alarms[1]?.state).toBe("snoozed");
    await close();
    await server.kill();
  });
});

describe("who is told", () => {
  let running: RunningApp;
  beforeAll(async () => {
    running = await runApp({ dashboardDir: await builtDashboard() });
  });
  afterAll(() => running.end());

  it("is set up, put in order by keyboard, tried, and taken out, in Spanish and English", async () => {
    const url = `${running.httpUrl}/#/site/${SITE.id}/alarms/who`;
    const { page, close } = await openPage(url, PHONE, { language: "en", units: "us" }, /status of 409/);
    for (const name of ["Rosa Lindt", "Luis Ortega"]) {
      await page.getByRole("button", { name: "Add a contact" }).click();
      await page.getByLabel("Name").fill(name);
      await page.getByRole("button", { name: "Save" }).click();
      await page.getByRole("heading", { name }).waitFor();
    }
    expect(await smallTargets(page)).toEqual([]);
    expect(await axeFinds(page)).toEqual([]);
    expect(await overflowPx(page)).toBe(0);
    const order = page.getByRole("group", { name: "Add to the order" });
    await order.getByRole("radio", { name: "Rosa Lindt" }).click();
    await page.getByText("1. Rosa Lindt").waitFor();
    await order.getByRole("radio", { name: "Luis Ortega" }).click();
    await page.getByText("2. Luis Ortega").waitFor();
    await page.getByRole("button", { name: "Luis Ortega: earlier" }).press("Enter");
    await page.getByText("1. Luis Ortega").waitFor();
    const rosa = page.locator(".contact", { hasText: "Rosa Lindt" });
    await rosa.getByRole("button", { name: "Change" }).click();
    await page.getByLabel("Web hook address").fill("http://127.0.0.1:9/here");
    await page.getByRole("button", { name: "Save" }).click();
    await page.getByText("Secret that signs this web hook").waitFor();
    await rosa.getByRole("button", { name: "Send a test" }).click();
    await rosa.getByText("What came of the test").waitFor();
    await rosa.getByText(/^×\s+Web hook 127\.0\.0\.1:9/).waitFor();

    await rosa.getByRole("button", { name: "Change" }).click();
    await page.getByLabel("E-mail address").fill("rosa@lindt.example");
    await page.getByRole("button", { name: "Save" }).click();
    // This server has no mail server, and says so.
    await page.getByText("/mail").waitFor();
    await page.getByRole("button", { name: "Cancel" }).click();
    await page.getByRole("button", { name: "Make an address" }).click();
    const address = await page.locator("code", { hasText: "/calendar/" }).innerText();
    expect(await (await fetch(address)).text()).toContain("X-WR-CALNAME:");
    await page.getByRole("button", { name: "Withdraw: My phone" }).click();
    await page.locator("code", { hasText: "/calendar/" }).waitFor({ state: "detached" });
    expect((await fetch(address)).status).toBe(404);
    await page.getByRole("button", { name: "ES: cambiar a español" }).click();
    await page.getByRole("heading", { name: "A quién se despierta primero" }).waitFor();
    await page.getByRole("button", { name: "Quitar: Rosa Lindt" }).click();
    await page.getByRole("button", { name: "¿Seguro? Quitar" }).click();
    await page.getByRole("heading", { name: "Rosa Lindt" }).waitFor({ state: "detached" });
    await close();
  });
});
