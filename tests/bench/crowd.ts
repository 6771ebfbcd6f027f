// A server with very many zones: how long all take in turn, and whether a packet waits while they do.
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

const HISTORY_H = 50;
const STEP_MS = 10 * MINUTE_MS;
/** Packs to the watched zone, so far apart that each has its own answer. */
const EVERY_MS = 400;
/** Zones of the server beside it. */
const FEW = 5;

interface Watched {
  readonly latenciesMs: readonly number[];
  /** Zones judged in the meantime, and how long each took with all that was done beside. */
  readonly judged: number;
  readonly aZoneMs: number;
}

/** Sends packs to one zone of a server that has just started, which judges every zone anew. */
async function watched(zones: number, packs: number): Promise<Watched> {
  const folder = await crowdedFolder({ zones, nodesPerZone: 1, historyH: HISTORY_H, stepMs: STEP_MS });
  const child = await startChild("server");
  try {
    const wish: StartWish = { data: folder.path, zones: 0 };
    const { httpUrl, mqttUrl } = await child.ask<Started>("start", wish);
    const judged = async () => (await child.ask<Record<string, number>>("counters")).judged ?? 0;
    const before = await judged();
    const startMs = performance.now();
    const client = await connectAsync(mqttUrl);
    const screen = await listenTo(`${httpUrl}/api/v1/sites/${SITE.id}/stream`);
    try {
      const latenciesMs: number[] = [];
      for (let at = 0; at < packs; at++) {
        const atMs = Date.now();
        const slab = Math.round((valuesAt(0, atMs).slab + 0.01 * (at + 1)) * 100) / 100;
        const sentMs = performance.now();
        await client.publishAsync(senmlTopic(0), packText(0, atMs, { ...valuesAt(0, atMs), slab }), { qos: 1 });
        await screen.until((heard) =>
          heard.some(({ event, data }) => {
            if (event !== "conditions") return false;
            const { zone, conditions } = data as StreamBody<"conditions">;
            return zone === zoneId(0) && conditions.slabColdC === slab;
          }),
        );
        latenciesMs.push(performance.now() - sentMs);
        await sleep(EVERY_MS);
      }
      const done = (await judged()) - before;
      return { latenciesMs, judged: done, aZoneMs: (performance.now() - startMs) / done };
    } finally {
      screen.close();
      await client.endAsync(true);
      await child.ask("stop").finally(() => child.end());
    }
  } finally {
    await folder.remove();
  }
}

export async function measureCrowd({ crowdZones: zones, crowdPacks: packs }: Sizes): Promise<Figure[]> {
  const crowd = await watched(zones, packs);
  const few = await watched(FEW, packs);
  const at = (name: string, share: number): Figure => ({
    what: `pack to screen while ${zones} zones are judged in turn, ${name}`,
    value: quantile(crowd.latenciesMs, share),
    unit: "ms",
    n: packs,
    spread:
      share < 0.9 ? `least ${shown(Math.min(...crowd.latenciesMs))}` : `most ${shown(Math.max(...crowd.latenciesMs))}`,
    peer: { what: `the same of ${FEW} zones, ${name}`, value: quantile(few.latenciesMs, share) },
  });
  return [
    at("p50", 0.5),
    at("p99", 0.99),
    {
      what: `${zones} zones judged in turn beside packs, time of a zone`,
      value: crowd.aZoneMs,
      unit: "ms",
      n: crowd.judged,
      spread: "",
      peer: null,
    },
  ];
}
