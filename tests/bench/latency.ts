// From a published pack to the changed conditions on a screen; beside the same packs through a bare broker.
import { connectAsync } from "mqtt";
import type { StreamBody } from "#contract/stream.ts";
import { listenTo } from "../support/event-stream.ts";
import { sleep, startChild } from "./child.ts";
import type { Figure } from "./figure.ts";
import { type Filled, ZONES } from "./filled.ts";
import type { Started, StartWish } from "./server-child.ts";
import { HOUR_MS, packText, senmlTopic, SITE, valuesAt, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { quantile, shown } from "./stats.ts";

const PACKS_PER_S = 50;
/** How long the last packs are waited for, ms. */
const PATIENCE_MS = 10_000;

/** Sends packs at the pace of the bench, one zone after the other; resolves when all are acknowledged. */
async function sendAll(packs: number, send: (zone: number, at: number) => Promise<unknown>): Promise<void> {
  const startMs = performance.now();
  const sending: Promise<unknown>[] = [];
  for (let at = 0; at < packs; at++) {
    const waitMs = startMs + (at * 1000) / PACKS_PER_S - performance.now();
    if (waitMs > 0) await sleep(waitMs);
    sending.push(send(at % ZONES, at));
  }
  await Promise.all(sending);
}

async function patiently(done: Promise<unknown>): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  await Promise.race([done, new Promise((resolve) => (timer = setTimeout(resolve, PATIENCE_MS)))]);
  clearTimeout(timer);
}

/** Each pack of a zone says another slab temperature than those just before it, by hundredths of a degree. */
function changed(zone: number, at: number): { readonly value: number; readonly text: string } {
  const atMs = Date.now();
  const thisHour = valuesAt(zone, atMs - (atMs % HOUR_MS));
  const value = Math.round((thisHour.slab + 0.01 * (Math.floor(at / ZONES) % 50)) * 100) / 100;
  return { value, text: packText(zone, atMs, { ...valuesAt(zone, atMs), slab: value }) };
}

interface Way {
  readonly latenciesMs: readonly number[];
  /** Computing time of the process in between. */
  readonly cpuUsPerPack: number;
}

async function toScreen(filled: Filled, packs: number): Promise<Way> {
  const child = await startChild("server");
  const wish: StartWish = { data: filled.data, zones: 0 };
  const { httpUrl, mqttUrl } = await child.ask<Started>("start", wish);
  const client = await connectAsync(mqttUrl);
  const screen = await listenTo(`${httpUrl}/api/v1/sites/${SITE.id}/stream`);
  try {
    const waiting = new Map<string, { readonly value: number; readonly sentMs: number }[]>();
    const latenciesMs: number[] = [];
    let read = 0;
    const all = screen.until((heard) => {
      const nowMs = performance.now();
      for (; read < heard.length; read++) {
        if (heard[read]?.event !== "conditions") continue;
        const { zone, conditions } = heard[read]?.data as StreamBody<"conditions">;
        const sent = waiting.get(zone) ?? [];
        const at = sent.findIndex(({ value }) => value === conditions.slabColdC);
        // Packs of one zone that arrive together are answered together.
        for (const { sentMs } of sent.splice(0, at + 1)) latenciesMs.push(nowMs - sentMs);
      }
      return latenciesMs.length >= packs;
    });
    const cpuBeforeMs = await child.cpuMs();
    await sendAll(packs, (zone, at) => {
      const { value, text } = changed(zone, at);
      const sent = waiting.get(zoneId(zone)) ?? [];
      waiting.set(zoneId(zone), sent);
      sent.push({ value, sentMs: performance.now() });
      return client.publishAsync(senmlTopic(zone), text, { qos: 1 });
    });
    await patiently(all);
    if (latenciesMs.length < packs) throw new Error(`${latenciesMs.length} of ${packs} changes reached the screen`);
    return { latenciesMs, cpuUsPerPack: (((await child.cpuMs()) - cpuBeforeMs) * 1000) / packs };
  } finally {
    screen.close();
    await client.endAsync(true);
    await child.ask("stop").finally(() => child.end());
  }
}

async function toSubscriber(packs: number): Promise<Way> {
  const broker = await startChild("broker");
  const url = await broker.ask<string>("start");
  const [sender, reader] = await Promise.all([connectAsync(url), connectAsync(url)]);
  try {
    const sentMs: number[] = [];
    const latenciesMs: number[] = [];
    const all = new Promise<void>((resolve) => {
      reader.on("message", (_topic, payload) => {
        const nowMs = performance.now();
        JSON.parse(payload.toString());
        // One sender, one broker, one reader: packs arrive in the order in which they were sent.
        latenciesMs.push(nowMs - (sentMs[latenciesMs.length] as number));
        if (latenciesMs.length === packs) resolve();
      });
    });
    await reader.subscribeAsync("#", { qos: 1 });
    const cpuBeforeMs = await broker.cpuMs();
    await sendAll(packs, (zone, at) => {
      const { text } = changed(zone, at);
      sentMs.push(performance.now());
      return sender.publishAsync(senmlTopic(zone), text, { qos: 1 });
    });
    await patiently(all);
    if (latenciesMs.length < packs) throw new Error(`${latenciesMs.length} of ${packs} packs reached the subscriber`);
    return { latenciesMs, cpuUsPerPack: (((await broker.cpuMs()) - cpuBeforeMs) * 1000) / packs };
  } finally {
    await Promise.all([sender.endAsync(true), reader.endAsync(true)]);
    await broker.end();
  }
}

export async function measureLatency(filled: Filled, { latencyPacks }: Sizes): Promise<Figure[]> {
  const own = await toScreen(filled, latencyPacks);
  const peer = await toSubscriber(latencyPacks);
  const what = `pack to changed conditions on a screen, ${PACKS_PER_S} packs/s`;
  const beside = "bare aedes, to a subscriber";
  const n = latencyPacks;
  const at = (name: string, share: number, spread: string): Figure => ({
    what: `${what}, ${name}`,
    value: quantile(own.latenciesMs, share),
    unit: "ms",
    n,
    spread,
    peer: { what: `${beside}, ${name}`, value: quantile(peer.latenciesMs, share) },
  });
  return [
    at("p50", 0.5, `least ${shown(Math.min(...own.latenciesMs))}`),
    at("p99", 0.99, `most ${shown(Math.max(...own.latenciesMs))}`),
    {
      what: `${what}, computing time of a pack`,
      value: own.cpuUsPerPack,
      unit: "us",
      n,
      spread: "",
      peer: { what: "bare aedes, the broker alone", value: peer.cpuUsPerPack },
    },
  ];
}
