// The zone page: the chart that explains, the rules, and a journal that really writes.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type BoardServer, startBoardServer } from "../support/board-server.ts";
import { axeFinds } from "./axe.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

let server: BoardServer;
beforeAll(async () => {
  server = await startBoardServer();
});
afterAll(() => server.kill());

const zone = (id: string) => `${server.url}/#/site/boathouse/zone/${id}`;

describe("the zone page", () => {
  it.each([
    [390, 844, "en", "light"],
    [360, 740, "es", "dark"],
    [1280, 800, "es", "light"],
  ] as const)("%d x %d, %s, %s: chart, rules, numbers, nothing cut off", async (widthPx, heightPx, language, theme) => {
    const { page, close } = await openPage(
      zone("slip"),
      { widthPx, heightPx, touch: widthPx < 800 },
      { language, theme, units: "us" },
    );
    await page.locator(".line-slab path").first().waitFor({ timeout: 30_000 });
    expect(await page.locator(".chart-pair svg.recharts-surface").count()).toBeGreaterThanOrEqual(2);
    expect(await page.locator(".lane-window").count()).toBe(1);
    expect(await page.locator(".rules tbody tr").count()).toBe(2);
    await page.locator(".rules-more").click();
    expect(await page.locator(".rules tbody tr").count()).toBe(37);
    expect(await overflowPx(page)).toBe(0);
    expect(await smallTargets(page)).toEqual([]);
    expect(await axeFinds(page)).toEqual([]);
    const words = await page.locator("main").innerText();
    expect(words).not.toMatch(/undefined|NaN|\d\s*K\b/);
    await close();
  });

  it.each([
    [360, 740, "es", "dark"],
    [1440, 900, "en", "light"],
  ] as const)(
    "%d x %d, %s, %s: a window that will be lost, and what heat would do",
    async (widthPx, heightPx, language, theme) => {
      server.entries.length = 0;
      server.questions.length = 0;
      const { page, close } = await openPage(
        zone("boiler"),
        { widthPx, heightPx, touch: widthPx < 800 },
        { language, theme, units: "si" },
      );
      const race = page.locator(".race");
      await race.locator("svg[role=img]").waitFor({ timeout: 30_000 });
      expect(await race.locator(".race-said").innerText()).toMatch(/83\s%/);
      // The question is asked by keyboard; the focus goes where the answer is.
      await race.getByRole("button").focus();
      await page.keyboard.press("Enter");
      await page.locator(".heat-choice").nth(3).waitFor({ timeout: 30_000 });
      expect(await page.evaluate(() => document.activeElement?.id)).toBe("heat-title");
      expect(await page.locator(".heat-choice").count()).toBe(4);
      // A change asks anew, with the new number.
      const asked = server.questions.length;
      const power = page.locator(".dial-typed").first();
      await power.fill("90");
      await expect.poll(() => server.questions.length).toBeGreaterThan(asked);
      await expect.poll(() => server.questions.at(-1)?.heater.kW).toBe(90);
      // Nothing is written until a plan is logged.
      expect(server.entries).toEqual([]);
      await page.locator(".heat-choice input").nth(1).check();
      await page.locator(".heat-log button, button.heat-log").first().click();
      await expect.poll(() => server.entries.at(-1)?.did).toBe("heating");
      expect(server.entries.at(-1)).toMatchObject({ on: true, kW: 90, zone: null });
      expect(await overflowPx(page)).toBe(0);
      expect(await smallTargets(page)).toEqual([]);
      expect(await axeFinds(page)).toEqual([]);
      expect(await page.locator("main").innerText()).not.toMatch(/undefined|NaN|\d\s*K\b/);
      await close();
    },
  );

  it("abraded, then cleaned: two taps each, two entries, the caution beside the step", async () => {
    server.entries.length = 0;
    const { page, close } = await openPage(
      zone("rigging"),
      { widthPx: 390, heightPx: 844, touch: true },
      { language: "en", units: "us" },
    );
    await page.getByRole("button", { name: "Abraded" }).click();
    const dialog = page.getByRole("dialog");
    expect(await dialog.innerText()).toMatch(/silica dust.*respirator/s);
    expect(await dialog.innerText()).toContain(
      "The product's safety sheet, local code and licensed trades come first.",
    );
    expect(await smallTargets(page)).toEqual([]);
    expect(await axeFinds(page)).toEqual([]);
    await dialog.getByLabel("Ground").check();
    await dialog.getByRole("button", { name: "Write it down" }).click();
    await page.getByRole("status").getByText("Written: abraded.").waitFor();
    await page.getByRole("button", { name: "Cleaned" }).click();
    expect(await dialog.innerText()).toMatch(/no flame, heater, spark/);
    await dialog.getByRole("button", { name: "Write it down" }).click();
    await expect.poll(() => server.entries.length).toBe(2);
    expect(server.entries[0]).toMatchObject({ did: "abraded", how: "ground", zone: "rigging" });
    expect(server.entries[1]).toMatchObject({ did: "cleaned", zone: "rigging" });
    await page.locator(".journal").getByText("abraded: Ground").first().waitFor();

    await page.getByRole("button", { name: "Undo" }).click();
    await expect.poll(() => server.entries.length).toBe(3);
    expect(server.entries[2]).toMatchObject({ did: "undone", undoes: server.entries[1]?.id });
    await page.locator(".journal s", { hasText: "cleaned" }).waitFor();
    await close();
  });

  it("solvent: asks for somebody's word, and is held while a heater burns in the room", async () => {
    server.entries.length = 0;
    const { page, close } = await openPage(
      zone("rigging"),
      { widthPx: 390, heightPx: 844, touch: true },
      { language: "en", units: "us" },
    );
    const dialog = page.getByRole("dialog");
    const write = () => dialog.getByRole("button", { name: "Write it down" }).click();
    const solvent = async () => {
      await page.getByRole("button", { name: "Cleaned" }).click();
      await dialog.getByLabel("Solvent", { exact: true }).check();
    };
    await solvent();
    await write();
    await dialog.getByRole("alert").getByText("Look, then confirm.").waitFor();
    expect(server.entries).toEqual([]);
    await dialog.getByLabel(/no flame, heater, spark or hot tool in this room/).check();
    expect(await smallTargets(page)).toEqual([]);
    expect(await axeFinds(page)).toEqual([]);
    await write();
    await expect.poll(() => server.entries.at(-1)).toMatchObject({ did: "cleaned", solvent: true, confirmed: true });
    await page.locator(".journal").getByText("no flame, ventilated: confirmed").first().waitFor();
    await page.getByRole("button", { name: "Heating on" }).click();
    await dialog.getByLabel("Exhaust stays inside").check();
    await write();
    await expect.poll(() => server.entries.length).toBe(2);
    await solvent();
    await dialog
      .getByRole("alert")
      .getByText(/^Hold: by the journal a heater burns in this room since/)
      .waitFor();
    await write();
    expect(await dialog.isVisible()).toBe(true);
    expect(server.entries).toHaveLength(2);
    await close();
  });

  it("each rule says what it means, beside it; Escape puts it away", async () => {
    const { page, close } = await openPage(
      zone("slip"),
      { widthPx: 390, heightPx: 844, touch: true },
      { language: "es" },
    );
    const ask = page.locator(".rule-ask button").first();
    await ask.click();
    await page
      .locator(".rules .help")
      .getByText(/Qué hacer:/)
      .waitFor();
    expect(await ask.getAttribute("aria-expanded")).toBe("true");
    expect(await overflowPx(page)).toBe(0);
    await page.keyboard.press("Escape");
    await page.locator(".rules .help").waitFor({ state: "detached" });
    expect(await ask.evaluate((one) => one === document.activeElement)).toBe(true);
    await close();
  });

  it("finished: from and to are there already, and the end before the start is refused at its field", async () => {
    server.entries.length = 0;
    const { page, close } = await openPage(zone("inner"), {}, { language: "en", units: "us" });
    await page.getByRole("button", { name: "Finished" }).click();
    const dialog = page.getByRole("dialog");
    expect(await dialog.getByLabel("From").inputValue()).toBe("2026-02-03T05:00");
    await dialog.getByLabel("Until").fill("2026-02-03T04:00");
    await dialog.getByRole("button", { name: "Write it down" }).click();
    await dialog.getByRole("alert").getByText("The end lies before the start.").waitFor();
    await dialog.getByLabel("Until").fill("2026-02-03T06:00");
    await dialog.getByLabel(/Full broadcast/).check();
    await dialog.getByRole("button", { name: "Write it down" }).click();
    await expect.poll(() => server.entries.length).toBe(1);
    expect(server.entries[0]).toMatchObject({
      did: "poured",
      coat: 1,
      from: "2026-02-03T11:00:00Z",
      to: "2026-02-03T12:00:00Z",
      broadcast: "full",
    });
    await close();
  });

  it("Escape closes a form without writing", async () => {
    server.entries.length = 0;
    const { page, close } = await openPage(zone("slip"), {}, { language: "en", units: "us" });
    await page.getByRole("button", { name: "Washed" }).click();
    await page.getByRole("dialog").waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("dialog").waitFor({ state: "detached" });
    expect(server.entries).toEqual([]);
    await close();
  });

  it("a zone that is not there says so", async () => {
    const { page, close } = await openPage(zone("nowhere"), {}, { language: "en" });
    await page.getByText("There is nothing at this address.").waitFor();
    await close();
  });
});

describe("the spot check", () => {
  const REFUSED = /422/;
  it("names each wrong field, then gives the call and its reason", async () => {
    const { page, close } = await openPage(
      `${server.url}/#/spot-check`,
      { widthPx: 390, heightPx: 844, touch: true },
      { language: "en", units: "us" },
      REFUSED,
    );
    await page.getByRole("button", { name: "Give me the call" }).click();
    await page.getByText("Enter a number.").first().waitFor();
    expect(await page.getByText("Enter a number.").count()).toBe(3);
    await page.getByLabel("Slab surface").fill("400");
    await page.getByLabel("Air").fill("60");
    await page.getByLabel("Humidity").fill("70");
    await page.getByLabel("Sheet").selectOption({ label: "Clear body coat" });
    await page.getByRole("button", { name: "Give me the call" }).click();
    await page.getByText("Enter a number from −40 °F to 176 °F.").waitFor();
    await page.getByLabel("Slab surface").fill("53");
    await page.getByRole("button", { name: "Give me the call" }).click();
    // Dew point of 60 °F at 70 % is 50.1 °F: a made-up server, but its Magnus form agrees with printed tables to 0.1.
    await page.getByRole("status").getByText("WAIT", { exact: true }).waitFor();
    expect((await page.getByRole("status").innerText()).replaceAll("\u00a0", " ")).toMatch(
      /Slab 2\.\d °F \(1\.\d °C\) above dew point\. Limit 5\.4 °F \(3 °C\)\./,
    );
    await page.getByLabel("Slab surface").fill("66");
    expect(await page.getByText("WAIT", { exact: true }).count()).toBe(0);
    await page.getByRole("button", { name: "Give me the call" }).click();
    await page.getByRole("status").getByText("POUR", { exact: true }).waitFor();
    expect(await overflowPx(page)).toBe(0);
    expect(await smallTargets(page)).toEqual([]);
    expect(await axeFinds(page)).toEqual([]);
    await close();
  });
});
