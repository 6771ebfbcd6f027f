// The whole job through the real server, as its people do it: pour, a night with dew, abrade, pour, hand over. Set-up from
// nothing has a test of its own.
import type { Page } from "playwright-core";
import { afterEach, describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import { spotCheck } from "#core/judge/spot-check.ts";
import { enJournal } from "../../dashboard/text/en-journal.ts";
import { esJournal } from "../../dashboard/text/es-journal.ts";
import { countsOf } from "../../dashboard/features/record/record-words.ts";
import { clockOf } from "../../dashboard/text/clock.ts";
import { recordText } from "../../dashboard/text/record.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { lively } from "../support/night-log.ts";
import { runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, NOON_MS, SITE, ZONE } from "../support/small-site.ts";
import { DICTIONARIES } from "../dashboard/voice.ts";
import { openPage, overflowPx } from "./open-page.ts";

const WRITER = "Ana Reyes";
const HOUR_MS = 3_600_000;
const STEP_MS = 10 * 60_000;
/** The dew of the first night: from five hours after noon to eleven. */
const DEW = { fromMs: NOON_MS + 5 * HOUR_MS, toMs: NOON_MS + 11 * HOUR_MS, rampMs: 2 * HOUR_MS };

/** 0 by day, 1 in the middle of that night, smooth between. */
function nightAt(atMs: number): number {
  const ramp = (fromMs: number) => Math.min(1, Math.max(0, (atMs - fromMs) / DEW.rampMs));
  return ramp(DEW.fromMs) - ramp(DEW.toMs - DEW.rampMs);
}
const slabAt = lively((atMs) => 14 - 6 * nightAt(atMs));
const airAt = lively((atMs) => 15 - 4 * nightAt(atMs));
const rhAt = lively((atMs) => 45 + 48 * nightAt(atMs));

let running: RunningApp;
afterEach(() => running.end());

const callNow = () => valueOf(running.app.desk.board(SITE.id)).zones[0]?.call;

/** Sets the clock on, and lets the node send what it measured meanwhile. */
async function live(hours: number): Promise<void> {
  const fromMs = running.nowMs();
  running.moveClock(hours * HOUR_MS);
  await told(fromMs);
}

async function told(fromMs: number): Promise<void> {
  const toMs = running.nowMs();
  const records: object[] = [];
  for (let atMs = Math.ceil(fromMs / STEP_MS) * STEP_MS; atMs <= toMs; atMs += STEP_MS) {
    const t = atMs / 1000;
    records.push({ n: "slab", u: "Cel", t, v: slabAt(atMs) }, { n: "air", u: "Cel", t, v: airAt(atMs) });
    records.push({ n: "rh", u: "%RH", t, v: rhAt(atMs) });
  }
  for (let at = 0; at < records.length; at += 150)
    await running.send([{ bn: `${NODE.id}/` }, ...records.slice(at, at + 150)]);
  // One of this very moment: no reading is old.
  const now = Math.floor(toMs / 1000);
  await running.send([
    { bn: `${NODE.id}/`, n: "slab", u: "Cel", t: now, v: slabAt(toMs) },
    { n: "air", u: "Cel", t: now, v: airAt(toMs) },
    { n: "rh", u: "%RH", t: now, v: rhAt(toMs) },
  ]);
}

async function shows(page: Page, word: string, why: string): Promise<void> {
  await until(() => callNow()?.call === why);
  await page.locator(".call", { hasText: word }).first().waitFor({ timeout: 30_000 });
}

describe.each([
  { language: "en", units: "us", theme: "light", widthPx: 1280, heightPx: 800 },
  { language: "es", units: "si", theme: "dark", widthPx: 390, heightPx: 844 },
] as const)("in $language, $widthPx pixels wide", ({ widthPx, heightPx, ...prefs }) => {
  it("pours, abrades after the dew, pours again and hands over", async () => {
    const words = prefs.language === "en" ? enJournal : esJournal;
    const { words: calls } = DICTIONARIES[prefs.language];
    running = await runApp({ judge: { judgeZone, spotCheck }, dashboardDir: await builtDashboard() });
    await told(NOON_MS - 30 * HOUR_MS);
    const { page, close } = await openPage(
      `${running.httpUrl}/#/site/${SITE.id}/zone/${ZONE.id}`,
      { widthPx, heightPx, touch: widthPx < 700 },
      prefs,
      /ERR_INTERNET_DISCONNECTED|Failed to fetch/,
    );
    /** Two taps: what was done, and that it is so; a choice between where one is asked for. */
    const did = async (act: keyof typeof words.acts, choice: string | null = null) => {
      await page.getByRole("button", { name: words.acts[act], exact: true }).click();
      const dialog = page.getByRole("dialog");
      if (choice !== null) await dialog.getByRole("radio", { name: choice, exact: true }).check();
      await dialog.getByRole("button", { name: words.save }).click();
      await dialog.waitFor({ state: "detached" });
    };
    const journal = () => valueOf(running.app.desk.journal(SITE.id, ZONE.id, null)).entries;
    const kept = async (kind: string, times = 1) =>
      until(() => journal().filter((entry) => entry.did === kind).length === times);

    const clock = clockOf(SITE.timezone, DICTIONARIES[prefs.language], prefs.units === "us" ? 12 : 24);
    /** What is written bears the time that the page has heard of: here hours pass in a moment, and it is waited for. */
    const passes = async (hours: number) => {
      await live(hours);
      await until(async () => {
        const head = await page.locator(".head").innerText();
        return head.includes(`${clock.day(running.nowMs())} · ${clock.time(running.nowMs())}`);
      });
    };

    // Who writes is said once.
    await page.getByRole("button", { name: words.more, exact: true }).click();
    await page.getByLabel(words.by, { exact: true }).fill(WRITER);
    await page.getByRole("button", { name: words.fewer, exact: true }).click();
    // A bare slab asks for grinding and cleaning first.
    await shows(page, calls.wait, "wait");
    await did("abraded", words.ways.ground);
    await did("cleaned");
    await kept("cleaned");
    await shows(page, calls.pour, "pour");
    // A slip is taken back within the minute, and counts for nothing.
    await did("abraded", words.ways.ground);
    await page.getByRole("button", { name: words.undo, exact: true }).click();
    await kept("undone");
    await page.locator(".journal s").first().waitFor();
    expect(journal().find((entry) => entry.did === "undone")).toMatchObject({
      undoes: journal().findLast((entry) => entry.did === "abraded")?.id,
    });
    await shows(page, calls.pour, "pour");
    await did("pouring");
    await kept("pouring");
    await passes(1.5);
    await did("poured");
    await kept("poured");

    // The night: the slab falls below the dew point while the film cannot bear it.
    await passes(10);
    await passes(8);
    await shows(page, calls.abrade, "abrade");
    expect(callNow()?.steps).toEqual(["wash", "abrade", "clean"]);
    expect(await overflowPx(page)).toBe(0);

    // A dry day and night later the crew is back; in the basement the phone finds no network.
    await passes(24);
    await page.context().setOffline(true);
    await did("washed");
    await did("abraded");
    await page.context().setOffline(false);
    await kept("washed");
    await kept("abraded", 3);
    await did("cleaned");
    await kept("cleaned", 2);
    await did("inspected", words.surfaces.clean);
    await kept("inspected");
    await passes(1);
    await shows(page, calls.pour, "pour");
    await did("pouring");
    await kept("pouring", 2);
    await passes(1.5);
    await did("poured");
    await kept("poured", 2);
    await shows(page, calls.finished, "finished");

    // The record has both coats, who laid them, and that the dew was beyond the sheet for the first one only.
    await page.goto(`${running.httpUrl}/#/site/${SITE.id}/record/${ZONE.id}`);
    const record = recordText(DICTIONARIES[prefs.language]);
    await page.locator(".record-pick").nth(1).waitFor();
    for (const coat of [0, 1]) {
      await page.locator(".record-pick").nth(coat).click();
      await page.getByRole("heading", { name: record.coat(coat + 1), exact: true }).waitFor();
      await page.locator(".record-coat tbody tr").first().waitFor();
      const facts = await page.locator(".record-coat .record-facts > div").allInnerTexts();
      expect(facts).toContainEqual(expect.stringMatching(new RegExp(`^${record.by}\\s+${WRITER}$`)));
      const { limits, overrides } = valueOf(running.app.desk.coatRecord(SITE.id, ZONE.id, coat));
      const { met, notMet, unknown } = countsOf(limits);
      await page.getByText(record.counts(met, notMet, unknown), { exact: true }).waitFor();
      const missed = limits.filter(({ outcome }) => outcome === "not-met").map(({ limit, span }) => `${limit} ${span}`);
      expect(missed).toEqual(coat === 0 ? ["dew-margin dew-sensitive"] : []);
      expect(await page.locator(".record-coat tbody tr.record-bad").count()).toBe(missed.length);
      expect(met).toBeGreaterThan(4);
      expect(overrides).toEqual([]);
      await page.getByText(record.noOverrides).waitFor();
      expect(await overflowPx(page)).toBe(0);
    }
    // The client hears from when the last one can be walked on, and never sooner.
    const { film, uses } = valueOf(running.app.desk.handOver(SITE.id, ZONE.id));
    expect(film).toMatchObject({ coat: 1, last: true });
    const walkOn = uses.find(({ use }) => use === "walk-on");
    expect(walkOn?.state).toBe("ahead");
    // The sheet asks for 24 h at 10 °C and 12 h at 20 °C: between them at some 14 °C.
    const inH = (Date.parse(walkOn?.notBefore ?? "") - running.nowMs()) / HOUR_MS;
    expect(inH).toBeGreaterThan(12);
    expect(inH).toBeLessThan(24);
    const order = journal().map((entry) => entry.did);
    expect(order).toEqual([
      ...[
        "abraded",
        "cleaned",
        "abraded",
        "undone",
        "pouring",
        "poured",
        "washed",
        "abraded",
        "cleaned",
        "inspected",
        "pouring",
        "poured",
      ],
    ]);
    await close();
  });
});
