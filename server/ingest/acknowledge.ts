// Acknowledging what a broker elsewhere sent: each message when it is on the disk, in their order, many in one write.
import type { IPublishPacket, MqttClient } from "mqtt";

/** A PUBACK that says yes is these two bytes and the number of the message, in MQTT 3.1.1 and in 5 (section 3.4). */
const PUBACK = [0x40, 2] as const;

interface UnderWay {
  /** Number of the message on its line; null for one that wants no answer. */
  readonly id: number | null;
  readonly line: MqttClient["stream"];
  landed: boolean;
}

/**
 * `take` resolves when a message is on the disk, and rejects when it will not be: it then stays unanswered, and so do
 * those behind it. With `most` messages under way nothing more is read from the line.
 */
export function acknowledgeWhenTaken(
  client: MqttClient,
  take: (packet: IPublishPacket) => Promise<void>,
  most: number,
): void {
  const underWay: UnderWay[] = [];
  let readOn: (() => void) | null = null;
  let isDue = false;

  // The client would answer a message of QoS 1 by itself, and look at the next one only then: a commit for each. One
  // that it takes for QoS 0 it hands on at once, and the answer is ours. Its number tells what it was.
  client.on("packetreceive", (packet) => {
    if (packet.cmd === "publish" && packet.qos === 1) packet.qos = 0;
  });

  const answer = (): void => {
    isDue = false;
    const waiting = underWay.findIndex(({ landed }) => !landed);
    const taken = underWay.splice(0, waiting === -1 ? underWay.length : waiting);
    // A message of an earlier line has no number on this one; the broker sends it again.
    const bytes = taken.flatMap(({ id, line }) =>
      id === null || line !== client.stream ? [] : [...PUBACK, id >> 8, id & 0xff],
    );
    if (bytes.length > 0 && client.connected) client.stream.write(Buffer.from(bytes));
    if (underWay.length >= most) return;
    readOn?.();
    readOn = null;
  };

  client.handleMessage = (packet, done) => {
    const one: UnderWay = { id: packet.messageId ?? null, line: client.stream, landed: false };
    underWay.push(one);
    take(packet).then(
      () => {
        one.landed = true;
        // After all that was committed with it has been told.
        if (!isDue) process.nextTick(answer);
        isDue = true;
      },
      () => undefined,
    );
    if (underWay.length < most) done();
    else readOn = () => done();
  };
}
