// The material page in a real browser before the whole server: the order, the mixing card over a reload and without a
// network, crew and resin that change what is reckoned.
import sharp from "sharp";
import { afterAll, beforeAll, expect, it } from "vitest";
import { builtDashboard } from "../support/built-dashboard.ts";
import { runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { EPOXY } from "../support/sample-takeoff.ts";
import { SHEET, SITE, ZONE } from "../support/small-site.ts";
import { axeFinds } from "./axe.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

let running: RunningApp;
beforeAll(async () => {
  running = await runApp({ dashboardDir: await builtDashboard() });
  valueOf(await running.app.desk.putSheet({ ...SHEET, material: EPOXY }));
}, 300_000);
afterAll(() => running.end());

const address = (zone = "") => `${running.httpUrl}/#/site/${SITE.id}/material${zone}`;
const takeoff = () => valueOf(running.app.desk.takeoff(SITE.id, ZONE.id)).zones[0];
const written = (did: string) =>
  valueOf(running.app.desk.journal(SITE.id, null, null)).entries.filter((entry) => entry.did === did);

it("shows what every coat takes and gives the order as a list and as CSV", async () => {
  const { page, close } = await openPage(address(), {}, { language: "en", units: "us" });
  // 60 m² x 0.44 mm x 1.08 are 28.5 L: three kits of 11.4 L a coat.
  await page.getByRole("row", { name: /Body coat.*6 × 3\.01/ }).waitFor();
  await page.getByRole("heading", { name: /Coat 2: Body coat/ }).waitFor();
  await page.evaluate(() => Object.defineProperty(navigator, "clipboard", { value: undefined }));
  await page.getByRole("button", { name: "Copy as CSV" }).click();
  expect(await page.getByLabel("Copy it from here:").inputValue()).toContain("Body coat,body-coat,2,");
  expect(await overflowPx(page)).toBe(0);
  await close();
});

it("keeps the clock of a mix over a reload, and the mix over a lost network", async () => {
  const wishes = { widthPx: 360, heightPx: 740, touch: true, keepsNothing: true };
  const lost = /Failed to load resource|ERR_INTERNET_DISCONNECTED/;
  const { page, close } = await openPage(address(`/${ZONE.id}`), wishes, { language: "es", units: "si" }, lost);
  await page.getByRole("button", { name: "Abrir la tarjeta de mezcla" }).click();
  await page.getByRole("heading", { name: /Lote 1 de 3/ }).waitFor();
  await page.getByLabel("Número en A", { exact: true }).fill("26-0107-A3");
  expect(await overflowPx(page)).toBe(0);
  expect(await smallTargets(page)).toEqual([]);
  expect(await axeFinds(page)).toEqual([]);
  await page.getByRole("button", { name: "Empezar a mezclar" }).click();
  // The phone was locked for five minutes: the stirring is over, the pail is not.
  await page.evaluate((fiveMin) => {
    const key = Object.keys(localStorage).find((name) => name.startsWith("nightslab.board.mix.")) as string;
    const kept = JSON.parse(localStorage.getItem(key) as string) as { run: { startedMs: number } };
    kept.run.startedMs -= fiveMin;
    localStorage.setItem(key, JSON.stringify(kept));
  }, 300_000);
  await page.reload();
  await page.getByText("Sácalo de la cubeta").waitFor();
  const [minutes] = (await page.getByRole("timer").innerText()).split(":");
  expect(Number(minutes)).toBeLessThan((takeoff()?.coats[0]?.batches?.lifeMin ?? 0) - 4);

  await page.context().setOffline(true);
  await page.getByRole("button", { name: /Ya está en el piso/ }).click();
  await page.getByRole("heading", { name: /Lote 2 de 3/ }).waitFor();
  expect(written("mixed")).toEqual([]);
  await page.context().setOffline(false);
  await until(async () => written("mixed").length === 1);
  expect(written("mixed")[0]).toMatchObject({
    zone: ZONE.id,
    ...{ coat: 0, batch: 1, volumeL: 11.4, batches: [{ part: "A", number: "26-0107-A3" }] },
  });
  // The numbers stay for the next pail.
  expect(await page.getByLabel("Número en A", { exact: true }).inputValue()).toBe("26-0107-A3");
  await close();
});

it("takes a picture of a pail: its code where the browser reads codes, the picture into the journal", async () => {
  const { page, close } = await openPage(address(`/${ZONE.id}`), {}, { language: "en", units: "us" });
  await page.evaluate(() => {
    class Reader {
      detect = async () => [{ rawValue: "25-1218-B" }];
    }
    Object.assign(globalThis, { BarcodeDetector: Reader });
  });
  await page.getByRole("button", { name: "Open the mixing card" }).click();
  const pail = await sharp({ create: { width: 640, height: 480, channels: 3, background: "#c9c4b8" } })
    .jpeg()
    .toBuffer();
  await page.getByLabel("Photograph: B").setInputFiles({ name: "pail.jpg", mimeType: "image/jpeg", buffer: pail });
  await page.getByText("The picture is in the journal.").waitFor();
  expect(await page.getByLabel("Number on B", { exact: true }).inputValue()).toBe("25-1218-B");
  await until(async () => written("photographed").length === 1);
  expect(written("photographed")[0]).toMatchObject({ of: "batch", note: "B 25-1218-B", zone: ZONE.id });
  await close();
});

it("reckons anew with the crew and the resin that are typed", async () => {
  const { page, close } = await openPage(address(`/${ZONE.id}`), {}, { language: "en", units: "us" });
  await page.getByText(/not measured/).waitFor();
  const before = takeoff()?.coats[0]?.batches?.capL ?? 0;
  await page.getByLabel("Resin temperature").fill("62");
  await page.getByRole("button", { name: "Write it down" }).click();
  await page.getByText(/62\s°F \(16\.7\s°C\), measured/).waitFor();
  const cooler = takeoff()?.coats[0]?.batches?.capL ?? 0;
  expect(cooler).toBeGreaterThan(before);
  await page.getByLabel("People", { exact: true }).fill("two");
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByText("A whole number from 1 to 100.").waitFor();
  await page.getByLabel("People", { exact: true }).fill("1");
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByText("Saved.").waitFor();
  // Three lay 90 m²/h of it, one 30: less than the 40 that were said of the zone.
  expect(takeoff()).toMatchObject({ people: 1, pourM2PerH: 40 });
  expect(takeoff()?.coats[0]?.placeM2PerH).toBeCloseTo(30, 9);
  expect(takeoff()?.coats[0]?.batches?.capL ?? 0).toBeLessThan(cooler);
  await close();
});
