// How many sites of 12 zones and 36 nodes one machine carries: the load is raised until the slowest packets take too long.
import { connectAsync } from "mqtt";
import type { StreamBody } from "#contract/stream.ts";
import { listenTo } from "../support/event-stream.ts";
import { sleep, startChild } from "./child.ts";
import { crowdedFolder } from "./crowd-folder.ts";
import type { Figure } from "./figure.ts";
import type { Started, StartWish } from "./server-child.ts";
import { MINUTE_MS, packText, senmlTopic, SITE, valuesAt, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { quantile, shown } from "./stats.ts";

const ZONES = 12;
const NODES_PER_ZONE = 3;
const HISTORY_H = 50;
const STEP_MS = 10 * MINUTE_MS;
const TOO_SLOW_MS = 2000;
/** A packet that has not been answered by then counts as this slow. */
const PATIENCE_MS = 10_000;
const WATCH_EVERY_MS = 250;
/** Each step holds a round of the minute, with some to spare. */
const ROUNDS = 1.25;
/** A thread that computes this share of the time has nothing left. */
const FULL_SHARE = 0.9;
/** A server that has too much to do is not waited for. */
const STOP_WITHIN_MS = 5000;

interface Level {
  readonly figure: Figure;
  /** What was at its end, by the server's own counters. */
  readonly fullest: string;
  /** Time of the site at its end, epoch ms. */
  readonly siteMs: number;
}
type Counters = Readonly<Record<string, number>>;

/** What waits, else what the one thread did with its time. */
function fullestOf({ queueLanding = 0, queueJudge = 0 }: Counters, zones: number, share: number): string {
  if (queueLanding > zones) return `landing: ${queueLanding} messages wait`;
  if (queueJudge > zones / 10) return `judging: ${queueJudge} turns of ${zones} zones wait`;
  if (share >= FULL_SHARE) return "the one thread: it computes all the time, and its queues are empty after";
  return "no queue: single turns hold the thread";
}

interface Step {
  readonly data: string;
  readonly zones: number;
  /** How many times as fast as the wall's the site's clock goes: so much more load do its zones make. */
  readonly times: number;
  readonly fromMs: number;
  readonly watchMs: number;
}

/** p99 of the way from a packet of the watched zone to its changed conditions, while every node sends once a minute. */
async function level(sites: number, { data, zones, times, fromMs, watchMs }: Step): Promise<Level> {
  const nodes = zones * NODES_PER_ZONE;
  const child = await startChild("server");
  const wallMs = Date.now();
  const siteMs = () => fromMs + (Date.now() - wallMs) * times;
  const wish: StartWish = { data, zones: 0, clockMs: fromMs, pace: { wallMs, times } };
  const { httpUrl, mqttUrl } = await child.ask<Started>("start", wish);
  // What a start has to catch up with is not what the load is.
  while (((await child.ask<Counters>("counters")).judged ?? 0) < zones) await sleep(WATCH_EVERY_MS);
  const client = await connectAsync(mqttUrl);
  const screen = await listenTo(`${httpUrl}/api/v1/sites/${SITE.id}/stream`);
  try {
    const heardMs = new Map<number, number>();
    void screen.until((heard) => {
      const { event, data: told } = heard.at(-1) ?? {};
      if (event !== "conditions") return false;
      const { zone, conditions } = told as StreamBody<"conditions">;
      if (zone === zoneId(0) && conditions.slabColdC !== null && !heardMs.has(conditions.slabColdC))
        heardMs.set(conditions.slabColdC, performance.now());
      return false;
    });
    const sentMs = new Map<number, number>();
    const everyMs = MINUTE_MS / times / nodes;
    const lastsMs = Math.max(watchMs, (ROUNDS * MINUTE_MS) / times);
    const base = valuesAt(0, siteMs()).slab - 3;
    const before = await child.ask<Counters>("counters");
    const cpuBeforeMs = await child.cpuMs();
    const startMs = performance.now();
    let sent = 0;
    while (performance.now() - startMs < lastsMs) {
      const passedMs = performance.now() - startMs;
      for (; sent * everyMs < passedMs; sent++) {
        const node = sent % nodes;
        if (node % zones !== 0) client.publish(senmlTopic(node), packText(node, siteMs()), { qos: 1 });
      }
      if (passedMs > sentMs.size * WATCH_EVERY_MS) {
        const atMs = siteMs();
        const slab = Math.round((base + 0.01 * sentMs.size) * 100) / 100;
        sentMs.set(slab, performance.now());
        client.publish(senmlTopic(0), packText(0, atMs, { ...valuesAt(0, atMs), slab }), { qos: 1 });
      }
      await sleep(2);
    }
    const tookS = (performance.now() - startMs) / 1000;
    const share = ((await child.cpuMs()) - cpuBeforeMs) / (tookS * 1000);
    const after = await child.ask<Counters>("counters");
    const since = (name: string) => (after[name] ?? 0) - (before[name] ?? 0);
    const { queueJudge = 0, queueLanding = 0 } = after;
    await sleep(TOO_SLOW_MS);
    // Packs of one zone that arrive together are answered together, by the last of them.
    const answers = [...heardMs].sort(([, a], [, b]) => a - b);
    const latencies = [...sentMs].map(([slab, atMs]) => {
      const answered = answers.find(([other, heard]) => other >= slab && heard >= atMs);
      return answered === undefined ? PATIENCE_MS : answered[1] - atMs;
    });
    const rounds = since("judged") / zones;
    const figure: Figure = {
      what: `packet to conditions, load of ${sites} sites of ${ZONES} zones and ${ZONES * NODES_PER_ZONE} nodes, p99`,
      value: quantile(latencies, 0.99),
      unit: "ms",
      n: latencies.length,
      spread: [
        `p50 ${shown(quantile(latencies, 0.5))}; ${shown(share * 100)} % of a core`,
        `a second: ${shown(since("messages") / tookS)} packs, ${shown(since("judged") / tookS)} zones judged whole, ${shown(since("looked") / tookS)} looked at`,
        `each zone ${shown(rounds)} times in ${shown((tookS * times) / 60)} of its minutes`,
        `waiting: ${queueLanding} to land, ${queueJudge} to judge`,
      ].join("; "),
      peer: null,
    };
    return { figure, fullest: fullestOf(after, zones, share), siteMs: siteMs() };
  } finally {
    screen.close();
    await client.endAsync(true);
    await Promise.race([child.ask("stop"), sleep(STOP_WITHIN_MS)]).finally(() => child.end());
  }
}

/**
 * Steps are taken until one is too slow, or until the bench has no time left for another. The load is that of more sites:
 * the same zones with a clock that goes faster, so that a step holds a round of the minute. What more sites would hold in
 * memory, and what their boards would be, is not in it.
 */
export async function measureCapacity(sizes: Sizes): Promise<Figure[]> {
  const { capacitySites, siteLevels, watchMs, capacityWithinMs } = sizes;
  const startMs = performance.now();
  const zones = capacitySites * ZONES;
  const crowd = { zones, nodesPerZone: NODES_PER_ZONE, historyH: HISTORY_H, stepMs: STEP_MS };
  const folder = await crowdedFolder(crowd);
  const curve: Figure[] = [];
  let fromMs = Date.now();
  let carried = 0;
  let end = "not raised further";
  try {
    for (const sites of siteLevels) {
      if (performance.now() - startMs > capacityWithinMs) {
        end = `no time for ${sites} sites`;
        break;
      }
      const step = { data: folder.path, zones, times: sites / capacitySites, fromMs, watchMs };
      const { figure, fullest, siteMs } = await level(sites, step);
      fromMs = siteMs;
      curve.push(figure);
      if (figure.value > TOO_SLOW_MS) {
        end = `with ${sites} sites gives way: ${fullest}`;
        break;
      }
      carried = sites;
    }
  } finally {
    await folder.remove();
  }
  return [
    ...curve,
    {
      what: `load of sites of ${ZONES} zones and ${ZONES * NODES_PER_ZONE} nodes on one server, p99 within 2 s`,
      value: carried,
      unit: "sites",
      n: curve.length,
      spread: `${end}; made with ${capacitySites} sites and a faster clock, their past a reading in ten minutes`,
      peer: null,
    },
  ];
}
