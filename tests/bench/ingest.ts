// Packs a second: decoded, on the disk, acknowledged and judged; beside a bare subscriber of the same packs.
import { connectAsync } from "mqtt";
import { topicOf } from "#contract/topics.ts";
import { startMosquitto } from "../support/mosquitto.ts";
import { type Child, sleep, startChild } from "./child.ts";
import { type Figure, ratioAtLeast } from "./figure.ts";
import { atExit, temporaryFolder } from "./leftovers.ts";
import { FLOW_WHAT, installFlow } from "./flow.ts";
import type { Taker } from "./taker.ts";
import type { PublishWish } from "./publisher-child.ts";
import type { Started, StartWish } from "./server-child.ts";
import { nodeId, QUANTITIES, SITE } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, rangeText } from "./stats.ts";

/** Lines to the broker; each brings the buffer of one node in each wave. */
const LINES = 10;
const LOOK_MS = 10;
/** As in `server/mosquitto.conf`: a broker that writes its whole queue down each second is busy with that. */
const AS_SHIPPED = ["autosave_interval 10", "max_inflight_messages 500"];
type Counters = Readonly<Record<string, number>>;

/** Speaks for a node until the server hears it: what is sent to a broker outside before that, it has no part in. */
async function untilHeard(child: Child, brokerUrl: string): Promise<void> {
  const client = await connectAsync(brokerUrl);
  const topic = topicOf({ kind: "presence", site: SITE.id, node: nodeId(0) });
  while (((await child.ask<Counters>("counters")).messages ?? 0) === 0) {
    await client.publishAsync(topic, "online", { qos: 1 });
    await sleep(LOOK_MS);
  }
  await client.endAsync();
}

async function startServer(nodes: number, mqttUrl?: string): Promise<Taker> {
  const data = await temporaryFolder();
  const child = await startChild("server");
  const end = async () => {
    await child.ask("stop").finally(() => child.end());
    await data.remove();
  };
  const wish: StartWish = { data: data.path, zones: nodes, ...(mqttUrl === undefined ? {} : { mqttUrl }) };
  const started = await child.ask<Started>("start", wish);
  if (mqttUrl !== undefined) await untilHeard(child, mqttUrl);
  return {
    url: started.mqttUrl,
    async taken(packs) {
      for (;;) {
        const {
          readingsStored = 0,
          queueLanding = 0,
          queueJudge = 0,
          ...others
        } = await child.ask<Counters>("counters");
        const refused = Object.keys(others).filter((name) => name.startsWith("quarantined"));
        if (refused.length > 0) throw new Error(`readings were refused: ${refused.join(", ")}`);
        if (readingsStored >= packs * QUANTITIES.length && queueLanding + queueJudge === 0) return;
        await sleep(LOOK_MS);
      }
    },
    cpuMs: () => child.cpuMs(),
    end,
  };
}

async function startSubscriber(brokerUrl: string, others: readonly Child[]): Promise<Taker> {
  const child = await startChild("subscriber");
  const all = [child, ...others];
  await child.ask("start", { url: brokerUrl, filter: `nightslab/v1/${SITE.id}/node/+/senml` });
  return {
    url: brokerUrl,
    async taken(packs) {
      const readings = await child.ask<number>("counted", packs);
      if (readings !== packs * QUANTITIES.length) throw new Error(`${readings} readings in ${packs} packs`);
    },
    cpuMs: async () => (await Promise.all(all.map((one) => one.cpuMs()))).reduce((sum, ms) => sum + ms, 0),
    async end() {
      await Promise.all(all.map((one) => one.end()));
    },
  };
}

async function startBare(): Promise<Taker> {
  const broker = await startChild("broker");
  return startSubscriber(await broker.ask<string>("start"), [broker]);
}

/** The first wave warms the programs up: what they do for weeks is done by compiled code. */
const measuredPacks = ({ packsPerNode, waves }: Pick<Sizes, "packsPerNode" | "waves">): number =>
  packsPerNode * LINES * (waves - 1);

interface Round {
  /** From the first pack sent until the last is acknowledged and the taker has done with all of them. */
  readonly packsPerS: number;
  readonly cpuUsPerPack: number;
}

async function roundOf(taker: Taker, publishers: readonly Child[], { packsPerNode, waves }: Sizes): Promise<Round> {
  const all = <T>(work: (child: Child, at: number) => Promise<T>) => Promise.all(publishers.map(work));
  const endMs = Date.now();
  await all((child, at) => {
    const lines = Array.from({ length: LINES }, (_, line) => line).filter((line) => line % publishers.length === at);
    const nodesOf = (line: number) => Array.from({ length: waves }, (_, wave) => wave * LINES + line);
    const wish: PublishWish = { url: taker.url, lines: lines.map(nodesOf), packs: packsPerNode, endMs };
    return child.ask("prepare", wish);
  });
  await all((child) => child.ask("publish", 0));
  await taker.taken(packsPerNode * LINES);
  const cpuBeforeMs = await taker.cpuMs();
  const startMs = performance.now();
  for (let wave = 1; wave < waves; wave++) await all((child) => child.ask("publish", wave));
  await taker.taken(packsPerNode * LINES * waves);
  const tookS = (performance.now() - startMs) / 1000;
  const cpuMs = (await taker.cpuMs()) - cpuBeforeMs;
  await all((child) => child.ask("close"));
  const packs = measuredPacks({ packsPerNode, waves });
  return { packsPerS: packs / tookS, cpuUsPerPack: (cpuMs * 1000) / packs };
}

async function measured(start: () => Promise<Taker>, publishers: readonly Child[], sizes: Sizes): Promise<Round> {
  const taker = await start();
  try {
    return await roundOf(taker, publishers, sizes);
  } finally {
    await taker.end();
  }
}

interface Pair {
  readonly what: string;
  readonly beside: string;
  /** Share of the bare rate that is to be reached. */
  readonly share: number;
  readonly own: Round[];
  readonly peer: Round[];
}

function figuresOf({ what, beside, share, own, peer }: Pair, n: number): Figure[] {
  const figure = (name: string, unit: string, key: keyof Round, of: (values: readonly number[]) => number): Figure => {
    const values = own.map((round) => round[key]);
    const besides = peer.map((round) => round[key]);
    return {
      what: name,
      value: of(values),
      unit,
      n,
      spread: rangeText(values),
      peer: { what: beside, value: of(besides) },
    };
  };
  // Others on the machine can only lengthen what a pack takes: the least is nearest to the truth.
  const least = (values: readonly number[]) => Math.min(...values);
  return [
    {
      ...figure(`ingest, ${what}: stored, acknowledged, judged`, "packs/s", "packsPerS", median),
      goal: ratioAtLeast(share),
    },
    figure(`ingest, ${what}: computing time of a pack`, "us", "cpuUsPerPack", least),
  ];
}

export async function measureIngest(sizes: Sizes, say: (text: string) => void): Promise<Figure[]> {
  const flow = await installFlow(sizes.flowRounds > 0, say);
  const flows: Round[] = [];
  const pair = (what: string, beside: string, share: number): Pair => ({ what, beside, share, own: [], peer: [] });
  const inside = pair("built-in broker", "bare aedes, a subscriber that counts", 0.5);
  const outside = pair("Mosquitto", "same Mosquitto, a subscriber that counts", 0.3);
  const publishers = await Promise.all(Array.from({ length: sizes.publisherProcesses }, () => startChild("publisher")));
  const round = async (start: () => Promise<Taker>) => measured(start, publishers, sizes);
  const nodes = LINES * sizes.waves;
  try {
    for (let count = 0; count < sizes.rounds; count++) {
      inside.own.push(await round(() => startServer(nodes)));
      inside.peer.push(await round(startBare));
      const mosquitto = await startMosquitto({ extra: AS_SHIPPED });
      const forget = atExit(() => void mosquitto.stop());
      try {
        outside.own.push(await round(() => startServer(nodes, mosquitto.url)));
        outside.peer.push(await round(() => startSubscriber(mosquitto.url, [])));
        if (flow !== null && count < sizes.flowRounds) flows.push(await round(() => flow.start(mosquitto.url)));
      } finally {
        forget();
        await mosquitto.stop();
      }
    }
  } finally {
    await Promise.all(publishers.map((child) => child.end()));
    await flow?.remove();
  }
  const n = measuredPacks(sizes) * sizes.rounds;
  const besideFlow = (): Figure[] =>
    [inside, outside].flatMap(({ what, own, beside, peer }): Figure[] => {
      const of = (rounds: readonly Round[], key: keyof Round) => rounds.map((round) => round[key]);
      const spread = (key: keyof Round) => (flows.length < 2 ? "" : `the flow ${rangeText(of(flows, key))}`);
      return [
        {
          ...{ what: `ingest, ${what}, beside a flow`, value: median(of(own, "packsPerS")), unit: "packs/s", n },
          spread: spread("packsPerS"),
          peer: { what: FLOW_WHAT, value: median(of(flows, "packsPerS")) },
          goal: ratioAtLeast(3),
        },
        {
          what: `ingest, ${what}, beside a flow: computing time of a pack`,
          ...{ value: Math.min(...of(own, "cpuUsPerPack")), unit: "us", n, spread: spread("cpuUsPerPack") },
          peer: { what: FLOW_WHAT, value: Math.min(...of(flows, "cpuUsPerPack")) },
        },
        {
          // What no server that also stores can pass.
          ...{
            what: `${beside}, beside a flow: the ceiling`,
            value: median(of(peer, "packsPerS")),
            unit: "packs/s",
            n,
          },
          spread: spread("packsPerS"),
          peer: { what: FLOW_WHAT, value: median(of(flows, "packsPerS")) },
        },
      ];
    });
  return [...[inside, outside].flatMap((pair) => figuresOf(pair, n)), ...(flows.length === 0 ? [] : besideFlow())];
}
