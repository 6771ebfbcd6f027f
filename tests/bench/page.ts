// What a browser shows: from a published pack to its very number, measured in the page; and a board of a thousand zones.
import { connectAsync } from "mqtt";
import type { Page } from "playwright-core";
import { showBoth } from "../../dashboard/units/show.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { openChromium } from "../support/chromium.ts";
import { sleep, startChild } from "./child.ts";
import { crowdedFolder } from "./crowd-folder.ts";
import { atMost, type Figure } from "./figure.ts";
import type { Started, StartWish } from "./server-child.ts";
import { MINUTE_MS, packText, senmlTopic, SITE, valuesAt, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, shown } from "./stats.ts";

const HISTORY_H = 3;
const STEP_MS = 5 * MINUTE_MS;
const PATIENCE_MS = 15_000;
const SETTLE_LOOK_MS = 100;
const SLOWER = 4;
const FRAMES = 120;
const SCROLL_PX = 60;
const SERVED = 20;
/** What runs these sources names inner functions by a helper that a page does not have. */
const NAMELESS = "globalThis.__name ??= (one) => one";

/** A server of so many zones with three hours behind it that has caught up with them. */
export async function withServer<T>(zones: number, work: (server: Started) => Promise<T>): Promise<T> {
  const folder = await crowdedFolder({ zones, nodesPerZone: 1, historyH: HISTORY_H, stepMs: STEP_MS });
  const child = await startChild("server");
  try {
    const wish: StartWish = { data: folder.path, zones: 0, dashboardDir: await builtDashboard() };
    const server = await child.ask<Started>("start", wish);
    // What a start has to catch up with is not what a screen waits for.
    while (((await child.ask<Record<string, number>>("counters")).queueJudge ?? 0) > 0) await sleep(SETTLE_LOOK_MS);
    return await work(server);
  } finally {
    await child.ask("stop").finally(() => child.end());
    await folder.remove();
  }
}

function withPage<T>(zones: number, work: (page: Page, server: Started) => Promise<T>): Promise<T> {
  return withServer(zones, async (server) => {
    const browser = await openChromium();
    try {
      return await work(browser.context.pages()[0] ?? (await browser.context.newPage()), server);
    } finally {
      await browser.close();
    }
  });
}

/** Notes in the page what stands as the first number of a zone, and when that was painted, epoch ms. */
function watchNumber(): void {
  const seen: [string, number][] = [];
  Object.assign(globalThis, { seen });
  const look = () => document.querySelector(".numbers dd")?.textContent ?? "";
  let last = look();
  new MutationObserver(() => {
    const text = look();
    if (text === last) return;
    last = text;
    requestAnimationFrame(() => setTimeout(() => seen.push([text, performance.timeOrigin + performance.now()]), 0));
  }).observe(document.body, { subtree: true, childList: true, characterData: true });
}

/** Values of the watched probe in turn, K above its course: each is another number on the screen. */
const STEPS_K = Array.from({ length: 10 }, (_, step) => step / 10);
const WATCH_EVERY_MS = 400;

interface Sent {
  readonly slabC: number;
  readonly atMs: number;
}

/**
 * Which pack each painted number is of. Packs are painted in their order, if at all. The same number comes again after a
 * round of all, and is taken for the last one sent by then: right as long as nothing is painted a whole round late.
 */
function paintedOf(
  sent: readonly Sent[],
  seen: readonly (readonly [string, number])[],
): { readonly index: number; readonly atMs: number }[] {
  const texts = sent.map(({ slabC }) => [showBoth(slabC, "C", "us"), showBoth(slabC, "C", "si")]);
  let last = -1;
  return seen.flatMap(([text, atMs]) => {
    const index = sent.findLastIndex((one, at) => at > last && one.atMs <= atMs && texts[at]?.includes(text) === true);
    if (index === -1) return [];
    last = index;
    return [{ index, atMs }];
  });
}

/** Every zone gets its share of the packs; of one zone each pack says another number, whose painting is waited for. */
async function toPixel(sizes: Sizes): Promise<Figure[]> {
  const { pageZones, pagePacks, pagePacksPerS } = sizes;
  return withPage(pageZones, async (page, { httpUrl, mqttUrl }) => {
    await page.goto(`${httpUrl}/#/site/${SITE.id}/zone/${zoneId(0)}`);
    await page.locator(".numbers dd").first().waitFor({ timeout: 60_000 });
    await page.evaluate(NAMELESS);
    await page.evaluate(watchNumber);
    const client = await connectAsync(mqttUrl);
    const sent: Sent[] = [];
    const startMs = performance.now();
    const base = valuesAt(0, Date.now()).slab;
    const sendWatched = () => {
      const atMs = Date.now();
      const slab = Math.round((base + (STEPS_K[sent.length % STEPS_K.length] as number)) * 10) / 10;
      sent.push({ slabC: slab, atMs: performance.timeOrigin + performance.now() });
      client.publish(senmlTopic(0), packText(0, atMs, { ...valuesAt(0, atMs), slab }), { qos: 1 });
    };
    try {
      for (let at = 0; at < pagePacks; at++) {
        const waitMs = startMs + (at * 1000) / pagePacksPerS - performance.now();
        if (waitMs > 1) await sleep(waitMs);
        if (performance.now() - startMs >= sent.length * WATCH_EVERY_MS) sendWatched();
        const zone = 1 + (at % (pageZones - 1));
        client.publish(senmlTopic(zone), packText(zone, Date.now()), { qos: 1 });
      }
      await sleep(STEPS_K.length * WATCH_EVERY_MS);
    } finally {
      await client.endAsync(true);
    }
    const seen = await page.evaluate(() => (globalThis as unknown as { seen: [string, number][] }).seen);
    const painted = paintedOf(sent, seen);
    // A number that the next one overtook before a frame came is answered by that one, and waited so much longer.
    const times = sent.map(({ atMs }, index) => {
      const answer = painted.find((one) => one.index >= index);
      return answer === undefined ? PATIENCE_MS : answer.atMs - atMs;
    });
    const own = new Set(painted.map(({ index }) => index));
    const unseen = times.filter((ms) => ms === PATIENCE_MS).length;
    const overtaken = sent.length - own.size - unseen;
    const what = `pack to pixel, ${pagePacksPerS} packs/s, ${pageZones} zones: its number or a newer one`;
    const at = (name: string, share: number, goalMs: number): Figure => ({
      what: `${what}, ${name}`,
      value: quantile(times, share),
      unit: "ms",
      n: times.length,
      spread: `${overtaken} overtaken by the next number; ${unseen} not seen at all, counted as ${shown(PATIENCE_MS)}`,
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
