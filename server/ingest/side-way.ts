// A line with a side way: some of what comes is taken from it before its reader sees it, and is answered from there.
import { Duplex } from "node:stream";
import { createPublishes, type Publish } from "./publishes.ts";

export interface SideWayWish {
  /** True where messages are taken here; before a line is open all goes to its reader. */
  readonly takes: () => boolean;
  /** True for MQTT 5. */
  readonly hasProperties: boolean;
  /** Resolves when a message that the reader will not see is on the disk: it is acknowledged then, in its order. */
  readonly take: (publish: Publish) => Promise<void>;
  /** Told why a message was not taken; it stays unanswered, and so do those behind it. */
  readonly failed: (error: unknown) => void;
  /** Told of what goes to the reader: the first byte of a packet, and what stands behind its length. */
  readonly passes?: (first: number, body: Buffer) => void;
  /** Messages that are not answered: with so many nothing more is read. */
  readonly most?: number;
  /** The same of the bytes of their payloads. */
  readonly mostBytes?: number;
  /** Topics that are remembered: some, unless given. */
  readonly mostTopics?: number;
}

const MOST_MESSAGES = 500;
const MOST_BYTES = 128 * 1024;
/** A PUBACK that says yes is these two bytes and the number of the message, in MQTT 3.1.1 and in 5 (section 3.4). */
const PUBACK = [0x40, 2] as const;

const NOTHING = Buffer.alloc(0);

interface UnderWay {
  readonly id: number;
  readonly bytes: number;
  isTaken: boolean;
}

/** `line` is read and written by this alone. */
export class SideWay extends Duplex {
  /** Whoever is at the other end, as far as the line tells. */
  readonly remoteAddress: string | null;
  private readonly underWay: UnderWay[] = [];
  private underWayBytes = 0;
  private readerIsFull = false;
  private answerIsDue = false;
  private readonly isFull: () => boolean;
  private readonly split: (chunk: Buffer) => readonly Buffer[];

  constructor(
    private readonly line: Duplex,
    {
      takes,
      hasProperties,
      take,
      failed,
      passes,
      most = MOST_MESSAGES,
      mostBytes = MOST_BYTES,
      mostTopics,
    }: SideWayWish,
  ) {
    super({ allowHalfOpen: false });
    this.remoteAddress = (line as Duplex & { readonly remoteAddress?: string | null }).remoteAddress ?? null;
    this.isFull = () => this.underWay.length >= most || this.underWayBytes >= mostBytes;
    this.split = createPublishes({
      takes,
      hasProperties,
      isFull: this.isFull,
      ...(passes === undefined ? {} : { passes }),
      ...(mostTopics === undefined ? {} : { mostTopics }),
      take: (publish) => {
        const one: UnderWay = { id: publish.id, bytes: publish.payload.length, isTaken: false };
        this.underWay.push(one);
        this.underWayBytes += one.bytes;
        take(publish).then(() => this.taken(one), failed);
      },
    });
    line.on("data", (chunk: Buffer) => this.come(chunk));
    line.on("end", () => this.push(null));
    line.on("error", (error) => this.destroy(error));
    line.on("close", () => this.destroy());
  }

  private come(chunk: Buffer): void {
    for (const piece of this.split(chunk)) if (!this.push(piece)) this.readerIsFull = true;
    this.flow();
  }

  private taken(one: UnderWay): void {
    one.isTaken = true;
    // After all that was committed with it has been told, and all of them in one write.
    if (!this.answerIsDue) process.nextTick(() => this.answer());
    this.answerIsDue = true;
  }

  private answer(): void {
    this.answerIsDue = false;
    const waiting = this.underWay.findIndex(({ isTaken }) => !isTaken);
    const taken = this.underWay.splice(0, waiting === -1 ? this.underWay.length : waiting);
    if (taken.length === 0 || this.destroyed || this.writableEnded) return;
    const answers = Buffer.allocUnsafe(taken.length * (PUBACK.length + 2));
    let at = 0;
    for (const { id, bytes } of taken) {
      this.underWayBytes -= bytes;
      for (const byte of PUBACK) at = answers.writeUInt8(byte, at);
      at = answers.writeUInt16BE(id, at);
    }
    this.write(answers);
    // What came before it was full.
    this.come(NOTHING);
  }

  /** What is not read stays in the line: the sender then waits, and memory stays small. */
  private flow(): void {
    if (this.readerIsFull || this.isFull()) this.line.pause();
    else this.line.resume();
  }

  override _read(): void {
    this.readerIsFull = false;
    this.flow();
  }

  override _write(chunk: Buffer, encoding: BufferEncoding, done: (error?: Error | null) => void): void {
    this.line.write(chunk, encoding, done);
  }

  override _writev(
    chunks: readonly { readonly chunk: Buffer; readonly encoding: BufferEncoding }[],
    done: (error?: Error | null) => void,
  ): void {
    this.line.write(Buffer.concat(chunks.map(({ chunk }) => chunk)), done);
  }

  override _final(done: () => void): void {
    this.line.end(done);
  }

  override _destroy(error: Error | null, done: (error?: Error | null) => void): void {
    this.line.destroy();
    done(error);
  }
}
