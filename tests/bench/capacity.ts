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
/** A thread that computes this share of the time has nothing left. */
const FULL_SHARE = 0.9;

interface Level {
  readonly figure: Figure;
  /** What was at its end, by the server's own counters. */
  readonly fullest: string;
}
type Counters = Readonly<Record<string, number>>;

/** What waits, else what the one thread did with its time. */
function fullestOf({ queueLanding = 0, queueJudge = 0 }: Counters, zones: number, share: number): string {
  if (queueLanding > zones) return `landing: ${queueLanding} messages wait`;
  if (queueJudge > zones / 10) return `judging: ${queueJudge} of ${zones} zones wait for their turn`;
  if (share >= FULL_SHARE) return "the one thread: it computes all the time, and its queues are empty after";
  return "no queue: single turns hold the thread";
}

/** p99 of the way from a packet of the watched zone to its changed conditions, while every node sends once a minute. */
async function level(sites: number, watchMs: number): Promise<Level> {
  const zones = sites * ZONES;
  const nodes = zones * NODES_PER_ZONE;
  const folder = await crowdedFolder({ zones, nodesPerZone: NODES_PER_ZONE, historyH: HISTORY_H, stepMs: STEP_MS });
  const child = await startChild("server");
  const wish: StartWish = { data: folder.path, zones: 0 };
  const { httpUrl, mqttUrl } = await child.ask<Started>("start", wish);
  const client = await connectAsync(mqttUrl);
  const screen = await listenTo(`${httpUrl}/api/v1/sites/${SITE.id}/stream`);
  try {
    const heardMs = new Map<number, number>();
    void screen.until((heard) => {
      const { event, data } = heard.at(-1) ?? {};
      if (event !== "conditions") return false;
      const { zone, conditions } = data as StreamBody<"conditions">;
      if (zone === zoneId(0) && conditions.slabColdC !== null && !heardMs.has(conditions.slabColdC))
        heardMs.set(conditions.slabColdC, performance.now());
      return false;
    });
    const sentMs = new Map<number, number>();
    const everyMs = MINUTE_MS / nodes;
    const before = await child.ask<Counters>("counters");
    const cpuBeforeMs = await child.cpuMs();
    const startMs = performance.now();
    let sent = 0;
    while (performance.now() - startMs < watchMs) {
      const passedMs = performance.now() - startMs;
      for (; sent * everyMs < passedMs; sent++) {
        const node = sent % nodes;
        if (node % zones !== 0) client.publish(senmlTopic(node), packText(node, Date.now()), { qos: 1 });
      }
      if (passedMs > sentMs.size * WATCH_EVERY_MS) {
        const atMs = Date.now();
        const slab = Math.round((valuesAt(0, startMs).slab - 3 + 0.01 * sentMs.size) * 100) / 100;
        sentMs.set(slab, performance.now());
        client.publish(senmlTopic(0), packText(0, atMs, { ...valuesAt(0, atMs), slab }), { qos: 1 });
      }
      await sleep(2);
    }
    const tookS = (performance.now() - startMs) / 1000;
    const share = ((await child.cpuMs()) - cpuBeforeMs) / (tookS * 1000);
    const after = await child.ask<Counters>("counters");
    const perS = (name: string) => ((after[name] ?? 0) - (before[name] ?? 0)) / tookS;
    const { queueJudge = 0, queueLanding = 0 } = after;
    await sleep(TOO_SLOW_MS);
    // Packs of one zone that arrive together are answered together, by the last of them.
    const answers = [...heardMs].sort(([, a], [, b]) => a - b);
    const times = [...sentMs].map(([slab, atMs]) => {
      const answered = answers.find(([other, heard]) => other >= slab && heard >= atMs);
      return answered === undefined ? PATIENCE_MS : answered[1] - atMs;
    });
    const figure: Figure = {
      what: `packet to conditions, ${sites} ${sites === 1 ? "site" : "sites"} of ${ZONES} zones and ${ZONES * NODES_PER_ZONE} nodes, p99`,
      value: quantile(times, 0.99),
      unit: "ms",
      n: times.length,
      spread: [
        `p50 ${shown(quantile(times, 0.5))}; ${shown(share * 100)} % of a core`,
        `a second: ${shown(perS("messages"))} packs, ${shown(perS("judged"))} zones judged whole, ${shown(perS("looked"))} looked at`,
        `waiting: ${queueLanding} to land, ${queueJudge} to judge`,
      ].join("; "),
      peer: null,
    };
    return { figure, fullest: fullestOf(after, zones, share) };
  } finally {
    screen.close();
    await client.endAsync(true);
    await child.ask("stop").finally(() => child.end());
    await folder.remove();
  }
}

/** Steps are taken until one is too slow, or until the bench has no time left for another. */
export async function measureCapacity({ siteLevels, watchMs, capacityWithinMs }: Sizes): Promise<Figure[]> {
  const curve: Figure[] = [];
  const startMs = performance.now();
  let carried = 0;
  let end = "not raised further";
  for (const sites of siteLevels) {
    if (performance.now() - startMs > capacityWithinMs) {
      end = `no time for ${sites} sites`;
      break;
    }
    const { figure, fullest } = await level(sites, watchMs);
    curve.push(figure);
    if (figure.value > TOO_SLOW_MS) {
      end = `with ${sites} sites gives way: ${fullest}`;
      break;
    }
    carried = sites;
  }
  return [
    ...curve,
    {
      what: `sites of ${ZONES} zones and ${ZONES * NODES_PER_ZONE} nodes on one server, p99 within 2 s`,
      value: carried,
      unit: "sites",
      n: curve.length,
      spread: end,
      peer: null,
    },
  ];
}
