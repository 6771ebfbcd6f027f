// A client of a broker elsewhere: messages of QoS 1 are taken beside it, many at a time, and each is answered when it is on the disk.
import type { Duplex } from "node:stream";
import { connect, type IClientOptions, type IPublishPacket, type MqttClient } from "mqtt";
import { SideWay } from "./side-way.ts";

export type Said = Pick<IPublishPacket, "topic" | "payload" | "retain" | "dup">;

export interface ReaderWish {
  /** Resolves when a message is on the disk, and rejects when it will not be: it then stays unanswered, and so do those behind it. */
  readonly take: (said: Said) => Promise<void>;
  /** Told before the first message of a line whether the broker kept a session. */
  readonly resumed: (sessionPresent: boolean) => void;
  /** With so many messages under way nothing more is read from the line. */
  readonly most: number;
  /** The same of the bytes of their payloads; what a line may hold, unless given. */
  readonly mostBytes?: number;
}

/** As many as one server has nodes, more or less. */
const MOST_TOPICS = 8000;
/** CONNACK (section 3.2): flags, of which the lowest says that there is a session, and a code, of which 0 is a yes. */
const CONNACK = 0x20;

export function connectReader(
  url: string,
  settings: IClientOptions,
  { take, resumed, most, mostBytes }: ReaderWish,
): MqttClient {
  const client = connect(url, { ...settings, manualConnect: true });
  const inner = client as unknown as { streamBuilder: (client: MqttClient) => Duplex };
  const build = inner.streamBuilder;
  inner.streamBuilder = (one) => {
    let isOpen = false;
    return new SideWay(build(one), {
      takes: () => isOpen,
      hasProperties: settings.protocolVersion === 5,
      take,
      failed: () => undefined,
      passes(first, [flags = 0, code]) {
        if (first !== CONNACK || code !== 0) return;
        isOpen = true;
        resumed((flags & 1) === 1);
      },
      most,
      mostTopics: MOST_TOPICS,
      ...(mostBytes === undefined ? {} : { mostBytes }),
    });
  };
  // What asks for no answer, and what the side way leaves to the client, which then answers one at a time.
  let underWay = 0;
  let readOn: (() => void) | null = null;
  client.handleMessage = (packet, done) => {
    underWay += 1;
    take(packet).then(
      () => {
        underWay -= 1;
        if (packet.qos > 0) done();
        readOn?.();
        readOn = null;
      },
      () => undefined,
    );
    if (packet.qos > 0) return;
    if (underWay < most) done();
    else readOn = () => done();
  };
  client.connect();
  // Only its beginning is ours.
  client.options.manualConnect = false;
  return client;
}
