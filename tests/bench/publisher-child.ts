// Nodes that bring what they buffered: each on its own connection, QoS 1, with a window of unacknowledged packs.
import { connectAsync, type MqttClient } from "mqtt";
import { answer } from "./answer.ts";
import { MINUTE_MS, packText, senmlTopic } from "./site.ts";

export interface PublishWish {
  readonly url: string;
  readonly nodes: readonly number[];
  readonly packs: number;
  /** Time of the last pack, epoch ms; one a minute before it. */
  readonly endMs: number;
}

/** Unacknowledged packs of one connection. */
const WINDOW = 100;

interface Node {
  readonly client: MqttClient;
  readonly topic: string;
  readonly packs: readonly string[];
}
let nodes: readonly Node[] = [];

function publish({ client, topic, packs }: Node, from: number, to: number): Promise<void> {
  return new Promise((resolve, reject) => {
    let next = from;
    let acknowledged = from;
    const more = (): void => {
      while (next < to && next - acknowledged < WINDOW) {
        client.publish(topic, packs[next++] as string, { qos: 1 }, (error) => {
          if (error) return reject(error);
          acknowledged += 1;
          if (acknowledged === to) resolve();
          else more();
        });
      }
    };
    if (from >= to) resolve();
    else more();
  });
}

answer({
  async prepare({ url, nodes: indexes, packs, endMs }: PublishWish): Promise<void> {
    nodes = await Promise.all(
      indexes.map(async (index) => ({
        client: await connectAsync(url, { clientId: `bench-${index}` }),
        topic: senmlTopic(index),
        packs: Array.from({ length: packs }, (_, at) => packText(index, endMs - (packs - 1 - at) * MINUTE_MS)),
      })),
    );
  },
  /** Resolves when all packs from the one to before the other are acknowledged. */
  async publish({ from, to }: { from: number; to: number }): Promise<void> {
    await Promise.all(nodes.map((node) => publish(node, from, to)));
  },
  async close(): Promise<void> {
    await Promise.all(nodes.map(({ client }) => client.endAsync()));
  },
});
