// What a browser shows: from a published pack to the changed board, measured in the page; and a board of a thousand zones.
import { connectAsync } from "mqtt";
import type { Page } from "playwright-core";
import { builtDashboard } from "../support/built-dashboard.ts";
import { openChromium } from "../support/chromium.ts";
import { sleep, startChild } from "./child.ts";
import { crowdedFolder } from "./crowd-folder.ts";
import { atMost, type Figure } from "./figure.ts";
import type { Started, StartWish } from "./server-child.ts";
import { MINUTE_MS, packText, senmlTopic, SITE, valuesAt } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, shown } from "./stats.ts";

const HISTORY_H = 3;
const STEP_MS = 5 * MINUTE_MS;
const PATIENCE_MS = 15_000;
const SLOWER = 4;
const FRAMES = 120;
const SCROLL_PX = 60;
const SERVED = 20;
/** What runs these sources names inner functions by a helper that a page does not have. */
const NAMELESS = "globalThis.__name ??= (one) => one";

async function withPage<T>(zones: number, work: (page: Page, server: Started) => Promise<T>): Promise<T> {
  const folder = await crowdedFolder({ zones, nodesPerZone: 1, historyH: HISTORY_H, stepMs: STEP_MS });
  const child = await startChild("server");
  try {
    const wish: StartWish = { data: folder.path, zones: 0, dashboardDir: await builtDashboard() };
    const server = await child.ask<Started>("start", wish);
    const browser = await openChromium();
    try {
      return await work(browser.context.pages()[0] ?? (await browser.context.newPage()), server);
    } finally {
      await browser.close();
    }
  } finally {
    await child.ask("stop").finally(() => child.end());
    await folder.remove();
  }
}

/** Notes in the page when the words of a row have been painted anew, by the row's place, epoch ms. */
function watchRows(): void {
  const seen: [number, number][] = [];
  Object.assign(globalThis, { seen });
  const nameOf = (node: Node) => {
    const element = node instanceof Element ? node : node.parentElement;
    return element?.closest(".row")?.querySelector(".row-name")?.textContent ?? null;
  };
  new MutationObserver((changes) => {
    const rows = new Set(changes.map(({ target }) => nameOf(target)));
    requestAnimationFrame(() =>
      setTimeout(() => {
        const atMs = performance.timeOrigin + performance.now();
        for (const name of rows) {
          const zone = /(\d+)/.exec(name ?? "")?.[1];
          if (zone !== undefined) seen.push([Number(zone), atMs]);
        }
      }, 0),
    );
  }).observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
}

async function toPixel(sizes: Sizes): Promise<Figure[]> {
  const { pageZones, pagePacks, pagePacksPerS } = sizes;
  return withPage(pageZones, async (page, { httpUrl, mqttUrl }) => {
    await page.goto(httpUrl);
    await page
      .locator(".row")
      .nth(pageZones - 1)
      .waitFor({ timeout: 60_000 });
    await page.evaluate(NAMELESS);
    await page.evaluate(watchRows);
    const client = await connectAsync(mqttUrl);
    const sent: [number, number][] = [];
    const startMs = performance.now();
    try {
      for (let at = 0; at < pagePacks; at++) {
        const waitMs = startMs + (at * 1000) / pagePacksPerS - performance.now();
        if (waitMs > 1) await sleep(waitMs);
        const zone = at % pageZones;
        const atMs = Date.now();
        // By turns near to the dew point and far from it, so that the words of the row must change.
        const values = valuesAt(zone, atMs);
        const slab = values.slab + (Math.floor(at / pageZones) % 2 === 0 ? -4 : 1);
        sent.push([zone, performance.timeOrigin + performance.now()]);
        client.publish(senmlTopic(zone), packText(zone, atMs, { ...values, slab }), { qos: 1 });
      }
      await sleep(Math.min(PATIENCE_MS, 2000 + pagePacks));
    } finally {
      await client.endAsync(true);
    }
    const seen = await page.evaluate(() => (globalThis as unknown as { seen: [number, number][] }).seen);
    const byZone = new Map<number, number[]>();
    for (const [zone, atMs] of seen) byZone.set(zone, [...(byZone.get(zone) ?? []), atMs]);
    const times = sent.map(([zone, atMs]) => {
      const painted = byZone.get(zone)?.find((paintedMs) => paintedMs >= atMs);
      return painted === undefined ? PATIENCE_MS : painted - atMs;
    });
    const unseen = times.filter((ms) => ms === PATIENCE_MS).length;
    const what = `pack to pixel, ${pagePacksPerS} packs/s, ${pageZones} zones`;
    const at = (name: string, share: number, goalMs: number): Figure => ({
      what: `${what}, ${name}`,
      value: quantile(times, share),
      unit: "ms",
      n: times.length,
      spread: `${unseen} never seen, counted as ${shown(PATIENCE_MS)}`,
      peer: null,
      goal: atMost(goalMs),
    });
    return [at("p50", 0.5, 150), at("p99", 0.99, 400)];
  });
}

async function largeBoard({ boardZones }: Sizes): Promise<Figure[]> {
  return withPage(boardZones, async (page, { httpUrl }) => {
    const served: number[] = [];
    for (let asked = 0; asked < SERVED; asked++) {
      const startMs = performance.now();
      await (await fetch(`${httpUrl}/api/v1/sites/${SITE.id}/board`)).arrayBuffer();
      served.push(performance.now() - startMs);
    }
    const slow = await page.context().newCDPSession(page);
    await slow.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
    await page.goto(httpUrl);
    await page.locator(".row").first().waitFor({ timeout: 120_000 });
    const rowsMs = await page.evaluate(() => performance.now());
    const paintMs = await page.evaluate(
      () => performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? performance.now(),
    );
    await slow.send("Emulation.setCPUThrottlingRate", { rate: 1 });
    await page.evaluate(NAMELESS);
    const frames = await page.evaluate(
      ({ count, stepPx }) =>
        new Promise<number[]>((resolve) => {
          const times: number[] = [];
          let lastMs = performance.now();
          const next = (nowMs: number) => {
            times.push(nowMs - lastMs);
            lastMs = nowMs;
            scrollBy(0, stepPx);
            if (times.length > count) resolve(times.slice(1));
            else requestAnimationFrame(next);
          };
          requestAnimationFrame(next);
        }),
      { count: FRAMES, stepPx: SCROLL_PX },
    );
    const what = `board of ${boardZones.toLocaleString("en")} zones`;
    const figure = (name: string, value: number, n: number, spread: string, goalMs?: number): Figure => ({
      ...{ what: `${what}, ${name}`, value, unit: "ms", n, spread, peer: null },
      ...(goalMs === undefined ? {} : { goal: atMost(goalMs) }),
    });
    return [
      figure("served", median(served), SERVED, `most ${shown(Math.max(...served))}`, 50),
      figure(`first paint, processor ${SLOWER} times slower`, paintMs, 1, "", 1000),
      figure(`first zone seen, processor ${SLOWER} times slower`, rowsMs, 1, ""),
      // Sixty a second, and what the clock of the page rounds.
      figure("a frame while scrolling, p95", quantile(frames, 0.95), FRAMES, `p50 ${shown(median(frames))}`, 17),
    ];
  });
}

export async function measurePage(sizes: Sizes): Promise<Figure[]> {
  return [...(await toPixel(sizes)), ...(await largeBoard(sizes))];
}
