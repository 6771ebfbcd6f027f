// Nodes that bring what they buffered: some lines, QoS 1, with a window of unacknowledged packs. They are not what is measured
// and share its cores, so every packet is laid out before, and what may go goes in one write.
import { connect, type Socket } from "node:net";
import { answer } from "./answer.ts";
import { MINUTE_MS, packText, senmlTopic } from "./site.ts";

export interface PublishWish {
  readonly url: string;
  /** For each line the nodes whose buffers it brings, one after the other: one in each wave. */
  readonly lines: readonly (readonly number[])[];
  /** Packs in the buffer of one node. */
  readonly packs: number;
  /** Time of the last pack of a buffer, epoch ms; one a minute before it. */
  readonly endMs: number;
}

/** Unacknowledged packs of one line. */
const WINDOW = 100;
/** Packets of MQTT 3.1.1 (sections 3.1 to 3.4 and 3.14): a clean session that need not speak, and a publish of QoS 1. */
const CONNECT = 0x10;
const CONNACK = Buffer.from([0x20, 2, 0, 0]);
const PUBLISH_QOS1 = 0x32;
const PUBACK = 0x40;
const PUBACK_BYTES = 4;
const DISCONNECT = Buffer.from([0xe0, 0]);
const MOST_IDS = 65_535;
const MORE = 0x80;

/** Packets that lie one behind the other, and where each begins; the last place is the end. */
interface Packets {
  readonly bytes: Buffer;
  readonly starts: readonly number[];
}

interface Line {
  readonly socket: Socket;
  /** One entry for each wave. */
  readonly buffers: readonly Packets[];
}

function withLength(first: number, body: Buffer): Buffer {
  const length: number[] = [];
  for (let left = body.length; length.length === 0 || left > 0; left = Math.floor(left / MORE))
    length.push(left >= MORE ? (left % MORE) + MORE : left);
  return Buffer.concat([Buffer.from([first, ...length]), body]);
}

function text(value: string): Buffer {
  const bytes = Buffer.from(value);
  return Buffer.concat([Buffer.from([bytes.length >> 8, bytes.length & 0xff]), bytes]);
}

const idOf = (index: number): number => (index % MOST_IDS) + 1;

/** The buffer of one node as packets, numbered from the one behind `index` on. */
function packetsOf(node: number, index: number, { packs, endMs }: PublishWish): Packets {
  const topic = text(senmlTopic(node));
  const starts = [0];
  const all = Array.from({ length: packs }, (_, at) => {
    const id = idOf(index + at);
    const pack = Buffer.from(packText(node, endMs - (packs - 1 - at) * MINUTE_MS));
    const packet = withLength(PUBLISH_QOS1, Buffer.concat([topic, Buffer.from([id >> 8, id & 0xff]), pack]));
    starts.push((starts.at(-1) as number) + packet.length);
    return packet;
  });
  return { bytes: Buffer.concat(all), starts };
}

async function open(url: string, name: string): Promise<Socket> {
  const { hostname, port } = new URL(url);
  const socket = connect({ host: hostname, port: Number(port), noDelay: true });
  await new Promise<void>((resolve, reject) => {
    socket.once("error", reject);
    socket.once("data", (answered) => {
      if (answered.equals(CONNACK)) resolve();
      else reject(new Error(`the broker says ${answered.toString("hex")}`));
    });
    socket.write(withLength(CONNECT, Buffer.concat([text("MQTT"), Buffer.from([4, 2, 0, 0]), text(name)])));
  });
  socket.removeAllListeners("error");
  return socket;
}

/** Resolves when the last of the wave is acknowledged; brokers answer in the order of what they got (section 4.6). */
function publish({ socket, buffers }: Line, wave: number): Promise<void> {
  const { bytes, starts } = buffers[wave] as Packets;
  const count = starts.length - 1;
  const from = wave * count;
  return new Promise((resolve, reject) => {
    let sent = 0;
    let acknowledged = 0;
    let held: Buffer = Buffer.alloc(0);
    const done = (error: Error | null): void => {
      for (const name of ["data", "error", "close"]) socket.removeAllListeners(name);
      if (error === null) resolve();
      else reject(error);
    };
    const more = (): void => {
      const to = Math.min(count, acknowledged + WINDOW);
      if (to > sent) socket.write(bytes.subarray(starts[sent], starts[to]));
      sent = Math.max(sent, to);
    };
    socket.on("data", (chunk: Buffer) => {
      held = held.length === 0 ? chunk : Buffer.concat([held, chunk]);
      let at = 0;
      for (; held.length - at >= PUBACK_BYTES; at += PUBACK_BYTES) {
        if (held[at] !== PUBACK || held.readUInt16BE(at + 2) !== idOf(from + acknowledged))
          return done(
            new Error(`pack ${acknowledged} was answered with ${held.toString("hex", at, at + PUBACK_BYTES)}`),
          );
        acknowledged += 1;
      }
      held = held.subarray(at);
      if (acknowledged === count) done(null);
      else more();
    });
    socket.on("error", done);
    socket.on("close", () => done(new Error("the broker closed the line")));
    more();
  });
}

let lines: readonly Line[] = [];

answer({
  async prepare(wish: PublishWish): Promise<void> {
    lines = await Promise.all(
      wish.lines.map(async (nodes) => ({
        socket: await open(wish.url, `bench-${nodes[0]}`),
        buffers: nodes.map((node, wave) => packetsOf(node, wave * wish.packs, wish)),
      })),
    );
  },
  /** Resolves when all packs of the wave are acknowledged. */
  async publish(wave: number): Promise<void> {
    await Promise.all(lines.map((line) => publish(line, wave)));
  },
  async close(): Promise<void> {
    await Promise.all(
      lines.map(({ socket }) => new Promise<void>((resolve) => socket.once("close", resolve).end(DISCONNECT))),
    );
  },
});
