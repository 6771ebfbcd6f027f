// Follows the live stream of a site: connects, resumes where it stopped, starts over when the server did, backs off when it is gone.
import { gate } from "./api.ts";
import { applyTold, toldFrom, type Told } from "./apply.ts";
import { eventReader } from "./event-lines.ts";
import { backoffMs } from "./backoff.ts";
import { type Place, placeFrom, stepOf } from "./sequence.ts";
import { SILENT_AFTER_MS } from "./site-clock.ts";

export interface StreamPorts {
  /** Opens the stream and gives its pieces of text; `lastId` asks the server to resume after it. */
  readonly open: (lastId: string | null, signal: AbortSignal) => Promise<AsyncIterable<string>>;
  readonly random: () => number;
  readonly wait: (ms: number, signal: AbortSignal) => Promise<void>;
  /** Runs it once for all that asked meanwhile: at once, or when the page has recovered from the last time. */
  readonly soon: (run: () => void) => void;
}

export interface StreamListener {
  /** `apply` changes a board by it; it comes along, since before the stream nobody needs it. */
  told(told: Told, apply: typeof applyTold): void;
  /** Something between was not seen: fetch the board anew. */
  gap(): void;
  /** The connection ended or could not be opened, for the n-th time since anything was heard. */
  lost(times: number): void;
}

/** Follows a stream until `signal` is aborted; never throws. `first`: the id up to which a board is shown that came otherwise. */
export type Follow = (listener: StreamListener, signal: AbortSignal, first: Promise<string | null>) => Promise<void>;

class NeedsSnapshot extends Error {}

/** Runs until `signal` is aborted; never throws. `upTo`: the change up to which all is shown already; null for nothing. */
export async function followStream(
  ports: StreamPorts,
  listener: StreamListener,
  signal: AbortSignal,
  upTo: string | null = null,
): Promise<void> {
  let known: Place | null = placeFrom(upTo);
  let tries = 0;
  const waiting: Told[] = [];
  const tell = () => {
    for (const told of waiting.splice(0)) listener.told(told, applyTold);
  };
  while (!signal.aborted) {
    const connection = new AbortController();
    const stop = () => connection.abort();
    signal.addEventListener("abort", stop);
    // A link that died without a word keeps its socket open for many minutes: hang up on silence.
    let quiet = setTimeout(stop, SILENT_AFTER_MS);
    try {
      const pieces = await ports.open(known === null ? null : `${known.startId}-${known.sequence}`, connection.signal);
      const reader = eventReader();
      for await (const piece of pieces) {
        clearTimeout(quiet);
        quiet = setTimeout(stop, SILENT_AFTER_MS);
        for (const item of reader.push(piece)) {
          const place = placeFrom(item.id);
          const step = stepOf(known, place, item.event);
          if (step === "restart") throw new NeedsSnapshot();
          if (step === "skip") continue;
          if (place !== null) known = place;
          const told = toldFrom(item.event, item.data);
          if (told === null) continue;
          tries = 0;
          waiting.push(told);
          ports.soon(tell);
          if (step !== "gap") continue;
          tell();
          listener.gap();
        }
      }
    } catch (cause) {
      if (cause instanceof NeedsSnapshot) known = null;
    } finally {
      clearTimeout(quiet);
      signal.removeEventListener("abort", stop);
      connection.abort();
      tell();
    }
    if (signal.aborted) return;
    tries += 1;
    listener.lost(tries);
    await ports.wait(backoffMs(tries - 1, ports.random()), signal);
  }
}

async function* piecesOf(body: ReadableStream<Uint8Array>): AsyncGenerator<string> {
  const reader = body.getReader();
  const decoder = new TextDecoder();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      // The server hangs up when it stops, and when whoever looks may look no longer.
      if (done) return gate.ask();
      yield decoder.decode(value, { stream: true });
    }
  } finally {
    reader.releaseLock();
  }
}

/** Of the page's time what is told takes a quarter at most, however much it is and however slow the device. */
const REST = 3;
/** While somebody scrolls it waits until the page has stood so long, */
const STOOD_MS = 150;
/** but never longer than this. */
const WAITS_MS = 1000;

/** Time of the page at which it was scrolled last; null before somebody asks. */
let scrolledMs: number | null = null;

function watchScroll(): void {
  if (scrolledMs !== null) return;
  scrolledMs = Number.NEGATIVE_INFINITY;
  globalThis.addEventListener("scroll", () => (scrolledMs = performance.now()), { passive: true });
}

function paced(): StreamPorts["soon"] {
  let asked = false;
  let dueMs = 0;
  let beforeMs = 0;
  watchScroll();
  return (run) => {
    if (asked) return;
    asked = true;
    const lastMs = Math.max(dueMs, performance.now() + WAITS_MS);
    const work = () => {
      const startMs = performance.now();
      const movesMs = (scrolledMs ?? 0) + STOOD_MS - startMs;
      if (movesMs > 0 && startMs < lastMs) {
        setTimeout(work, movesMs);
        return;
      }
      asked = false;
      run();
      // What it changed has been drawn by then.
      setTimeout(() => {
        const tookMs = performance.now() - startMs;
        // What takes long once was something else, and no reason to keep a number back.
        dueMs = performance.now() + REST * Math.min(tookMs, beforeMs);
        beforeMs = tookMs;
      });
    };
    setTimeout(work, Math.max(0, dueMs - performance.now()));
  };
}

/** The ports of a browser. Coming back into the net or to the foreground cuts a wait short. */
export function browserPorts(address: string): StreamPorts {
  return {
    random: () => Math.random(),
    soon: paced(),
    async open(lastId, signal) {
      const headers: Record<string, string> = { accept: "text/event-stream" };
      if (lastId !== null) headers["last-event-id"] = lastId;
      const answer = await fetch(address, { signal, headers, cache: "no-store" });
      if (answer.status === 401) gate.ask();
      if (!answer.ok || answer.body === null) throw new Error(`HTTP ${answer.status}`);
      return piecesOf(answer.body);
    },
    wait: (ms, signal) =>
      new Promise((resolve) => {
        const done = () => {
          clearTimeout(timer);
          globalThis.removeEventListener("online", done);
          document.removeEventListener("visibilitychange", done);
          signal.removeEventListener("abort", done);
          resolve();
        };
        const timer = setTimeout(done, ms);
        globalThis.addEventListener("online", done);
        document.addEventListener("visibilitychange", done);
        signal.addEventListener("abort", done);
      }),
  };
}
