// How long a phone on a thin line waits for the calls of a small site: on its first visit, and when it comes back.
import type { BrowserContext } from "playwright-core";
import { openChromium } from "../support/chromium.ts";
import { sleep } from "./child.ts";
import { atMost, type Figure } from "./figure.ts";
import { settled, withServer } from "./page.ts";
import type { Sizes } from "./sizes.ts";
import { median, rangeText } from "./stats.ts";

const ZONES = 5;
const SLOWER = 4;
const BYTES_PER_S = 1.6e6 / 8;
const LINE = { offline: false, latency: 150, downloadThroughput: BYTES_PER_S, uploadThroughput: BYTES_PER_S / 2 };
const GOAL_MS = 1000;
/** Longer than the page takes to put itself on the device. */
const KEPT_MS = 8000;

interface Visit {
  /** Until a call was painted, and until the program had taken the page over, ms of the page. */
  readonly callMs: number;
  readonly programMs: number;
}

/** Notes in the page when a call stood on it, and when the program had it. */
function watchCalls(): void {
  const look = () => {
    const call = document.querySelector(".row .call");
    if (call === null || call.getClientRects().length === 0) return requestAnimationFrame(look);
    return requestAnimationFrame(() => setTimeout(() => Object.assign(globalThis, { callMs: performance.now() }), 0));
  };
  const take = () => {
    const taken = document.getElementById("drawn") === null && document.querySelector(".row .call") !== null;
    if (!taken) return requestAnimationFrame(take);
    return Object.assign(globalThis, { programMs: performance.now() });
  };
  requestAnimationFrame(look);
  requestAnimationFrame(take);
}

async function visit(context: BrowserContext, url: string, staysMs = 0): Promise<Visit> {
  const page = await context.newPage();
  await page.addInitScript("globalThis.__name ??= (one) => one");
  await page.addInitScript(watchCalls);
  const line = await context.newCDPSession(page);
  await line.send("Network.enable");
  await line.send("Network.emulateNetworkConditions", LINE);
  await line.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  await page.goto(url, { waitUntil: "commit" });
  const seen = await page
    .waitForFunction(
      () => {
        const { callMs, programMs } = globalThis as Partial<Visit>;
        return callMs !== undefined && programMs !== undefined ? { callMs, programMs } : null;
      },
      undefined,
      { timeout: 60_000 },
    )
    .then((handle) => handle.jsonValue());
  if (seen === null) throw new Error("nothing was seen");
  await line.send("Emulation.setCPUThrottlingRate", { rate: 1 });
  await sleep(staysMs);
  await page.close();
  return seen;
}

export async function measureSlowPhone({ phoneRounds }: Sizes): Promise<Figure[]> {
  return withServer(ZONES, async ({ httpUrl }) => {
    const first: Visit[] = [];
    const again: Visit[] = [];
    for (let round = 0; round < phoneRounds; round++) {
      const browser = await openChromium({ widthPx: 390, heightPx: 844, touch: true });
      try {
        await settled(browser.context.pages()[0] ?? (await browser.context.newPage()));
        first.push(await visit(browser.context, httpUrl, KEPT_MS));
        again.push(await visit(browser.context, httpUrl));
      } finally {
        await browser.close();
      }
    }
    const figure = (what: string, visits: readonly Visit[]): Figure => ({
      what: `board of ${ZONES} zones on a slow phone: first call seen, ${what}`,
      value: median(visits.map(({ callMs }) => callMs)),
      unit: "ms",
      n: visits.length,
      spread: `${rangeText(visits.map(({ callMs }) => callMs))}; its program: ${rangeText(visits.map(({ programMs }) => programMs))}`,
      peer: null,
      goal: atMost(GOAL_MS),
    });
    return [figure("first visit", first), figure("return", again)];
  });
}
