// What the server holds: idle, an hour of a thousand zones, and a day of one site, both played faster than they pass.
import { execFile } from "node:child_process";
import { promisify } from "node:util";
import { connectAsync } from "mqtt";
import { builtServer } from "../support/built-server.ts";
import { listenTo } from "../support/event-stream.ts";
import { startServer } from "../support/server-process.ts";
import { type Child, sleep, startChild } from "./child.ts";
import { crowdedFolder } from "./crowd-folder.ts";
import { atMost, type Figure } from "./figure.ts";
import type { Held, Started, StartWish } from "./server-child.ts";
import { MINUTE_MS, packText, QUANTITIES, senmlTopic, SITE, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, rangeText, shown } from "./stats.ts";

const BYTES_PER_MB = 1e6;
/** A day longer than the past that is held, so that what is held has stopped growing by itself. */
const SOAK_HISTORY_H = 70;
const SITE_ZONES = 12;
const NODES_PER_ZONE = 3;
const HOUR_MINUTES = 60;
/** In the day of one site somebody comes, looks and goes this often, minutes; then what is held is noted. */
const LOOK_EVERY = 120;
/** What is held of the machine is told this often, minutes. */
const TOLD_EVERY = 10;
/** What is held goes up and down between two collections: so many minutes are taken together. */
const NOISE_MINUTES = 10;
/** Growth that the noise of a heap explains. */
const FLAT = 1.1;
const SETTLE_MS = 1000;
const IDLE_MS = 30_000;

/** What a process holds of the machine's memory, bytes. */
async function residentBytes(pid: number): Promise<number> {
  const { stdout } = await promisify(execFile)("ps", ["-o", "rss=", "-p", String(pid)]);
  return Number(stdout) * 1024;
}

/** Beside a server that `npm start` runs, with one zone and nobody who asks: what it holds when the work is done. */
async function besideIdle(work: () => Promise<Figure[]>): Promise<Figure[]> {
  const folder = await crowdedFolder({ zones: 1, nodesPerZone: 1, historyH: 0, stepMs: MINUTE_MS });
  const settings = { NIGHTSLAB_DATA: folder.path, NIGHTSLAB_LOG_LEVEL: "info", NODE_ENV: "production" };
  try {
    const server = await startServer(settings, await builtServer());
    try {
      const startMs = performance.now();
      await sleep(SETTLE_MS);
      const atFirst = (await residentBytes(server.pid)) / BYTES_PER_MB;
      const figures = await work();
      // What its start has left behind is given back once nothing happens for a while.
      await sleep(Math.max(0, IDLE_MS - (performance.now() - startMs)));
      const value = (await residentBytes(server.pid)) / BYTES_PER_MB;
      const idleS = Math.round((performance.now() - startMs) / 1000);
      const spread = `after ${idleS} s; at its start ${atFirst.toPrecision(3)}`;
      return [{ what: "memory, idle", value, unit: "MB", n: 1, spread, peer: null, goal: atMost(120) }, ...figures];
    } finally {
      server.signal("SIGTERM");
      await server.ended;
    }
  } finally {
    await folder.remove();
  }
}

interface Player {
  readonly child: Child;
  readonly httpUrl: string;
  /** Plays one step: the clock moves on, every node sends a pack, and all are on the disk. */
  step(): Promise<void>;
  /** How often zones were judged so far: minutes that pass in milliseconds are judged together. */
  judgings(): Promise<string>;
  end(): Promise<void>;
}

async function startPlayer(zones: number, nodesPerZone: number, historyH: number, stepMs: number): Promise<Player> {
  const folder = await crowdedFolder({ zones, nodesPerZone, historyH, stepMs });
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
    async step() {
      nowMs += stepMs;
      await child.ask("setClock", nowMs);
      // What is acknowledged is on the disk.
      await Promise.all(
        Array.from({ length: nodes }, (_, node) =>
          client.publishAsync(senmlTopic(node), packText(node, nowMs), { qos: 1 }),
        ),
      );
      sent += nodes * QUANTITIES.length;
    },
    async judgings() {
      const { judged = 0, looked = 0, readingsStored = 0 } = await child.ask<Record<string, number>>("counters");
      if (readingsStored !== sent) throw new Error(`${readingsStored} of ${sent} readings were stored`);
      return `${(judged + looked).toLocaleString("en")} judgings`;
    },
    async end() {
      await client.endAsync(true);
      await child.ask("stop").finally(() => child.end());
      await folder.remove();
    },
  };
}

async function hourOfMany({ enduredZones, endureWithinMs }: Sizes): Promise<Figure[]> {
  const player = await startPlayer(enduredZones, 5, 0, MINUTE_MS);
  try {
    const memory: number[] = [];
    // A zone that was never judged holds nothing.
    await player.child.ask("judged", enduredZones);
    const startMs = performance.now();
    while (memory.length < HOUR_MINUTES && performance.now() - startMs < endureWithinMs) {
      await player.step();
      memory.push((await player.child.memoryBytes()) / BYTES_PER_MB);
    }
    const whole = memory.length === HOUR_MINUTES;
    const middle = Math.floor(memory.length / 2);
    const n = memory.length;
    const much = `${enduredZones.toLocaleString("en")} zones and ${(enduredZones * 5).toLocaleString("en")} nodes`;
    const what = `${much}, ${whole ? "an hour" : `broken off after ${n} of ${HOUR_MINUTES} minutes`}`;
    const told = memory.filter((_, minute) => (minute + 1) % TOLD_EVERY === 0).map((value) => shown(value));
    const course = told.length === 0 ? "" : `; each ${TOLD_EVERY} minutes ${told.join(", ")}`;
    const common = { n, spread: `${rangeText(memory)}${course}; ${await player.judgings()}` };
    // Part of an hour proves neither that it stays low nor that it stays flat; that it is too much already, it does.
    const goal = (limit: number, value: number) => (whole || value > limit ? { goal: atMost(limit) } : {});
    const most = Math.max(...memory);
    const around = memory.slice(Math.max(0, middle - NOISE_MINUTES / 2), middle + NOISE_MINUTES / 2);
    const grown = median(memory.slice(-NOISE_MINUTES)) / median(around);
    return [
      { what: `memory, ${what}`, value: most, unit: "MB", peer: null, ...goal(400, most), ...common },
      {
        what: `memory, ${what}, last minutes against the middle`,
        value: grown,
        unit: "times",
        peer: null,
        ...goal(FLAT, grown),
        ...common,
      },
    ];
  } finally {
    await player.end();
  }
}

/** A day of one site whose memory is full. */
async function soak({ soakMinutes, soakStepMinutes, soakHistoryH, endureWithinMs }: Sizes): Promise<Figure[]> {
  const stepMs = soakStepMinutes * MINUTE_MS;
  const player = await startPlayer(SITE_ZONES, NODES_PER_ZONE, soakHistoryH ?? SOAK_HISTORY_H, stepMs);
  const held: Held[] = [];
  try {
    const startMs = performance.now();
    let played = 0;
    const look = async (): Promise<void> => {
      const screen = await listenTo(`${player.httpUrl}/api/v1/sites/${SITE.id}/stream`);
      await screen.until((heard) => heard.length > 0);
      // Kept for the next question, its connection would count as one that nobody let go of.
      const own = { headers: { connection: "close" } };
      await (await fetch(`${player.httpUrl}/api/v1/sites/${SITE.id}/zones/${zoneId(0)}/night-file`, own)).text();
      screen.close();
      await screen.ended;
      held.push(await player.child.ask<Held>("held"));
    };
    while (played < soakMinutes && performance.now() - startMs < endureWithinMs) {
      await player.step();
      played += soakStepMinutes;
      if (played % LOOK_EVERY === 0) await look();
    }
    if (played % LOOK_EVERY !== 0) await look();
    const judgings = await player.judgings();
    const whole = played >= soakMinutes;
    const hours = (minutes: number) => shown(minutes / HOUR_MINUTES);
    const what = `soak of a site of ${SITE_ZONES} zones, a pack each ${soakStepMinutes} min, ${whole ? `${hours(played)} h` : `broken off after ${hours(played)} of ${hours(soakMinutes)} h`}`;
    const middle = held[Math.floor((held.length - 1) / 2)] as Held;
    const last = held.at(-1) as Held;
    const grown = (name: string, key: "heapBytes" | "handles" | "listeners", limit: number): Figure => ({
      what: `${what}: ${name} at its end against its middle`,
      value: last[key] / middle[key],
      unit: "times",
      n: held.length,
      spread: `${shown((held[0] as Held)[key])}, ${shown(middle[key])}, ${shown(last[key])}; ${key === "handles" ? last.handleNames : judgings}`,
      peer: null,
      ...(whole || last[key] / middle[key] > limit ? { goal: atMost(limit) } : {}),
    });
    return [
      grown("memory in use", "heapBytes", FLAT),
      grown("handles", "handles", 1),
      grown("listeners of the process", "listeners", 1),
      {
        what: `${what}: rejections that nobody handled`,
        value: last.unhandled,
        unit: "rejections",
        n: held.length,
        spread: "",
        peer: null,
        ...(whole || last.unhandled > 0 ? { goal: atMost(0) } : {}),
      },
    ];
  } finally {
    await player.end();
  }
}

export async function measureMemory(sizes: Sizes): Promise<Figure[]> {
  // It does nothing, and so disturbs nothing.
  return [...(await besideIdle(() => hourOfMany(sizes))), ...(await soak(sizes))];
}
