// Trials of whoever comes to the broker: a flood of malformed and hostile messages, and a crowd that appears at once.
import { connect } from "node:net";
import { connectAsync, type MqttClient } from "mqtt";
import { uniform } from "../random.ts";
import { SITE, nodeId } from "./floor.ts";
import { sleep } from "./program.ts";
import type { Play } from "./trial.ts";

const CLIENTS = 4;
const WINDOW = 500;
/** Every so many hostile messages a connection speaks no MQTT at all. */
const RAW_EVERY = 1000;

const pick = <T>(list: readonly T[], seed: number, name: string, index: number): T =>
  list[Math.floor(uniform(seed, name, index) * list.length)] as T;

const NAMES = [
  "__proto__",
  "constructor",
  "node-0",
  "ñandú",
  "a".repeat(300),
  "..",
  "%00",
  "$SYS",
  "node 1",
  "0",
  "💧",
  "-",
  "node-0/../node-1",
];
const NUMBERS = [
  "1e999",
  "-1e999",
  "NaN",
  "Infinity",
  "null",
  "1e400",
  "9007199254740993",
  "-1e3",
  "0x10",
  "true",
  '"12"',
  "[]",
  "12.",
];
const UNITS = ["Cel", "K", "F", "%RH", "", "cel", "\\u0000", "Cel\\n", "%EL", "dBm"];

function topicFor(seed: number, index: number): string {
  const kind = pick(["senml", "presence", "knock", "call", "senml/x", ""], seed, "kind", index);
  const site = pick([SITE.id, SITE.id, SITE.id, "other", "__proto__", "", "a".repeat(200)], seed, "site", index);
  const root = pick(
    ["nightslab/v1", "nightslab/v1", "nightslab/v1", "nightslab/v2", "nightslab", "/", "elsewhere"],
    seed,
    "root",
    index,
  );
  const node = uniform(seed, "known", index) < 0.5 ? nodeId(index % 10) : pick(NAMES, seed, "name", index);
  return `${root}/${site}/node/${node}/${kind}`.replace(/[+#\0]/g, "x");
}

function bytesOf(seed: number, index: number): Buffer {
  const length = Math.floor(uniform(seed, "length", index) ** 4 * 4000);
  return Buffer.from(Array.from({ length }, (_, at) => Math.floor(uniform(seed, `byte ${index}`, at) * 256)));
}

/** Nothing that a node of the floor could have said: what is accepted of it would be a reading too many. */
function payloadFor(seed: number, index: number): Buffer | string {
  const node = nodeId(index % 10);
  const number = pick(NUMBERS, seed, "number", index);
  const unit = pick(UNITS, seed, "unit", index);
  const quantity = pick(
    ["slab", "air", "rh", "slab.999", "slab.", "__proto__", "SLAB", "door", ""],
    seed,
    "quantity",
    index,
  );
  switch (Math.floor(uniform(seed, "payload", index) * 12)) {
    case 0:
      return bytesOf(seed, index);
    case 1:
      return `[{"n":"${node}/${quantity}","u":"${unit}","v":${number}}]`;
    case 2:
      return "[".repeat(1 + Math.floor(uniform(seed, "deep", index) * 5000));
    case 3:
      return `[{"n":"${node}/${quantity}","u":"${unit}","v":1e308,"t":${number}}]`;
    case 4:
      return `{"__proto__":{"polluted":true},"n":"${node}/slab"}`;
    case 5:
      return `[{"bn":"${node}/","bt":${uniform(seed, "bt", index) * 1e18},"n":"slab","u":"Cel","v":12}]`;
    case 6:
      return `[{"bver":99,"n":"${node}/slab","u":"Cel","v":12}]`;
    case 7:
      return JSON.stringify(Array.from({ length: 200 }, () => ({ n: `${node}/${quantity}`, u: unit, v: 1e30 })));
    case 8:
      return `[{"n":"${node}/slab","u":"Cel","vs":"12"},{"n":"${node}/rh","u":"%RH","v":-${1 + (index % 500)}}]`;
    case 9:
      return `[{"n":"node-1/slab","u":"Cel","v":12,"danger_":1}]`;
    case 10:
      return pick(
        ["", "null", "[]", "{}", "online", "offline", "ONLINE", '"', "\ufeff[]", "[1e]"],
        seed,
        "small",
        index,
      );
    default:
      return `[{"n":"${node}/slab","u":"Cel","v":12},`.slice(0, 1 + Math.floor(uniform(seed, "cut", index) * 40));
  }
}

/** Bytes on the raw port that are no MQTT, or MQTT that lies about its lengths. */
function rawBytes(port: number, seed: number, index: number): Promise<void> {
  return new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1");
    const done = () => {
      socket.destroy();
      resolve();
    };
    const timer = setTimeout(done, 500);
    socket.once("close", () => {
      clearTimeout(timer);
      resolve();
    });
    socket.on("error", done);
    const connectPacket = Buffer.from("101000044d5154540402003c000474657374", "hex");
    const tail = pick(["ffffffffff", "32ffffff7f", "30", "820100", "c0", "f000", "3203000078"], seed, "raw", index);
    socket.write(index % 2 === 0 ? bytesOf(seed, index) : Buffer.concat([connectPacket, Buffer.from(tail, "hex")]));
  });
}

/** Messages drawn from the seed, on a few connections beside the flow of the nodes; which of them is acknowledged is of no account. */
async function flood(url: string, count: number, seed: number): Promise<number> {
  const port = Number(new URL(url).port);
  let next = 0;
  let reconnects = 0;
  const one = async (): Promise<void> => {
    while (next < count) {
      const client: MqttClient = await connectAsync(url, { reconnectPeriod: 0, connectTimeout: 20_000 });
      let open = true;
      let underWay = 0;
      client.on("error", () => undefined);
      client.once("close", () => (open = false));
      while (open && next < count) {
        const index = next++;
        if (index % RAW_EVERY === 0) await rawBytes(port, seed, index);
        underWay += 1;
        const qos = index % 3 === 0 ? 0 : 1;
        client.publish(topicFor(seed, index), payloadFor(seed, index), { qos }, () => (underWay -= 1));
        if (index % 100 === 0) await sleep(0);
        while (open && underWay > WINDOW) await sleep(1);
      }
      for (let waited = 0; open && underWay > 0 && waited < 5000; waited += 10) await sleep(10);
      if (!open) reconnects += 1;
      await client.endAsync(true);
    }
  };
  await Promise.all(Array.from({ length: CLIENTS }, one));
  return reconnects;
}

export const hostile: Play = async ({ start, fleet, packs, sizes, sendAll }) => {
  const server = await start();
  const startedMs = performance.now();
  let over = false;
  const cut = flood(server.mqttUrl, sizes.hostile, sizes.seed).finally(() => (over = true));
  while (!over && !(await fleet.send(server.mqttUrl, packs.count, sizes.perS, () => over)));
  const reconnects = await cut;
  const tookS = Math.max(1, Math.round((performance.now() - startedMs) / 1000));
  await sendAll(server.mqttUrl, "after the flood");
  const { counters } = await server.health();
  const refused = Object.entries(counters).reduce(
    (sum, [name, n]) => (name.startsWith("quarantined.") ? sum + n : sum),
    0,
  );
  return {
    ...{ server, mqttUrl: server.mqttUrl },
    said: `${sizes.hostile} messages of seed ${sizes.seed} at ${Math.round(sizes.hostile / tookS)}/s beside the flow: ${refused} refused and counted, ${reconnects} connections cut, the process never ended`,
  };
};

/** Tries of a node before it gives up; the pause between two doubles from a quarter of a second to eight. */
const MOST_TRIES = 12;

/** One of the crowd: connects and says one pack, again where the line breaks, as firmware does. */
async function newcomer(url: string, seed: number, index: number, again: () => void): Promise<MqttClient> {
  for (let tries = 1; ; tries++) {
    try {
      const client = await connectAsync(url, { reconnectPeriod: 0, connectTimeout: 120_000, keepalive: 600 });
      client.on("error", () => undefined);
      await client.publishAsync(
        `nightslab/v1/${SITE.id}/node/crowd-${index}/senml`,
        `[{"n":"crowd-${index}/slab","u":"Cel","v":12}]`,
        { qos: 1 },
      );
      return client;
    } catch (error) {
      if (tries === MOST_TRIES) throw error;
      again();
      await sleep(Math.min(8000, 125 * 2 ** tries) * (0.5 + uniform(seed, `crowd ${index}`, tries)));
    }
  }
}

/** Nodes that nobody has let in, each on its own connection, all at once. */
export const crowd: Play = async ({ start, fleet, packs, sizes, sendAll }) => {
  const server = await start();
  const half = Math.ceil(packs.count / 2);
  let over = false;
  const flow = fleet.send(server.mqttUrl, half, sizes.perS, () => over);
  const startedMs = performance.now();
  let again = 0;
  const clients = await Promise.all(
    Array.from({ length: sizes.crowd }, (_, index) => newcomer(server.mqttUrl, sizes.seed, index, () => (again += 1))),
  );
  const tookS = Math.round((performance.now() - startedMs) / 100) / 10;
  over = true;
  await flow;
  await Promise.all(clients.map((client) => client.endAsync(true)));
  await sendAll(server.mqttUrl, "after the crowd");
  return {
    ...{ server, mqttUrl: server.mqttUrl },
    said: `${sizes.crowd} unknown nodes connected at once beside the flow: ${clients.length} answered in ${tookS} s, after ${again} tries that broke`,
  };
};
