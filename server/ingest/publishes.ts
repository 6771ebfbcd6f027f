// Takes the messages of QoS 1 out of the bytes of a line; whatever else comes goes on as it came. A flood is made of these
// alone, and a full reader of MQTT spends more on each of them than storing it costs.

export interface Publish {
  /** Number of the message on its line. */
  readonly id: number;
  readonly topic: string;
  readonly payload: Buffer;
  readonly retain: boolean;
  readonly dup: boolean;
}

export interface PublishWish {
  /** True where this message is taken here; before a line is open all goes on. */
  readonly takes: () => boolean;
  /** MQTT 5 has properties before the payload. */
  readonly hasProperties: boolean;
  /** True where no more is to be taken for now: what has come waits, until it is asked for by an empty chunk. */
  readonly isFull: () => boolean;
  readonly take: (publish: Publish) => void;
  /** Told of a packet that goes on: its first byte, and what stands behind its length. */
  readonly passes?: (first: number, body: Buffer) => void;
  /** Topics that are remembered, so that they need not be read anew: a line of a broker brings those of many nodes. */
  readonly mostTopics?: number;
}

const PUBLISH_QOS1 = 0x32;
/** All of the first byte but DUP and RETAIN. */
const KIND_AND_QOS = 0xf6;
const DUP = 0x08;
const RETAIN = 0x01;
const MORE = 0x80;
const MOST_LENGTH_BYTES = 4;
/** A topic with more levels is refused by whoever reads the rest. */
const MOST_LEVELS = 100;
const [SLASH, PLUS, HASH] = [0x2f, 0x2b, 0x23];

/** Whether a topic is one that may be written to, and not too deep. */
function isPlain(bytes: Buffer): boolean {
  let levels = 1;
  for (const byte of bytes) {
    if (byte === PLUS || byte === HASH) return false;
    if (byte === SLASH) levels += 1;
  }
  return bytes.length > 0 && levels <= MOST_LEVELS;
}

interface Topic {
  readonly bytes: Buffer;
  readonly text: string;
  readonly isPlain: boolean;
}

/** Topics of a line that are remembered as they were read, of up to so many bytes; then it is begun anew. */
const MOST_TOPICS = 16;
const LONGEST_KEPT_BYTES = 128;

/** A number that two topics seldom have in common. */
function sumOf(bytes: Buffer, from: number, to: number): number {
  let sum = 0;
  for (let at = from; at < to; at++) sum = (Math.imul(sum, 31) + (bytes[at] as number)) | 0;
  return sum;
}

function isSame(known: Buffer, bytes: Buffer, from: number, to: number): boolean {
  if (known.length !== to - from) return false;
  for (let at = 0; at < known.length; at++) if (known[at] !== bytes[from + at]) return false;
  return true;
}

/** A length in up to four bytes of seven bits each (section 2.2.3); null where they are not all there. */
function lengthAt(bytes: Buffer, at: number): { readonly value: number; readonly bytes: number } | "endless" | null {
  let value = 0;
  for (let place = 0; place < MOST_LENGTH_BYTES; place++) {
    const byte = bytes[at + place];
    if (byte === undefined) return null;
    value += (byte & (MORE - 1)) * MORE ** place;
    if (byte < MORE) return { value, bytes: place + 1 };
  }
  return "endless";
}

/** The place behind something that begins with its length; null where there is no length. */
function behindLength(bytes: Buffer, at: number): number | null {
  const length = lengthAt(bytes, at);
  return length === null || length === "endless" ? null : at + length.bytes + length.value;
}

/** Gives for each chunk of a line, as it comes, the bytes that go on: whole packets in their order. */
export function createPublishes({
  takes,
  hasProperties,
  isFull,
  take,
  passes,
  mostTopics = MOST_TOPICS,
}: PublishWish): (chunk: Buffer) => readonly Buffer[] {
  let held: Buffer[] = [];
  let heldBytes = 0;
  /** Bytes of the packet that is held, or as many as tell how many it has. */
  let wanted = 0;
  let isBroken = false;
  /** A node writes to one topic, and a broker that tells of many nodes names each of theirs again and again. */
  const topics = new Map<number, Topic>();

  const topicAt = (bytes: Buffer, from: number, to: number): Topic => {
    const sum = sumOf(bytes, from, to);
    const known = topics.get(sum);
    if (known !== undefined && isSame(known.bytes, bytes, from, to)) return known;
    const own = Buffer.from(bytes.subarray(from, to));
    const topic = { bytes: own, text: own.toString("utf8"), isPlain: isPlain(own) };
    if (topics.size >= mostTopics) topics.clear();
    if (own.length <= LONGEST_KEPT_BYTES) topics.set(sum, topic);
    return topic;
  };
  /** True if the message between these bytes, after its length, was taken. */
  const taken = (bytes: Buffer, first: number, from: number, to: number): boolean => {
    if ((first & KIND_AND_QOS) !== PUBLISH_QOS1 || to - from < 2 || !takes()) return false;
    const topicTo = from + 2 + bytes.readUInt16BE(from);
    const payloadFrom = hasProperties ? behindLength(bytes, topicTo + 2) : topicTo + 2;
    if (payloadFrom === null || payloadFrom > to) return false;
    const topic = topicAt(bytes, from + 2, topicTo);
    const id = bytes.readUInt16BE(topicTo);
    if (!topic.isPlain || id === 0) return false;
    const payload = bytes.subarray(payloadFrom, to);
    take({ id, topic: topic.text, payload, retain: (first & RETAIN) !== 0, dup: (first & DUP) !== 0 });
    return true;
  };
  /** Where the body of a packet begins and ends; null where its head is not all there. */
  const bodyAt = (bytes: Buffer, at: number): { readonly from: number; readonly to: number } | null => {
    const length = lengthAt(bytes, at + 1);
    if (length === "endless") isBroken = true;
    if (length === null || length === "endless") return null;
    const from = at + 1 + length.bytes;
    return { from, to: from + length.value };
  };

  return (chunk) => {
    if (isBroken) return chunk.length > 0 ? [chunk] : [];
    if (chunk.length > 0) held.push(chunk);
    heldBytes += chunk.length;
    if (heldBytes < wanted) return [];
    const bytes = held.length === 1 ? (held[0] as Buffer) : Buffer.concat(held);
    const on: Buffer[] = [];
    let at = 0;
    let goesOnFrom = 0;
    wanted = 0;
    while (at < bytes.length) {
      if (isFull()) break;
      const body = bodyAt(bytes, at);
      if (body === null || body.to > bytes.length) {
        wanted = body === null ? bytes.length - at + 1 : body.to - at;
        break;
      }
      const first = bytes[at] as number;
      if (taken(bytes, first, body.from, body.to)) {
        if (goesOnFrom < at) on.push(bytes.subarray(goesOnFrom, at));
        goesOnFrom = body.to;
      } else passes?.(first, bytes.subarray(body.from, body.to));
      at = body.to;
    }
    // A length without end is for whoever reads the rest to refuse.
    if (isBroken) at = bytes.length;
    if (goesOnFrom < at) on.push(bytes.subarray(goesOnFrom, at));
    held = at < bytes.length ? [bytes.subarray(at)] : [];
    heldBytes = bytes.length - at;
    return on;
  };
}
