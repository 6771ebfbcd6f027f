// Sheets in a real browser before the whole server: typed on a phone, doubted as typed, confirmed, looked back at.
import { afterAll, beforeAll, expect, it } from "vitest";
import { builtDashboard } from "../support/built-dashboard.ts";
import { type RunningApp, runApp, valueOf } from "../support/running-app.ts";
import { SITE, ZONE } from "../support/small-site.ts";
import { axeFinds } from "./axe.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

let running: RunningApp;
beforeAll(async () => {
  running = await runApp({ dashboardDir: await builtDashboard() });
}, 300_000);
afterAll(() => running.end());

const PHONE = { widthPx: 390, heightPx: 844, touch: true };
const kept = (id: string) => running.app.desk.sheets().find((sheet) => sheet.id === id);

it("a filler is typed from an example in °F, doubted, saved unconfirmed, confirmed, and offered in the journal", async () => {
  const { page, errors, close } = await openPage(`${running.httpUrl}/#/sheets`, PHONE, { language: "en", units: "us" });
  await page.getByRole("link", { name: "Epoxy crack filler paste" }).click();
  await page.getByText("Still the invented numbers of the example", { exact: false }).waitFor();
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByText("Product: Missing.").waitFor();
  await page.getByLabel("Product, as on the page").fill("Quick paste");
  const first = page.getByRole("group", { name: "Row 1" });
  await page.getByLabel("Unit of: Surface", { exact: true }).selectOption("F");
  await page.getByText("Very cold.", { exact: false }).first().waitFor();
  for (const [row, typed] of ["50", "60", "70"].entries())
    await page
      .getByRole("group", { name: `Row ${row + 1}` })
      .getByLabel("Surface", { exact: true })
      .fill(typed);
  await first.getByLabel("Hard after").fill("6");
  await page.getByText("Longer than in the colder row", { exact: false }).waitFor();
  await first.getByLabel("Hard after").fill("18.5");
  expect(await page.getByText("Longer than in the colder row", { exact: false }).count()).toBe(0);
  expect(await overflowPx(page)).toBe(0);
  expect(await smallTargets(page)).toEqual([]);
  expect(await axeFinds(page)).toEqual([]);
  await page.getByLabel("Your name").fill("Ana");
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByRole("heading", { name: "Hold it against the page" }).waitFor();
  expect(kept("quick-paste")).toMatchObject({
    kind: "filler",
    confirmed: null,
    saved: { revision: 1, by: "Ana" },
    paper: { "hard.0.slabC": { value: "50", unit: "F" }, "hard.0.hardH": { value: "18.5", unit: "h" } },
  });
  expect(kept("quick-paste")?.hard?.[0]).toEqual({ slabC: 10, hardH: 18.5 });

  await page.getByText("You typed this version.", { exact: false }).waitFor();
  await page.getByLabel("Your name").fill("Ben");
  await page.getByRole("button", { name: "It says what the page says" }).click();
  await page.getByText("Tick every part first.").waitFor();
  for (const box of await page.getByRole("checkbox").all()) await box.check();
  expect(await overflowPx(page)).toBe(0);
  expect(await smallTargets(page)).toEqual([]);
  expect(await axeFinds(page)).toEqual([]);
  await page.getByRole("button", { name: "It says what the page says" }).click();
  await page.getByText("Held against the page by Ben", { exact: false }).first().waitFor();
  expect(kept("quick-paste")?.confirmed).toMatchObject({ by: "Ben", same: false });
  await page.getByText("nothing but who confirmed it", { exact: false }).waitFor();

  await page.goto(`${running.httpUrl}/#/site/${SITE.id}/zone/${ZONE.id}`);
  await page.getByRole("button", { name: "More", exact: true }).last().click();
  await page.getByRole("button", { name: "Filled cracks" }).click();
  await page.getByLabel("Quick paste").check();
  await page.getByText("earned at the coldest slab probe", { exact: false }).waitFor();
  await page.getByRole("button", { name: "Write it down" }).click();
  await page.getByText("quick-paste", { exact: false }).first().waitFor();
  const { entries } = valueOf(running.app.desk.journal(SITE.id, ZONE.id, null));
  expect(entries.at(-1)).toMatchObject({ did: "filled", sheet: "quick-paste" });
  expect(errors).toEqual([]);
  await close();
});

it("a slip is corrected on a desk in Spanish, and the versions say what changed and for whom", async () => {
  const { page, errors, close } = await openPage(
    `${running.httpUrl}/#/sheets/body-coat`,
    {},
    { language: "es", units: "si", theme: "dark" },
  );
  await page.getByRole("button", { name: "Cambiar" }).click();
  await page.getByRole("group", { name: "Fila 2" }).getByLabel("Siguiente mano desde").fill("9");
  await page.getByLabel("Un error al escribir").check();
  await page.getByText("Las manos ya puestas toman también los números corregidos.").waitFor();
  await page.getByRole("button", { name: "Guardar", exact: true }).click();
  await page.getByText("8 h → 9 h").waitFor();
  await page.getByText("corrige un error al escribir", { exact: false }).waitFor();
  expect(await overflowPx(page)).toBe(0);
  expect(kept("body-coat")).toMatchObject({ confirmed: null, saved: { revision: 2, corrects: true } });
  expect(errors).toEqual([]);
  await close();
});
