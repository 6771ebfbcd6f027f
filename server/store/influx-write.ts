// One request that writes lines to InfluxDB, and what its answer means: arrived, refused, or not now.
import { HttpError, InfluxDB, setLogger } from "@influxdata/influxdb-client";
import { authorization, type InfluxTarget, writePath } from "./influx-target.ts";

/** `dropped`: how many of the lines the engine says it left out; null where it does not say. */
export type Written =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: string; readonly dropped: number | null };

/** The engine is away, full, slow or does not let us in: the same lines go out again later. */
export class NotNow extends Error {
  readonly retryAfterMs: number;
  constructor(reason: string, retryAfterMs = 0) {
    super(reason);
    this.retryAfterMs = retryAfterMs;
  }
}

export type WriteLines = (lines: readonly string[], signal: AbortSignal) => Promise<Written>;

const REASON_LENGTH = 300;
/** Beyond this an engine that asks for patience is asked again anyway. */
const MOST_PATIENCE_MS = 300_000;
/** Of these the lines are the cause; a line too long for the engine among them. */
const REFUSALS = [400, 413, 422];
const PARTIAL = 201;

// Failures are told by the outbox, once and in its own words.
setLogger({ error: () => undefined, warn: () => undefined });

function reasonOf(error: unknown): string {
  const said = error instanceof HttpError ? (error.body ?? error.message) : String((error as Error).message || error);
  const json = /"(?:error|message)"\s*:\s*"((?:[^"\\]|\\.)*)"/.exec(said)?.[1];
  return (json?.replace(/\\(.)/g, "$1") ?? said).trim().slice(0, REASON_LENGTH);
}

/** `timeoutMs`: for one request, its answer included. */
export function createInfluxWrite(target: InfluxTarget, timeoutMs: number): WriteLines {
  return async (lines, signal) => {
    const late = AbortSignal.timeout(timeoutMs);
    const influx = new InfluxDB({
      url: target.url,
      timeout: timeoutMs,
      headers: authorization(target),
      transportOptions: { signal: AbortSignal.any([signal, late]) },
    });
    // An answer that some lines were left out counts as success for the client.
    let status = 0;
    const send = influx.transport.send.bind(influx.transport);
    influx.transport.send = (path, body, options, callbacks = {}) =>
      send(path, body, options, {
        ...callbacks,
        responseStarted(headers, code) {
          status = code ?? 0;
          callbacks.responseStarted?.(headers, code);
        },
      });
    // Its own buffer would forget: nothing is tried again in there, and nothing goes out before all lines are in.
    const api = influx.getWriteApi(target.org ?? "", target.bucket, "ms", {
      maxRetries: 0,
      batchSize: lines.length + 1,
      maxBatchBytes: Number.MAX_SAFE_INTEGER,
      flushInterval: 0,
    });
    const path = writePath(target);
    if (path !== null) api.path = path;
    api.writeRecords([...lines]);
    try {
      await api.flush();
    } catch (error) {
      if (late.aborted) throw new NotNow(`no answer within ${timeoutMs / 1000} s`);
      if (!(error instanceof HttpError)) throw new NotNow(reasonOf(error));
      const reason = reasonOf(error);
      if (!REFUSALS.includes(error.statusCode)) {
        throw new NotNow(`${error.statusCode}: ${reason}`, Math.min(retryAfterMs(error), MOST_PATIENCE_MS));
      }
      const dropped = /\bdropped=(\d+)/.exec(reason)?.[1];
      return { ok: false, reason, dropped: dropped === undefined ? null : Number(dropped) };
    }
    // Alone and not refused, a line has arrived.
    if (status !== PARTIAL || lines.length === 1) return { ok: true };
    return { ok: false, reason: "some lines were left out", dropped: null };
  };
}

/** The header counts seconds. */
function retryAfterMs({ headers }: HttpError): number {
  const seconds = Number(headers?.["retry-after"] ?? 0);
  return Number.isFinite(seconds) && seconds > 0 ? seconds * 1000 : 0;
}
