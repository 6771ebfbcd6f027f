// What the server holds: idle, an hour of a thousand zones, and a day of one site, both played faster than they pass.
import { connectAsync } from "mqtt";
import { listenTo } from "../support/event-stream.ts";
import { type Child, sleep, startChild } from "./child.ts";
import { crowdedFolder } from "./crowd-folder.ts";
import { atMost, type Figure } from "./figure.ts";
import { temporaryFolder } from "./leftovers.ts";
import type { Held, Started, StartWish } from "./server-child.ts";
import { MINUTE_MS, packText, QUANTITIES, senmlTopic, SITE, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, rangeText, shown } from "./stats.ts";

const BYTES_PER_MB = 1e6;
const LOOK_MS = 10;
/** A day longer than the past that is held, so that what is held has stopped growing by itself. */
const SOAK_HISTORY_H = 70;
const SITE_ZONES = 12;
const NODES_PER_ZONE = 3;
const HOUR_MINUTES = 60;
/** Growth that the noise of a heap explains. */
const FLAT = 1.1;

async function idle(): Promise<Figure> {
  const folder = await temporaryFolder();
  const child = await startChild("server");
  try {
    const wish: StartWish = { data: folder.path, zones: 1 };
    await child.ask<Started>("start", wish);
    await sleep(1000);
    const value = (await child.memoryBytes()) / BYTES_PER_MB;
    return { what: "memory, idle", value, unit: "MB", n: 1, spread: "", peer: null, goal: atMost(120) };
  } finally {
    await child.ask("stop").finally(() => child.end());
    await folder.remove();
  }
}

interface Player {
  readonly child: Child;
  readonly httpUrl: string;
  /** Plays one minute: every node sends a pack, all are on the disk, and the clock moves on. */
  minute(): Promise<void>;
  end(): Promise<void>;
}

async function startPlayer(zones: number, nodesPerZone: number, historyH: number): Promise<Player> {
  const folder = await crowdedFolder({ zones, nodesPerZone, historyH, stepMs: MINUTE_MS });
  const child = await startChild("server");
  let nowMs = Math.floor(Date.now() / MINUTE_MS) * MINUTE_MS + MINUTE_MS;
  const wish: StartWish = { data: folder.path, zones: 0, clockMs: nowMs };
  const { httpUrl, mqttUrl } = await child.ask<Started>("start", wish);
  const client = await connectAsync(mqttUrl);
  const nodes = zones * nodesPerZone;
  let sent = 0;
  return {
    child,
    httpUrl,
    async minute() {
      nowMs += MINUTE_MS;
      await child.ask("setClock", nowMs);
      await Promise.all(
        Array.from({ length: nodes }, (_, node) =>
          client.publishAsync(senmlTopic(node), packText(node, nowMs), { qos: 1 }),
        ),
      );
      sent += nodes * QUANTITIES.length;
      for (;;) {
        const { readingsStored = 0 } = await child.ask<Record<string, number>>("counters");
        if (readingsStored >= sent) return;
        await sleep(LOOK_MS);
      }
    },
    async end() {
      await client.endAsync(true);
      await child.ask("stop").finally(() => child.end());
      await folder.remove();
    },
  };
}

async function hourOfMany({ enduredZones, endureWithinMs }: Sizes): Promise<Figure[]> {
  const player = await startPlayer(enduredZones, 5, 0);
  try {
    const memory: number[] = [];
    const startMs = performance.now();
    while (memory.length < HOUR_MINUTES && performance.now() - startMs < endureWithinMs) {
      await player.minute();
      memory.push((await player.child.memoryBytes()) / BYTES_PER_MB);
    }
    const half = memory.slice(Math.floor(memory.length / 2));
    const what = `${enduredZones.toLocaleString("en")} zones and ${(enduredZones * 5).toLocaleString("en")} nodes`;
    const n = memory.length;
    const common = { n, spread: `${n} of 60 minutes played; ${rangeText(memory)}` };
    return [
      { what: `memory, ${what}`, value: Math.max(...memory), unit: "MB", peer: null, goal: atMost(400), ...common },
      {
        what: `memory, ${what}, last minutes against the middle`,
        value: median(half.slice(-5)) / median(half.slice(0, 5)),
        unit: "times",
        peer: null,
        goal: atMost(FLAT),
        ...common,
      },
    ];
  } finally {
    await player.end();
  }
}

/** A day of one site whose memory is full; each hour a screen comes, looks, and goes. */
async function soak({ soakMinutes, soakHistoryH, endureWithinMs }: Sizes): Promise<Figure[]> {
  const player = await startPlayer(SITE_ZONES, NODES_PER_ZONE, soakHistoryH ?? SOAK_HISTORY_H);
  const held: Held[] = [];
  try {
    const startMs = performance.now();
    let played = 0;
    for (; played < soakMinutes && performance.now() - startMs < endureWithinMs; played++) {
      await player.minute();
      if (played % HOUR_MINUTES !== 0 && played !== soakMinutes - 1) continue;
      const screen = await listenTo(`${player.httpUrl}/api/v1/sites/${SITE.id}/stream`);
      await screen.until((heard) => heard.length > 0);
      await (await fetch(`${player.httpUrl}/api/v1/sites/${SITE.id}/zones/${zoneId(0)}/night-file`)).text();
      screen.close();
      await screen.ended;
      held.push(await player.child.ask<Held>("held"));
    }
    const middle = held[Math.floor((held.length - 1) / 2)] as Held;
    const last = held.at(-1) as Held;
    const grown = (name: string, key: "heapBytes" | "handles" | "listeners", limit: number): Figure => ({
      what: `soak of a site of ${SITE_ZONES} zones: ${name} at its end against its middle`,
      value: last[key] / middle[key],
      unit: "times",
      n: held.length,
      spread: `${shown(played / HOUR_MINUTES)} h played; ${shown(middle[key])} to ${shown(last[key])}`,
      peer: null,
      goal: atMost(limit),
    });
    return [
      grown("memory in use", "heapBytes", FLAT),
      grown("handles", "handles", FLAT),
      grown("listeners of the process", "listeners", 1),
      {
        what: `soak of a site of ${SITE_ZONES} zones: rejections that nobody handled`,
        value: last.unhandled,
        unit: "rejections",
        n: held.length,
        spread: "",
        peer: null,
        goal: atMost(0),
      },
    ];
  } finally {
    await player.end();
  }
}

export async function measureMemory(sizes: Sizes): Promise<Figure[]> {
  return [await idle(), ...(await hourOfMany(sizes)), ...(await soak(sizes))];
}
