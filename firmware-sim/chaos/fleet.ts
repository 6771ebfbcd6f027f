// Nodes that send at a rate, keep what was not acknowledged, and send that again when the broker is back, as firmware does.
import { connect, type MqttClient } from "mqtt";
import { NODES, packText, type Packs, senmlTopic, timeOf } from "./floor.ts";
import { sleep } from "./program.ts";

/** Unacknowledged packs of one node. */
const WINDOW = 200;
const TURN_MS = 20;

export interface Fleet {
  /**
   * Sends until every pack below `to` is acknowledged, the line breaks, or `isOver`; true if all are. `begun` is told when
   * every node is connected.
   */
  send(url: string, to: number, perS: number | null, isOver?: () => boolean, begun?: () => void): Promise<boolean>;
  /** The last packs of every node count as not sent: it repeats what a broker may have lost. */
  repeat(last: number): void;
  readonly acknowledged: number;
  /** Packs that were sent more than once. */
  readonly repeated: number;
}

/** Rejects also where the line is cut before the broker has answered. */
function connectOnce(url: string, clientId: string): Promise<MqttClient> {
  return new Promise((resolve, reject) => {
    const client = connect(url, { clientId, reconnectPeriod: 0, connectTimeout: 10_000 });
    client.on("error", () => undefined);
    client.once("connect", () => resolve(client));
    client.once("close", () => reject(new Error("the broker closed the line")));
  });
}

export function createFleet(packs: Packs, nodes = NODES): Fleet {
  const acked = Array.from({ length: nodes }, () => new Set<number>());
  const sent = Array.from({ length: nodes }, () => new Set<number>());
  let repeated = 0;

  async function send(
    url: string,
    to: number,
    perS: number | null,
    isOver: () => boolean = () => false,
    begun?: () => void,
  ) {
    const clients: MqttClient[] = [];
    const queues = acked.map((done) => Array.from({ length: to }, (_, pack) => pack).filter((pack) => !done.has(pack)));
    let broken = false;
    let left = queues.reduce((sum, { length }) => sum + length, 0);
    const underWay = queues.map(() => 0);
    const startedMs = performance.now();
    let given = 0;
    const one = (node: number): boolean => {
      const pack = queues[node]?.[0];
      const client = clients[node];
      if (pack === undefined || client === undefined || (underWay[node] ?? 0) >= WINDOW) return false;
      queues[node]?.shift();
      underWay[node] = (underWay[node] ?? 0) + 1;
      if (sent[node]?.has(pack) === true) repeated += 1;
      sent[node]?.add(pack);
      client.publish(senmlTopic(node), packText(node, timeOf(packs, node, pack)), { qos: 1 }, (error) => {
        underWay[node] = (underWay[node] ?? 0) - 1;
        if (error) return;
        acked[node]?.add(pack);
        left -= 1;
      });
      return true;
    };
    const settled = await Promise.allSettled(queues.map((_, node) => connectOnce(url, `trial-${node}`)));
    for (const one of settled) if (one.status === "fulfilled") clients.push(one.value);
    for (const client of clients) {
      client.once("close", () => (broken = true));
      if (!client.connected) broken = true;
    }
    if (clients.length < nodes) broken = true;
    else begun?.();
    while (left > 0 && !broken && !isOver()) {
      const due = perS === null ? Number.POSITIVE_INFINITY : ((performance.now() - startedMs) / 1000) * perS;
      for (let any = true; any && given < due; ) {
        any = false;
        for (let node = 0; node < nodes && given < due; node++)
          if (one(node)) {
            any = true;
            given += 1;
          }
      }
      await sleep(TURN_MS);
    }
    await Promise.all(clients.map((client) => client.endAsync(true)));
    return left === 0;
  }

  return {
    send,
    repeat(last) {
      for (const done of acked) {
        const newest = Math.max(-1, ...done);
        for (let pack = newest; pack > newest - last; pack--) done.delete(pack);
      }
    },
    get acknowledged() {
      return acked.reduce((sum, { size }) => sum + size, 0);
    },
    get repeated() {
      return repeated;
    },
  };
}
