// What a browser shows of a board of a thousand zones; and a server with a browser before it, for whoever measures in a page.
import { get } from "node:http";
import type { CDPSession, Page } from "playwright-core";
import { builtDashboard } from "../support/built-dashboard.ts";
import { openChromium } from "../support/chromium.ts";
import { sleep, startChild } from "./child.ts";
import { crowdedFolder } from "./crowd-folder.ts";
import { atMost, type Figure } from "./figure.ts";
import type { Started, StartWish } from "./server-child.ts";
import { MINUTE_MS, SITE } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, rangeText, shown } from "./stats.ts";

const HISTORY_H = 3;
const STEP_MS = 5 * MINUTE_MS;
const SETTLE_LOOK_MS = 100;
const SETTLED_MS = 2000;
const SLOWER = 4;
const FRAMES = 120;
const SCROLL_PX = 60;
/** Boards asked for, and before them as many that are not counted: who asks must not be what is measured. */
const SERVED = 20;
/** Nobody scrolls before they have read what is there. */
const READS_MS = 2000;
/** What runs these sources names inner functions by a helper that a page does not have. */
export const NAMELESS = "globalThis.__name ??= (one) => one";

/** A server of so many zones with three hours behind it that has caught up with them. */
export async function withServer<T>(zones: number, work: (server: Started) => Promise<T>): Promise<T> {
  const folder = await crowdedFolder({ zones, nodesPerZone: 1, historyH: HISTORY_H, stepMs: STEP_MS, watched: true });
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

/** A browser that has just started is slow with whatever it shows first. */
export async function settled(page: Page): Promise<void> {
  await page.goto("about:blank");
  await sleep(SETTLED_MS);
}

export function withPage<T>(zones: number, work: (page: Page, server: Started) => Promise<T>): Promise<T> {
  return withServer(zones, async (server) => {
    const browser = await openChromium();
    try {
      return await work(browser.context.pages()[0] ?? (await browser.context.newPage()), server);
    } finally {
      await browser.close();
    }
  });
}

interface Rows {
  /** Until a row was painted, and until all were, ms of the page. */
  readonly rowMs: number;
  readonly wholeMs: number;
}

/** Notes in the page when a row stood on it, and when the program had put all of them there. */
function watchRows(): void {
  const note = (name: string, isThere: () => boolean) => {
    const look = (): void => {
      if (isThere()) setTimeout(() => Object.assign(globalThis, { [name]: performance.now() }), 0);
      else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  };
  note("rowMs", () => (document.querySelector(".row .call")?.getClientRects().length ?? 0) > 0);
  note("wholeMs", () => document.querySelector(".rows[role=list] .row .call") !== null);
}

/** Times between the frames while the page is scrolled by a step in each, ms. */
function scrolled(page: Page): Promise<number[]> {
  return page.evaluate(
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
}

/** Until the last byte of an answer has come, ms. What it says is not put together: that would be the time of who asks. */
async function answeredMs(url: string): Promise<number> {
  const startMs = performance.now();
  await new Promise<void>((resolve, reject) => {
    const asked = get(url, (answer) => {
      if (answer.statusCode !== 200) reject(new Error(`${url} was answered with ${answer.statusCode}`));
      answer.on("end", resolve).on("error", reject).resume();
    });
    asked.on("error", reject);
  });
  return performance.now() - startMs;
}

const spreadOf = (frames: readonly number[]): string =>
  `p50 ${shown(median(frames))}, most ${shown(Math.max(...frames))}; scrolled ${READS_MS / 1000} s after the board was there`;

interface Shown extends Rows {
  readonly paintMs: number;
}

/** What a browser that has never been there sees of a board, with a slower processor. */
async function firstSeen(page: Page, slow: CDPSession, httpUrl: string): Promise<Shown> {
  await slow.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  await page.addInitScript(NAMELESS);
  await page.addInitScript(watchRows);
  await page.goto(httpUrl);
  const paintMs = await page.evaluate(
    () => performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? performance.now(),
  );
  const rows = (await page
    .waitForFunction(() => ("wholeMs" in globalThis ? globalThis : null) as unknown as Rows | null, undefined, {
      timeout: 120_000,
    })
    .then((found) => found.evaluate((seen) => ({ rowMs: seen?.rowMs, wholeMs: seen?.wholeMs })))) as Rows;
  return { paintMs, ...rows };
}

/** Frames of the board while it is scrolled: with the slower processor, and with the processor as it is. */
async function framesOf(page: Page, slow: CDPSession): Promise<{ slowed: number[]; usual: number[] }> {
  await sleep(READS_MS);
  const slowed = await scrolled(page);
  await slow.send("Emulation.setCPUThrottlingRate", { rate: 1 });
  await page.evaluate(() => scrollTo(0, 0));
  await sleep(READS_MS);
  return { slowed, usual: await scrolled(page) };
}

async function servedMs(httpUrl: string): Promise<number[]> {
  const asked: number[] = [];
  for (let time = 0; time < 2 * SERVED; time++)
    asked.push(await answeredMs(`${httpUrl}/api/v1/sites/${SITE.id}/board`));
  return asked.slice(SERVED);
}

async function largeBoard({ boardZones, boardVisits }: Sizes): Promise<Figure[]> {
  return withServer(boardZones, async ({ httpUrl }) => {
    const served = await servedMs(httpUrl);
    const seen: Shown[] = [];
    let frames = { slowed: [] as number[], usual: [] as number[] };
    for (let visit = 0; visit < boardVisits; visit++) {
      const browser = await openChromium();
      try {
        const page = browser.context.pages()[0] ?? (await browser.context.newPage());
        const slow = await browser.context.newCDPSession(page);
        await settled(page);
        seen.push(await firstSeen(page, slow, httpUrl));
        if (visit === boardVisits - 1) frames = await framesOf(page, slow);
      } finally {
        await browser.close();
      }
    }
    const what = `board of ${boardZones.toLocaleString("en")} zones`;
    const figure = (name: string, value: number, n: number, spread: string, goalMs?: number): Figure => ({
      ...{ what: `${what}, ${name}`, value, unit: "ms", n, spread, peer: null },
      ...(goalMs === undefined ? {} : { goal: atMost(goalMs) }),
    });
    const seenAs = (name: string, key: keyof Shown, by: string, goalMs?: number): Figure => {
      const times = seen.map((one) => one[key]);
      const spread = [rangeText(times), by].filter((part) => part !== "").join("; ");
      return figure(`${name}, processor ${SLOWER} times slower`, median(times), boardVisits, spread, goalMs);
    };
    const slowName = `a frame while scrolling, processor ${SLOWER} times slower, p95`;
    return [
      figure("served", median(served), SERVED, `most ${shown(Math.max(...served))}`, 50),
      seenAs("first paint", "paintMs", "", 1000),
      seenAs("first zone seen", "rowMs", "drawn by the server"),
      seenAs("all zones there", "wholeMs", "by the program"),
      // Sixty a second, and what the clock of the page rounds.
      figure("a frame while scrolling, p95", quantile(frames.usual, 0.95), FRAMES, spreadOf(frames.usual), 17),
      figure(slowName, quantile(frames.slowed, 0.95), FRAMES, spreadOf(frames.slowed)),
    ];
  });
}

export async function measureLargeBoard(sizes: Sizes): Promise<Figure[]> {
  return largeBoard(sizes);
}
