// From a published pack to its very numbers in a browser, measured in the page, while every other zone gets its share of packs.
import { connectAsync } from "mqtt";
import { dewPointC } from "#core/air/dew-point.ts";
import { showBoth } from "../../dashboard/units/show.ts";
import { sleep } from "./child.ts";
import { atMost, type Figure } from "./figure.ts";
import { NAMELESS, withPage } from "./page.ts";
import { packText, type Quantity, senmlTopic, SITE, valuesAt, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { quantile, shown } from "./stats.ts";

/** A pack that has not been answered by then counts as this slow. */
const PATIENCE_MS = 15_000;
/** The last packs are waited for so long. */
const LAST_MS = 2000;
/** So often the watched zone sends: a 99th percentile takes some hundreds of packs. */
const WATCH_EVERY_MS = 60;
/** So often its floor changes by more than a look is enough for: its zone is then judged whole. */
const LEAP_EVERY_MS = 2500;

/** Notes in the page what stands as the numbers of a zone, and when that was painted, epoch ms. */
function watchNumbers(count: number): void {
  const seen: [string, number][] = [];
  Object.assign(globalThis, { seen });
  const look = () =>
    Array.from(document.querySelectorAll(".numbers dd"), ({ textContent }) => textContent)
      .slice(0, count)
      .join(" ");
  let last = look();
  new MutationObserver(() => {
    const text = look();
    if (text === last) return;
    last = text;
    requestAnimationFrame(() => setTimeout(() => seen.push([text, performance.timeOrigin + performance.now()]), 0));
  }).observe(document.body, { subtree: true, childList: true, characterData: true });
}

/** Steps that show as other numbers, and are no news to whoever judges: of the floor in K, of the air in K and %RH. */
const SLAB_K = [0, 0.06, 0.12];
const AIR_K = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6];
const RH_PCT = [0, 1, 2, 3, 4];
const LEAP_K = 0.75;
/** The numbers of a pack: others than those of the packs before it. 3, 7 and 5 steps meet again after 105 packs. */
function valuesOf(base: Readonly<Record<Quantity, number>>, pack: number, isUp: boolean): Record<Quantity, number> {
  const of = (steps: readonly number[]) => steps[pack % steps.length] as number;
  const round = (value: number) => Math.round(value * 100) / 100;
  const air = round(base.air + of(AIR_K));
  const rh = Math.round(base.rh) + of(RH_PCT);
  const slab = round(base.slab + of(SLAB_K) + (isUp ? LEAP_K : 0));
  return { slab, air, rh, dew: round(dewPointC(air, rh)) };
}

/** Numbers at the head of the list: coldest and hottest floor, air, humidity. */
const SHOWN = 4;

function textsOf({ slab, air, rh }: Readonly<Record<Quantity, number>>): readonly string[] {
  return (["us", "si"] as const).map((system) =>
    [
      showBoth(slab, "C", system),
      showBoth(slab, "C", system),
      showBoth(air, "C", system),
      showBoth(rh, "%RH", system),
    ].join(" "),
  );
}

interface Sent {
  readonly texts: readonly string[];
  readonly atMs: number;
}

/**
 * How long each pack took until its numbers or newer ones were painted, ms; and how many of the packs were painted
 * themselves. Packs are painted in their order, if at all. The same numbers come again after a round, and are taken for the
 * last ones sent by then: right as long as nothing is painted a whole round late.
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
  // Numbers that the next ones overtook before a frame came are answered by those, and waited so much longer.
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
    await page.evaluate(watchNumbers, SHOWN);
    const client = await connectAsync(mqttUrl);
    const sent: Sent[] = [];
    const base = valuesAt(0, Date.now());
    const startMs = performance.now();
    const sendWatched = () => {
      const isUp = Math.floor((performance.now() - startMs) / LEAP_EVERY_MS) % 2 === 1;
      const values = valuesOf(base, sent.length, isUp);
      sent.push({ texts: textsOf(values), atMs: performance.timeOrigin + performance.now() });
      client.publish(senmlTopic(0), packText(0, Date.now(), values), { qos: 1 });
    };
    try {
      for (let at = 0; at < pagePacks; at++) {
        const waitMs = startMs + (at * 1000) / pagePacksPerS - performance.now();
        if (waitMs > 1) await sleep(waitMs);
        if (performance.now() - startMs >= sent.length * WATCH_EVERY_MS) sendWatched();
        const zone = 1 + (at % (pageZones - 1));
        client.publish(senmlTopic(zone), packText(zone, Date.now()), { qos: 1 });
      }
      await sleep(LAST_MS);
    } finally {
      await client.endAsync(true);
    }
    const seen = await page.evaluate(() => (globalThis as unknown as { seen: [string, number][] }).seen);
    const { times, painted } = timesOf(sent, seen);
    const unseen = times.filter((ms) => ms === PATIENCE_MS).length;
    const what = `pack to pixel, ${pagePacksPerS} packs/s, ${pageZones} zones: its numbers or newer ones`;
    const leaps = Math.floor(pagePacks / pagePacksPerS / (LEAP_EVERY_MS / 1000));
    const spread = [
      `most ${shown(Math.max(...times))}`,
      `${sent.length - painted - unseen} overtaken by the next ones`,
      `${unseen} not seen at all, counted as ${shown(PATIENCE_MS)}`,
      `${leaps} times the zone had to be judged whole`,
    ].join("; ");
    const at = (name: string, share: number, goalMs: number): Figure => ({
      ...{ what: `${what}, ${name}`, value: quantile(times, share), unit: "ms", n: times.length },
      ...{ spread, peer: null, goal: atMost(goalMs) },
    });
    return [at("p50", 0.5, 150), at("p99", 0.99, 400)];
  });
}
