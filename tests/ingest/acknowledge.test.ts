// Messages of a broker elsewhere are taken many at a time, and each is answered when it is on the disk and not before.
import { createServer, type Server, type Socket } from "node:net";
import type { MqttClient } from "mqtt";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { connectReader } from "../../server/ingest/acknowledge.ts";
import { until } from "../support/running-app.ts";

const MOST = 5;
const TOPIC = Buffer.from("a/b");

/** A PUBLISH of QoS 1, or of QoS 0 without a number, as a broker writes it (section 3.3). */
function publish(version: 4 | 5, id: number | null, body: string): Buffer {
  const number = id === null ? [] : [id >> 8, id & 0xff];
  const rest = [0, TOPIC.length, ...TOPIC, ...number, ...(version === 5 ? [0] : []), ...Buffer.from(body)];
  return Buffer.from([id === null ? 0x30 : 0x32, rest.length, ...rest]);
}

/** Numbers of the PUBACKs in what a client wrote; anything else but what begins and ends a line is a fault. */
function answered(bytes: Buffer): number[] {
  const ids: number[] = [];
  for (let at = 0; at < bytes.length; at += 2 + (bytes[at + 1] as number)) {
    const kind = (bytes[at] as number) >> 4;
    if (kind === 4) ids.push(bytes.readUInt16BE(at + 2));
    else if (kind !== 1 && kind !== 14) throw new Error(`a packet of kind ${kind}`);
  }
  return ids;
}

describe.each([4, 5] as const)("a line of MQTT %i to a broker", (version) => {
  let server: Server;
  let client: MqttClient;
  const lines: { readonly socket: Socket; read: Buffer }[] = [];
  const taken: { readonly body: string; land(): void; fail(): void }[] = [];
  const resumed: boolean[] = [];
  /** What the broker says in its yes, and what it sends right behind it. */
  let sessionPresent = 0;
  let atOnce: readonly Buffer[] = [];
  const bodies = () => taken.map(({ body }) => body);
  const line = (at: number) => lines[at] as (typeof lines)[number];
  const answers = (at = 0) => answered(line(at).read);
  const send = (...packets: Buffer[]) => void lines.at(-1)?.socket.write(Buffer.concat(packets));
  const several = (from: number, to: number) =>
    Array.from({ length: to - from + 1 }, (_, index) => publish(version, from + index, `m${from + index}`));
  /** Long enough for an answer that should not come to have come. */
  const quiet = () => new Promise((resolve) => setTimeout(resolve, 60));

  beforeEach(async () => {
    lines.length = 0;
    taken.length = 0;
    resumed.length = 0;
    sessionPresent = 0;
    atOnce = [];
    server = createServer((socket) => {
      const one = { socket, read: Buffer.alloc(0) };
      lines.push(one);
      const connack = version === 5 ? [0x20, 3, sessionPresent, 0, 0] : [0x20, 2, sessionPresent, 0];
      socket.once("data", () => socket.write(Buffer.concat([Buffer.from(connack), ...atOnce])));
      socket.on("data", (chunk) => (one.read = Buffer.concat([one.read, chunk])));
      socket.on("error", () => undefined);
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const { port } = server.address() as { port: number };
    client = connectReader(
      `mqtt://127.0.0.1:${port}`,
      { clientId: "reader", protocolVersion: version, clean: false, reconnectPeriod: 20 },
      {
        take: ({ payload }) =>
          new Promise((land, fail) => {
            taken.push({ body: payload.toString(), land, fail: () => fail(new Error("not stored")) });
          }),
        resumed: (sessionPresent) => void resumed.push(sessionPresent),
        most: MOST,
      },
    );
    await new Promise<void>((resolve) => client.once("connect", () => resolve()));
  });
  afterEach(async () => {
    await client.endAsync(true);
    for (const { socket } of lines) socket.destroy();
    await new Promise((resolve) => server.close(resolve));
  });

  it("takes several before it has answered one, and answers none of them before it is on the disk", async () => {
    send(...several(1, 3));
    await until(() => taken.length === 3);
    await quiet();
    expect(bodies()).toEqual(["m1", "m2", "m3"]);
    expect(answers()).toEqual([]);
    for (const { land } of taken) land();
    await until(() => answers().length === 3);
    expect(answers()).toEqual([1, 2, 3]);
  });

  it("answers in the order of arrival, whichever is on the disk first", async () => {
    send(...several(258, 260));
    await until(() => taken.length === 3);
    taken[2]?.land();
    taken[1]?.land();
    await quiet();
    expect(answers()).toEqual([]);
    taken[0]?.land();
    await until(() => answers().length === 3);
    expect(answers()).toEqual([258, 259, 260]);
  });

  it("leaves one that cannot be stored unanswered, and those behind it", async () => {
    send(...several(1, 3));
    await until(() => taken.length === 3);
    taken[0]?.land();
    taken[1]?.fail();
    taken[2]?.land();
    await quiet();
    expect(answers()).toEqual([1]);
  });

  it(`reads no further with ${MOST} under way, and goes on as they land`, async () => {
    send(...several(1, MOST + 3));
    await until(() => taken.length === MOST);
    await quiet();
    expect(taken).toHaveLength(MOST);
    taken[0]?.land();
    await until(() => taken.length === MOST + 1);
    for (let at = 1; at < MOST + 3; at++) {
      await until(() => taken.length > at);
      taken[at]?.land();
    }
    await until(() => answers().length === MOST + 3);
  });

  it("asks no answer for what came without a number", async () => {
    send(publish(version, null, "quiet"), publish(version, 7, "loud"));
    await until(() => taken.length === 2);
    for (const { land } of taken) land();
    await until(() => answers().length === 1);
    expect(answers()).toEqual([7]);
  });

  it("answers on the line on which a message came, and on no later one", async () => {
    send(...several(1, 2));
    await until(() => taken.length === 2);
    line(0).socket.destroy();
    await until(() => lines.length === 2 && client.connected);
    send(publish(version, 9, "m9"));
    await until(() => taken.length === 3);
    for (const { land } of taken) land();
    await until(() => answers(1).length > 0);
    await quiet();
    expect(answers(1)).toEqual([9]);
  });

  it("knows of the session before the first message that comes with it", async () => {
    sessionPresent = 1;
    atOnce = several(1, 2);
    line(0).socket.destroy();
    await until(() => taken.length === 2);
    expect(resumed).toEqual([false, true]);
    for (const { land } of taken) land();
    await until(() => answers(1).length === 2);
    expect(answers(1)).toEqual([1, 2]);
  });

  it("reads a message behind whatever the broker says of it", async () => {
    // Payload format indicator, and in the older version nothing of the kind.
    const properties = version === 5 ? [2, 1, 1] : [];
    const rest = [0, TOPIC.length, ...TOPIC, 0, 3, ...properties, ...Buffer.from("said")];
    send(Buffer.from([0x32, rest.length, ...rest]), ...several(4, 5));
    await until(() => taken.length === 3);
    expect(bodies()).toEqual(["said", "m4", "m5"]);
    for (const { land } of taken) land();
    await until(() => answers().length === 3);
    expect(answers()).toEqual([3, 4, 5]);
  });

  it("leaves to the client what it cannot take, which is answered all the same", async () => {
    const deep = Buffer.from(Array(101).fill("a").join("/"));
    const rest = [0, deep.length, ...deep, 0, 8, ...(version === 5 ? [0] : []), ...Buffer.from("deep")];
    send(Buffer.from([0x32, (rest.length & 0x7f) | 0x80, rest.length >> 7, ...rest]));
    await until(() => taken.length === 1);
    expect(bodies()).toEqual(["deep"]);
    await quiet();
    expect(answers()).toEqual([]);
    taken[0]?.land();
    await until(() => answers().length === 1);
    expect(answers()).toEqual([8]);
  });
});
