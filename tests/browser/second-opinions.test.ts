// Second opinions in a real browser before the whole server: a reading beside a probe, a salt check from bag to journal.
import { afterAll, beforeAll, expect, it } from "vitest";
import { isoFromMs } from "#contract/primitives.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { type RunningApp, runApp, until, valueOf } from "../support/running-app.ts";
import { pack, SITE } from "../support/small-site.ts";
import { openPage, overflowPx, smallTargets } from "./open-page.ts";

let running: RunningApp;
beforeAll(async () => {
  running = await runApp({ dashboardDir: await builtDashboard() });
}, 300_000);
afterAll(() => running.end());

const address = () => `${running.httpUrl}/#/site/${SITE.id}/sensors`;
const entries = () => valueOf(running.app.desk.journal(SITE.id, "bay", null)).entries;
const now = () => Math.round(running.nowMs());

it("writes a hand reading with its probe, and shows the offset", async () => {
  await running.send(pack(now() - 2000));
  const { page, close } = await openPage(
    address(),
    { widthPx: 390, heightPx: 844, touch: true },
    { language: "en", units: "us" },
  );
  await page.getByText("Nobody has measured beside a probe").waitFor();
  await page.getByRole("button", { name: "Measure beside a probe" }).click();
  await page.getByRole("button", { name: "Write it down" }).click();
  await page.getByText("Enter at least one number.").waitFor();
  await page.getByLabel("Slab", { exact: true }).fill("50");
  await page.getByLabel("Meter", { exact: true }).fill("meter 4");
  expect(await overflowPx(page)).toBe(0);
  expect(await smallTargets(page)).toEqual([]);
  await page.getByRole("button", { name: "Write it down" }).click();
  // The small site's probe says 12.1 °C, 53.8 °F.
  await page.getByText("slab +3.8 °F, off, promises more").waitFor();
  expect(entries().at(-1)).toMatchObject({
    did: "measured",
    slabC: 10,
    probe: "bay-1/slab",
    instrument: "meter 4",
  });
  await close();
});

it("leads through a salt check: the bag, the soak, the read-out, the record", async () => {
  const { page, close } = await openPage(
    address(),
    { widthPx: 390, heightPx: 844, touch: true },
    { language: "es", units: "si" },
  );
  await page.getByRole("button", { name: "Hacer una prueba con sal" }).click();
  await page.getByText("Sal de mesa sin aditivos", { exact: false }).waitFor();
  await page.getByRole("button", { name: "Ya está en la bolsa" }).click();
  const record = page.getByRole("button", { name: "Anotar esta prueba" });
  await record.waitFor();
  expect(await record.isDisabled()).toBe(true);
  expect(entries().at(-1)).toMatchObject({ did: "salt-bagged", probe: "bay-1/rh", salt: "sodium-chloride" });

  running.moveClock(9 * 3_600_000);
  await running.send(pack(now() - 2000, { air: 20, rh: 72.1 }));
  await page.reload();
  // 75.47 % at 20 °C: J. Res. NBS 81A 89 (1977).
  await page.getByText("La sal hace 75.5 % a esa temperatura.", { exact: false }).waitFor();
  await until(async () => !(await record.isDisabled()));
  await record.click();
  await page.getByText("midió 72.1 %, debía ser 75.5 %: −3.4 %").waitFor();
  const said = entries().at(-1);
  expect(said).toMatchObject({ did: "salt-checked", probe: "bay-1/rh", readPct: 72.1, airC: 20 });
  expect(said?.did === "salt-checked" ? said.soakH : 0).toBeCloseTo(9, 0);
  expect(Date.parse(said?.at ?? "")).toBeLessThanOrEqual(Date.parse(isoFromMs(now())));
  expect(await overflowPx(page)).toBe(0);
  await close();
});
