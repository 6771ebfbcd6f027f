// One client's connection with limits: what comes too fast is read later, what is too large ends it. Others feel nothing.
import type { Socket } from "node:net";
import { Duplex } from "node:stream";
import { createBucket, type Rate } from "./bucket.ts";
import { createMeter } from "./meter.ts";

export interface Limits {
  readonly messages: Rate;
  readonly bytes: Rate;
}

/**
 * A node sends a message a minute, and after three days without network some seventy of sixteen kilobytes; a gateway as
 * much for fifty of them. Twenty a second serves both, and a store writes a hundred times as many.
 */
export const USUAL_LIMITS: Limits = {
  messages: { perS: 20, burst: 600 },
  bytes: { perS: 64 * 1024, burst: 2 * 1024 * 1024 },
};
/** Told of a client that is slowed once in this time. */
const TELL_MS = 60_000;

export interface ThrottleOptions {
  readonly limits: Limits | null;
  readonly nowMs: () => number;
  readonly slowed: (line: Duplex) => void;
  readonly tooLarge: (line: Duplex) => void;
}

export class TooLarge extends Error {}

/** Waits by leaving bytes in the socket: TCP then slows the sender, and memory stays small. */
export class Throttle extends Duplex {
  readonly remoteAddress: string | null;
  private readonly meter = createMeter();
  private timer: NodeJS.Timeout | null = null;
  private toldMs = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly socket: Socket,
    options: ThrottleOptions,
  ) {
    super({ allowHalfOpen: false });
    this.remoteAddress = socket.remoteAddress ?? null;
    const { limits, nowMs } = options;
    const messages = limits === null ? null : createBucket(limits.messages, nowMs());
    const bytes = limits === null ? null : createBucket(limits.bytes, nowMs());
    socket.on("data", (chunk: Buffer) => {
      const { packets, tooLarge } = this.meter(chunk);
      if (tooLarge) {
        options.tooLarge(this);
        this.destroy(new TooLarge("a packet that is too large"));
        return;
      }
      const more = this.push(chunk);
      const now = nowMs();
      const waitMs = Math.max(messages?.take(packets, now) ?? 0, bytes?.take(chunk.length, now) ?? 0);
      if (waitMs > 0) {
        this.wait(waitMs);
        if (now - this.toldMs > TELL_MS) {
          this.toldMs = now;
          options.slowed(this);
        }
      } else if (!more) socket.pause();
    });
    socket.on("end", () => this.push(null));
    socket.on("error", (error) => this.destroy(error));
    socket.on("close", () => this.destroy());
  }

  private wait(ms: number): void {
    this.socket.pause();
    this.timer ??= setTimeout(() => {
      this.timer = null;
      this.socket.resume();
    }, ms);
  }

  override _read(): void {
    if (this.timer === null) this.socket.resume();
  }

  override _write(chunk: Buffer, encoding: BufferEncoding, done: (error?: Error | null) => void): void {
    this.socket.write(chunk, encoding, done);
  }

  override _writev(
    chunks: readonly { readonly chunk: Buffer; readonly encoding: BufferEncoding }[],
    done: (error?: Error | null) => void,
  ): void {
    // An acknowledgement comes in three pieces, and a turn brings hundreds of them.
    this.socket.write(Buffer.concat(chunks.map(({ chunk }) => chunk)), done);
  }

  override _final(done: () => void): void {
    this.socket.end(done);
  }

  override _destroy(error: Error | null, done: (error?: Error | null) => void): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.socket.destroy();
    done(error);
  }
}
