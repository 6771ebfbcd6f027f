// Empties the outbox into InfluxDB, batch after batch, in order; waits longer the longer the engine is away.
import { deliver } from "./influx-deliver.ts";
import { callLine, readingLine } from "./influx-lines.ts";
import { NotNow, type WriteLines } from "./influx-write.ts";
import type { Batch, Outbox } from "./outbox.ts";

export interface SenderParts {
  readonly outbox: Outbox;
  readonly write: WriteLines;
  readonly nowMs: () => number;
  readonly log: { warn(fields: object, message: string): void; info(fields: object, message: string): void };
  /** Points in one request. */
  readonly batch?: number;
  /** Waits before the first and the longest repeat, ms. */
  readonly patienceMs?: readonly [first: number, longest: number];
}

export interface Sender {
  /** Why nothing goes out at the moment; null if all is well. */
  trouble(): string | null;
  delivered(): number;
  /** Sends what is due; resolves when nothing is, or at the first that does not get through. For tests and the stop. */
  flush(): Promise<void>;
  close(): Promise<void>;
}

const BATCH = 2000;
const PATIENCE_MS = [1000, 60_000] as const;
/** How soon what has landed goes out. */
const LOOK_MS = 1000;

const linesOf = (batch: Batch): string[] =>
  batch.kind === "readings" ? batch.items.map(readingLine) : batch.items.map(callLine);

export function createSender(parts: SenderParts): Sender {
  const { outbox, write, nowMs, log, batch: most = BATCH, patienceMs = PATIENCE_MS } = parts;
  const closing = new AbortController();
  let trouble: string | null = null;
  let delivered = 0;
  let failures = 0;
  let timer: NodeJS.Timeout | null = null;
  let running: Promise<void> | null = null;

  const sendOne = async (batch: Batch): Promise<void> => {
    const lines = linesOf(batch);
    const refused = lines.length === 0 ? [] : await deliver(lines, write, closing.signal);
    closing.signal.throwIfAborted();
    batch.done(refused, nowMs());
    delivered += lines.length - refused.length;
    for (const { line, reason } of refused.slice(0, 3)) log.warn({ line, reason }, "the engine refuses a point");
  };
  /** How long to wait until the next look, ms. */
  const sendAll = async (): Promise<number> => {
    try {
      for (let batch = outbox.next(most); batch !== null; batch = outbox.next(most)) {
        await sendOne(batch);
        if (trouble !== null) log.info({}, "the engine takes readings again");
        trouble = null;
        failures = 0;
      }
      return LOOK_MS;
    } catch (error) {
      if (closing.signal.aborted) return LOOK_MS;
      const reason = error instanceof Error ? error.message : String(error);
      if (trouble !== reason) log.warn({ why: reason }, "readings wait for the engine");
      trouble = reason;
      const waitMs = Math.min(patienceMs[1], patienceMs[0] * 2 ** Math.min(failures, 20));
      failures += 1;
      return Math.max(waitMs, error instanceof NotNow ? error.retryAfterMs : 0);
    }
  };
  const plan = (waitMs: number): void => {
    if (timer !== null) clearTimeout(timer);
    if (!closing.signal.aborted) timer = setTimeout(() => void go(), waitMs).unref();
  };
  const go = (): Promise<void> => {
    running ??= sendAll().then((waitMs) => {
      running = null;
      plan(waitMs);
    });
    return running;
  };
  plan(0);
  return {
    trouble: () => trouble,
    delivered: () => delivered,
    flush: go,
    async close() {
      closing.abort();
      if (timer !== null) clearTimeout(timer);
      await running;
    },
  };
}
