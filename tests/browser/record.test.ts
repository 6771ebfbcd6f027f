// The record page in a real browser before the whole server: a coat, its files, a photo from the phone, the page for the client.
import sharp from "sharp";
import { afterAll, beforeAll, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import { spotCheck } from "#core/judge/spot-check.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { type RunningApp, runApp, until, valueOf } from "../support/running-app.ts";
import { NODE, NOON_MS, pack, SITE, ZONE } from "../support/small-site.ts";
import { axeFinds } from "./axe.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

const HOUR_MS = 3_600_000;
const at = (hours: number) => new Date(NOON_MS + hours * HOUR_MS).toISOString();
let running: RunningApp;
beforeAll(async () => {
  running = await runApp({ judge: { judgeZone, spotCheck }, dashboardDir: await builtDashboard() });
  const { desk } = running.app;
  for (const [h, more] of [
    [-8, { did: "abraded", how: "ground" }],
    [-7.8, { did: "cleaned" }],
    [-1, { did: "overrode", call: "pour", why: "Measured by hand <b>twice</b>" }],
    [
      -0.5,
      {
        did: "poured",
        coat: 0,
        from: at(-2),
        to: at(-0.5),
        batches: [{ part: "A", number: "26-0107-A3" }],
        people: ["Ana"],
      },
    ],
  ] as const)
    valueOf(await desk.addEntry(SITE.id, { at: at(h), zone: ZONE.id, by: "Ana", ...more } as never, "Ana"));
  const minutes = Array.from({ length: 6 * 12 }, (_, index) => -6 * 60 + index * 5);
  // Nothing was heard for an hour.
  for (const minute of minutes.filter((of) => of < -240 || of >= -180))
    await running.send(pack(NOON_MS + minute * 60_000, { slab: 12 + minute / 400, rh: 55 }));
  await until(
    async () =>
      valueOf(await desk.series(SITE.id, ZONE.id, NOON_MS - HOUR_MS, NOON_MS, 12)).series[`${NODE.id}/slab`] !==
      undefined,
  );
}, 300_000);
afterAll(() => running.end());

const address = () => `${running.httpUrl}/#/site/${SITE.id}/record/${ZONE.id}`;

it("shows the coat with its verdict, its override and its gaps, and gives its files", async () => {
  const { page, close } = await openPage(
    address(),
    { widthPx: 390, heightPx: 844, touch: true },
    { language: "en", units: "us" },
  );
  await page.getByRole("heading", { name: "Coat 1" }).waitFor();
  await page.getByText("A 26-0107-A3").waitFor();
  expect(await page.getByText("Measured by hand <b>twice</b>").count()).toBe(1);
  expect(await page.getByText("nothing heard").count()).toBeGreaterThan(0);
  expect(await page.getByText("No signature is claimed", { exact: false }).count()).toBe(1);
  for (const [name, type, begin] of [
    ["PDF", "application/pdf", "%PDF-"],
    ["CSV", "text/csv", ""],
    ["JSON", "application/json", "{"],
    ["Night file", "application/json", "{"],
    ["Everything of this job (zip)", "application/zip", "PK"],
  ] as const) {
    const href = await page.getByRole("link", { name, exact: true }).first().getAttribute("href");
    const answer = await page.request.get(`${running.httpUrl}${href}`);
    expect([name, answer.status()]).toEqual([name, 200]);
    expect(answer.headers()["content-type"]).toContain(type);
    expect((await answer.body()).subarray(0, begin.length).toString("latin1")).toBe(begin);
  }
  expect(await overflowPx(page)).toBe(0);
  expect(await smallTargets(page)).toEqual([]);
  expect(await axeFinds(page)).toEqual([]);
  await close();
});

it("takes a photo, keeps it without what the camera wrote, and shows it in the record", async () => {
  const exif = { IFD0: { Copyright: "camera words" } };
  const buffer = await sharp({ create: { width: 800, height: 600, channels: 3, background: "#88aa66" } })
    .withExif(exif)
    .jpeg()
    .toBuffer();
  const { page, close } = await openPage(address(), {}, { language: "es", units: "si" });
  await page.getByRole("button", { name: "Guardar la foto" }).click();
  await page.getByRole("alert").getByText("Primero tome o elija una foto.").waitFor();
  await page.getByLabel("Foto", { exact: true }).setInputFiles({ name: "floor.jpg", mimeType: "image/jpeg", buffer });
  await page.getByRole("radio", { name: "etiqueta del lote" }).check();
  await page.getByLabel("Una palabra sobre ella").fill("cubeta A");
  await page.getByRole("button", { name: "Guardar la foto" }).click();
  await page.getByText(/^Anotada en la bitácora\./).waitFor();
  const small = page.getByRole("img", { name: "cubeta A" });
  await small.scrollIntoViewIfNeeded();
  await until(() => small.evaluate((image) => (image as HTMLImageElement).naturalWidth > 0));
  const [kept] = valueOf(running.app.desk.photos(SITE.id));
  expect(kept).toMatchObject({ widthPx: 800, heightPx: 600 });
  const picture = Buffer.from(valueOf(running.app.desk.photo(SITE.id, kept?.id ?? "", "full")));
  expect(picture.includes("camera words")).toBe(false);
  const { entries } = valueOf(running.app.desk.journal(SITE.id, ZONE.id, null));
  expect(entries.at(-1)).toMatchObject({ did: "photographed", photo: kept?.id, of: "batch", note: "cubeta A" });
  await page.getByRole("heading", { name: "Para el cliente" }).waitFor();
  await page.getByText("no antes de", { exact: false }).first().waitFor();
  await close();
});
