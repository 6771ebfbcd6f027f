// What is taken out of a line are exactly its messages of QoS 1, and all else goes on byte for byte, however it is cut.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createPublishes, type Publish } from "../../server/ingest/publishes.ts";

/** A packet written by the letter of MQTT 3.1.1: type byte, length in sevens of bits, body. */
function packet(first: number, body: Buffer): Buffer {
  const head = [first];
  let left = body.length;
  do {
    const byte = left & 0x7f;
    left = Math.floor(left / 128);
    head.push(left > 0 ? byte | 0x80 : byte);
  } while (left > 0);
  return Buffer.concat([Buffer.from(head), body]);
}

const text = (topic: string) => {
  const bytes = Buffer.from(topic, "utf8");
  return Buffer.concat([Buffer.from([bytes.length >> 8, bytes.length & 0xff]), bytes]);
};
const number = (id: number) => Buffer.from([id >> 8, id & 0xff]);

interface Sent {
  readonly bytes: Buffer;
  readonly taken: Publish | null;
}

const TOPICS = ["nightslab/v1/hall/node/bay-1/senml", "nightslab/v1/hall/node/bay-1/presence", "hüll/kalt", "a"];
const BARRED = ["", "a/+/b", "a/#", Array(101).fill("a").join("/")];

function message(qos: 0 | 1 | 2, topic: string, id: number, body: Uint8Array, flags: number, properties: Buffer): Sent {
  const payload = Buffer.from(body);
  const head = [text(topic), ...(qos === 0 ? [] : [number(id)]), properties];
  const bytes = packet(0x30 | (qos << 1) | flags, Buffer.concat([...head, payload]));
  const isTaken = qos === 1 && id > 0 && !BARRED.includes(topic);
  const [retain, dup] = [(flags & 1) !== 0, (flags & 8) !== 0];
  return { bytes, taken: isTaken ? { id, topic, payload, retain, dup } : null };
}

const sentOf = (hasProperties: boolean) =>
  fc.oneof(
    fc
      .tuple(
        fc.constantFrom<(0 | 1 | 2)[]>(1, 1, 1, 0, 2),
        fc.oneof({ weight: 9, arbitrary: fc.constantFrom(...TOPICS) }, fc.constantFrom(...BARRED)),
        fc.oneof({ weight: 9, arbitrary: fc.integer({ min: 1, max: 65_535 }) }, fc.constant(0)),
        fc.oneof(fc.uint8Array({ maxLength: 40 }), fc.uint8Array({ minLength: 100, maxLength: 20_000 })),
        fc.constantFrom(0, 0, 0, 1, 8, 9),
        hasProperties ? fc.constantFrom([0], [0], [2, 1, 1]) : fc.constant([]),
      )
      .map(([qos, topic, id, body, flags, properties]) =>
        message(qos, topic, id, body, flags, Buffer.from(properties)),
      ),
    fc
      .tuple(fc.constantFrom(0x10, 0x40, 0x50, 0x62, 0x82, 0xc0, 0xe0, 0x36, 0xf0), fc.uint8Array({ maxLength: 300 }))
      .map(([first, body]): Sent => ({ bytes: packet(first, Buffer.from(body)), taken: null })),
  );

function cut(bytes: Buffer, places: readonly number[]): Buffer[] {
  const at = [...new Set(places.map((place) => place % (bytes.length + 1)))].sort((a, b) => a - b);
  return [0, ...at].map((from, index) => bytes.subarray(from, at[index] ?? bytes.length));
}

describe.each([false, true])("the messages of a line (with properties: %s)", (hasProperties) => {
  it("are taken whole and in order, and the rest goes on as it came", () => {
    fc.assert(
      fc.property(
        fc.array(sentOf(hasProperties), { minLength: 1, maxLength: 12 }),
        fc.array(fc.nat(50_000), { maxLength: 30 }),
        (sent, places) => {
          const got: Publish[] = [];
          const split = createPublishes({
            takes: () => true,
            hasProperties,
            isFull: () => false,
            take: (one) => void got.push(one),
          });
          const on = cut(Buffer.concat(sent.map(({ bytes }) => bytes)), places).flatMap(split);
          expect(got).toEqual(sent.flatMap(({ taken }) => taken ?? []));
          expect(Buffer.concat(on)).toEqual(
            Buffer.concat(sent.flatMap(({ bytes, taken }) => (taken === null ? [bytes] : []))),
          );
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe("what is not taken", () => {
  const good = message(1, "a", 7, Buffer.from("x"), 0, Buffer.alloc(0)).bytes;
  const splitting = (takes: () => boolean) => {
    const got: Publish[] = [];
    return {
      got,
      split: createPublishes({ takes, hasProperties: false, isFull: () => false, take: (one) => void got.push(one) }),
    };
  };

  it("is everything until the line is open", () => {
    let isOpen = false;
    const { got, split } = splitting(() => isOpen);
    expect(Buffer.concat(split(good))).toEqual(good);
    isOpen = true;
    expect(split(good)).toEqual([]);
    expect(got.map(({ id }) => id)).toEqual([7]);
  });

  it("is everything behind a length that does not end", () => {
    const { got, split } = splitting(() => true);
    const bad = Buffer.from([0x32, 0xff, 0xff, 0xff, 0xff, 1]);
    expect(Buffer.concat(split(Buffer.concat([good, bad])))).toEqual(bad);
    expect(Buffer.concat(split(good))).toEqual(good);
    expect(got).toHaveLength(1);
  });

  it("is a message whose topic is longer than itself", () => {
    const { got, split } = splitting(() => true);
    const bad = packet(0x32, Buffer.from([0, 9, 97, 0, 1]));
    expect(Buffer.concat(split(bad))).toEqual(bad);
    expect(got).toEqual([]);
  });
});
