// One load of many sites on one server: how long packets take to their conditions, and to the call where a look is not enough.
import { connectAsync, type MqttClient } from "mqtt";
import type { StreamBody } from "#contract/stream.ts";
import { type EventStream, listenTo } from "../support/event-stream.ts";
import { type Child, sleep, startChild } from "./child.ts";
import type { Started, StartWish } from "./server-child.ts";
import { MINUTE_MS, packText, senmlTopic, SITE, valuesAt, zoneId } from "./site.ts";

export const NODES_PER_ZONE = 3;
/** A packet that has not been answered by then counts as this slow. */
export const PATIENCE_MS = 10_000;
/** Packets of the watched zone, for which a look is enough. */
const WATCH_EVERY_MS = 100;
const WATCHED = 0;
/** Of all packs one in so many says more than a look is enough for: with three packs a minute each zone is judged 1.3 times. */
const LEAP_EVERY = 10;
const LEAP_K = 0.75;
/** The watched floor goes down by steps, and begins again before a look is not enough. */
const STEP_K = 0.01;
const STEPS = 40;
/** It lies this much below the others of its zone, which go their way: it is the floor that its conditions name. */
const BELOW_K = 0.3;
/** Each step holds one round of the minute in which every node speaks, and at least another one that is timed. */
const ROUNDS = 2;
const LOOK_MS = 500;
/** What a process at rest takes of a core, less than this. */
const AT_REST_SHARE = 0.1;
const SETTLE_WITHIN_MS = 20_000;
/** What is under way at the end is waited for so long. */
const LAST_MS = 2500;
/** A server that has too much to do is not waited for. */
const STOP_WITHIN_MS = 5000;

export interface Step {
  readonly data: string;
  readonly zones: number;
  /** How many times as fast as the wall's the site's clock goes: so much more load do its zones make. */
  readonly times: number;
  readonly fromMs: number;
  readonly watchMs: number;
  /** How far floors have leapt in the steps before, K by node: else all of them would leap back in the first minute. */
  readonly leapt: Map<number, number>;
}

export type Counters = Readonly<Record<string, number>>;

export interface Carried {
  /** From each packet to its conditions, ms. */
  readonly looksMs: readonly number[];
  /** The same where the zone had to be judged whole for it: to its call. */
  readonly callsMs: readonly number[];
  /** What was counted in the time, and what waits at its end. */
  readonly counted: Counters;
  readonly waiting: Counters;
  readonly tookS: number;
  /** Share of one core. */
  readonly share: number;
  /** Time of the site at its end, epoch ms. */
  readonly siteMs: number;
}

interface Asked {
  readonly sentMs: number;
  heardMs: number | null;
}

/** Sends the packs of all nodes, and times the answers of some. */
class Sender {
  readonly looks: (Asked & { readonly slabC: number })[] = [];
  readonly calls: (Asked & { readonly zone: string; readonly slabC: number })[] = [];
  private readonly openCalls = new Map<string, Asked & { readonly slabC: number }>();
  private looksHeard = 0;
  private sent = 0;
  private read = 0;
  /** Zones whose first node stands on their coldest spot: that floor is what their conditions name. */
  private readonly leapers: readonly number[];
  private readonly baseC: number;

  constructor(
    private readonly client: MqttClient,
    private readonly zones: number,
    private readonly leapt: Map<number, number>,
    private readonly siteMs: () => number,
  ) {
    const floors = (zone: number) =>
      Array.from({ length: NODES_PER_ZONE }, (_, at) => valuesAt(zone + at * zones, siteMs()).slab);
    this.leapers = Array.from({ length: zones - 1 }, (_, at) => at + 1).filter((zone) => {
      const [own, ...others] = floors(zone);
      return own !== undefined && own < Math.min(...others);
    });
    this.baseC = Math.min(...floors(WATCHED)) - BELOW_K;
  }

  private floorC(node: number, atMs: number): number {
    return valuesAt(node, atMs).slab - (this.leapt.get(node) ?? 0);
  }

  private publish(node: number, slabC: number, atMs: number): number {
    const slab = Math.round(slabC * 100) / 100;
    this.client.publish(senmlTopic(node), packText(node, atMs, { ...valuesAt(node, atMs), slab }), { qos: 1 });
    return slab;
  }

  /** Every node in its turn; the watched one sends for itself. */
  send(untilPack: number): void {
    const nodes = this.zones * NODES_PER_ZONE;
    for (; this.sent < untilPack; this.sent++) {
      const node = this.sent % nodes;
      if (node !== WATCHED) this.publish(node, this.floorC(node, this.siteMs()), this.siteMs());
      // Before that the past of some node is too old to speak, and with it the zone.
      const haveAllSent = this.sent >= nodes;
      if (haveAllSent && this.sent % LEAP_EVERY === 0)
        this.leap(this.leapers[this.calls.length % this.leapers.length] as number);
    }
  }

  private leap(node: number): void {
    this.leapt.set(node, LEAP_K - (this.leapt.get(node) ?? 0));
    const sentMs = performance.now();
    const slabC = this.publish(node, this.floorC(node, this.siteMs()), this.siteMs());
    const call = { zone: zoneId(node), slabC, sentMs, heardMs: null };
    this.calls.push(call);
    // One that was not answered by now never will be: the floor has leapt back.
    this.openCalls.set(call.zone, call);
  }

  watched(): void {
    const sentMs = performance.now();
    const slabC = this.publish(WATCHED, this.baseC - STEP_K * (this.looks.length % STEPS), this.siteMs());
    this.looks.push({ slabC, sentMs, heardMs: null });
  }

  hear(heard: EventStream["heard"]): void {
    const nowMs = performance.now();
    for (; this.read < heard.length; this.read++) {
      if (heard[this.read]?.event !== "conditions") continue;
      const { zone, conditions } = heard[this.read]?.data as StreamBody<"conditions">;
      if (conditions.slabColdC === null) continue;
      if (zone === zoneId(WATCHED)) this.heardLook(conditions.slabColdC, nowMs);
      else this.heardCall(zone, conditions.slabColdC, nowMs);
    }
  }

  /** Packs of one zone that arrive together are answered together, by the last of them. */
  private heardLook(slabC: number, nowMs: number): void {
    const last = this.looks.findLastIndex((look) => Math.abs(look.slabC - slabC) < STEP_K / 2);
    for (; this.looksHeard <= last; this.looksHeard++) (this.looks[this.looksHeard] as Asked).heardMs = nowMs;
  }

  /** Told only by a judging: from where the zone was judged last its floor has leapt too far for a look. */
  private heardCall(zone: string, slabC: number, nowMs: number): void {
    const call = this.openCalls.get(zone);
    if (call === undefined || Math.abs(slabC - call.slabC) > LEAP_K / 2) return;
    call.heardMs = nowMs;
    this.openCalls.delete(zone);
  }
}

const timesOf = (all: readonly Asked[]) =>
  all.map(({ sentMs, heardMs }) => (heardMs === null ? PATIENCE_MS : Math.min(PATIENCE_MS, heardMs - sentMs)));

/** What a start has to catch up with is not what the load is: every zone is judged, and days that are over are closed. */
async function settled(child: Child, zones: number): Promise<void> {
  const startMs = performance.now();
  for (let busyMs = Number.POSITIVE_INFINITY; performance.now() - startMs < SETTLE_WITHIN_MS; ) {
    const { judged = 0 } = await child.ask<Counters>("counters");
    if (judged >= zones && busyMs < AT_REST_SHARE * LOOK_MS) return;
    const cpuMs = await child.cpuMs();
    await sleep(LOOK_MS);
    busyMs = (await child.cpuMs()) - cpuMs;
  }
}

/** Starts a server on the folder, and sends it the packs of all nodes, each one a minute of the site's clock. */
export async function carry({ data, zones, times, fromMs, watchMs, leapt }: Step): Promise<Carried> {
  const child = await startChild("server");
  const wish: StartWish = { data, zones: 0, clockMs: fromMs, times };
  const { httpUrl, mqttUrl } = await child.ask<Started>("start", wish);
  await settled(child, zones);
  const wallMs = Date.now();
  const siteMs = () => fromMs + Math.round((Date.now() - wallMs) * times);
  await child.ask("go", wallMs);
  const client = await connectAsync(mqttUrl);
  const screen = await listenTo(`${httpUrl}/api/v1/sites/${SITE.id}/stream`);
  try {
    const sender = new Sender(client, zones, leapt, siteMs);
    void screen.until((heard) => {
      sender.hear(heard);
      return false;
    });
    const everyMs = MINUTE_MS / times / (zones * NODES_PER_ZONE);
    const lastsMs = Math.max(watchMs, (ROUNDS * MINUTE_MS) / times);
    const before = await child.ask<Counters>("counters");
    const cpuBeforeMs = await child.cpuMs();
    const startMs = performance.now();
    for (;;) {
      const passedMs = performance.now() - startMs;
      if (passedMs >= lastsMs) break;
      sender.send(Math.ceil(passedMs / everyMs));
      if (passedMs > sender.looks.length * WATCH_EVERY_MS) sender.watched();
      await sleep(2);
    }
    const tookS = (performance.now() - startMs) / 1000;
    const share = ((await child.cpuMs()) - cpuBeforeMs) / (tookS * 1000);
    const waiting = await child.ask<Counters>("counters");
    const counted = Object.fromEntries(Object.entries(waiting).map(([name, is]) => [name, is - (before[name] ?? 0)]));
    await sleep(LAST_MS);
    return {
      ...{ looksMs: timesOf(sender.looks), callsMs: timesOf(sender.calls) },
      ...{ counted, waiting, tookS, share, siteMs: siteMs() },
    };
  } finally {
    screen.close();
    await client.endAsync(true);
    await Promise.race([child.ask("stop"), sleep(STOP_WITHIN_MS)]).finally(() => child.end());
  }
}
