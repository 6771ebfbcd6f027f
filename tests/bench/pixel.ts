// From a published pack to its very number in a browser, measured in the page, while every other zone gets its share of packs.
import { connectAsync } from "mqtt";
import { showBoth } from "../../dashboard/units/show.ts";
import { sleep } from "./child.ts";
import { atMost, type Figure } from "./figure.ts";
import { NAMELESS, withPage } from "./page.ts";
import { packText, senmlTopic, SITE, valuesAt, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { quantile, shown } from "./stats.ts";

/** A pack that has not been answered by then counts as this slow. */
const PATIENCE_MS = 15_000;
/** A page that has just been opened is left alone for so long, and the last packs are waited for so long. */
const SETTLE_MS = 2000;
/** So often the watched zone sends: a 99th percentile takes some hundreds of packs. */
const WATCH_EVERY_MS = 60;

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

/** Floors that a look is enough for, K from each other, and the leap after which the zone is judged whole. */
const RANGE_K = 0.4;
const LEAP_K = 0.95;
const STEP_K = 0.01;

const textsOf = (slabC: number) => [showBoth(slabC, "C", "us"), showBoth(slabC, "C", "si")] as const;

/** Floors in turn, °C, each of which shows as another number: as many as there are below a leap, and as many above it. */
function floorsFrom(baseC: number): readonly number[] {
  const level = (fromC: number) => {
    const byText = new Map<string, number>();
    for (let step = 0; step * STEP_K <= RANGE_K; step++) {
      const slabC = Math.round((fromC + step * STEP_K) * 100) / 100;
      if (!byText.has(textsOf(slabC)[0])) byText.set(textsOf(slabC)[0], slabC);
    }
    return [...byText.values()];
  };
  // Up the one and down the other: a probe that falls by a kelvin at once may have come off, and is not believed.
  return [...level(baseC), ...level(baseC + LEAP_K).reverse()];
}

interface Sent {
  readonly texts: readonly string[];
  readonly atMs: number;
}

/**
 * How long each pack took until its number or a newer one was painted, ms; and how many of the packs were painted
 * themselves. Packs are painted in their order, if at all. The same number comes again after a round of more than a second,
 * and is taken for the last one sent by then: right as long as nothing is painted a whole round late.
 */
function timesOf(
  sent: readonly Sent[],
  seen: readonly (readonly [string, number])[],
): { readonly times: readonly number[]; readonly painted: number } {
  let last = -1;
  const painted = seen.flatMap(([text, atMs]) => {
    const index = sent.findLastIndex((one, at) => at > last && one.atMs <= atMs && one.texts.includes(text));
    if (index === -1) return [];
    last = index;
    return [{ index, atMs }];
  });
  // A number that the next one overtook before a frame came is answered by that one, and waited so much longer.
  const times = sent.map(({ atMs }, index) => {
    const answer = painted.find((one) => one.index >= index);
    return answer === undefined ? PATIENCE_MS : answer.atMs - atMs;
  });
  return { times, painted: painted.length };
}

export async function measurePixel({ pageZones, pagePacks, pagePacksPerS }: Sizes): Promise<Figure[]> {
  return withPage(pageZones, async (page, { httpUrl, mqttUrl }) => {
    await page.goto(`${httpUrl}/#/site/${SITE.id}/zone/${zoneId(0)}`);
    await page.locator(".numbers dd").first().waitFor({ timeout: 60_000 });
    await page.evaluate(NAMELESS);
    await page.evaluate(watchNumber);
    await sleep(SETTLE_MS);
    const client = await connectAsync(mqttUrl);
    const sent: Sent[] = [];
    const base = valuesAt(0, Date.now());
    const floors = floorsFrom(base.slab);
    const startMs = performance.now();
    const sendWatched = () => {
      const slab = floors[sent.length % floors.length] as number;
      sent.push({ texts: textsOf(slab), atMs: performance.timeOrigin + performance.now() });
      client.publish(senmlTopic(0), packText(0, Date.now(), { ...base, slab }), { qos: 1 });
    };
    try {
      for (let at = 0; at < pagePacks; at++) {
        const waitMs = startMs + (at * 1000) / pagePacksPerS - performance.now();
        if (waitMs > 1) await sleep(waitMs);
        if (performance.now() - startMs >= sent.length * WATCH_EVERY_MS) sendWatched();
        const zone = 1 + (at % (pageZones - 1));
        client.publish(senmlTopic(zone), packText(zone, Date.now()), { qos: 1 });
      }
      await sleep(SETTLE_MS);
    } finally {
      await client.endAsync(true);
    }
    const seen = await page.evaluate(() => (globalThis as unknown as { seen: [string, number][] }).seen);
    const { times, painted } = timesOf(sent, seen);
    const unseen = times.filter((ms) => ms === PATIENCE_MS).length;
    const what = `pack to pixel, ${pagePacksPerS} packs/s, ${pageZones} zones: its number or a newer one`;
    const spread = [
      `most ${shown(Math.max(...times))}`,
      `${sent.length - painted - unseen} overtaken by the next number`,
      `${unseen} not seen at all, counted as ${shown(PATIENCE_MS)}`,
      `${Math.floor((2 * sent.length) / floors.length)} times a look was not enough`,
    ].join("; ");
    const at = (name: string, share: number, goalMs: number): Figure => ({
      ...{ what: `${what}, ${name}`, value: quantile(times, share), unit: "ms", n: times.length },
      ...{ spread, peer: null, goal: atMost(goalMs) },
    });
    return [at("p50", 0.5, 150), at("p99", 0.99, 400)];
  });
}
