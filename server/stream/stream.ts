// Live updates to browsers: server-sent events of every site, from one place that publishes to all who listen.
import type { ServerResponse } from "node:http";
import type { BoardBody } from "#contract/board.ts";
import type { BoardText } from "#contract/board-text.ts";
import { boardWithin } from "#contract/border.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { type StreamBody, streamId } from "#contract/stream.ts";
import { type Channel, createChannel } from "./channel.ts";
import { beatText, frameOf, type PublishedEvent } from "./frame.ts";
import { boundTo, createListener, type ListenerLimits } from "./listener.ts";

const BEAT_EVERY_MS = 15_000;
/** How long a browser waits before it comes back, ms. */
const RETRY_MS = 2000;

export interface StreamOptions {
  /** Names this run of the server. */
  readonly startId: string;
  readonly nowMs: () => number;
  /** The board as it stands; null for a site that is not known. */
  readonly snapshot: (site: string) => BoardBody | null;
  /** Writes boards; JSON.stringify unless given. */
  readonly boardText?: BoardText;
  readonly logger: { warn(fields: object, message: string): void } | false;
  readonly maxClients?: number;
  readonly limits?: ListenerLimits;
  /** Calls back again and again until the function that it returns is called. */
  readonly every?: (everyMs: number, callBack: () => void) => () => void;
}

export interface StreamStats {
  readonly clients: number;
  readonly published: number;
  /** Changes that a slow client did not get because a later one of the same kind and place took their turn. */
  readonly coalesced: number;
  /** Clients cut off because they lagged too far. */
  readonly givenUp: number;
}

export interface Stream {
  /** Tells everybody who listens to the site. `key` is the zone or node that the body speaks of. */
  publish<E extends PublishedEvent>(site: string, event: E, key: string, body: StreamBody<E>): void;
  /** Takes the response over unless the site is `missing` or the stream is `full`. `zone`: only what speaks of it. */
  open(
    site: string,
    lastEventId: string | null,
    raw: ServerResponse,
    zone?: string | null,
  ): "opened" | "missing" | "full";
  /** The id of the last change that was told of a known site, also where there was none: a stream can go on after it. */
  upTo(site: string): string;
  stats(): StreamStats;
  /** Ends every stream; none is opened afterwards. */
  close(): void;
}

function everyByTimer(everyMs: number, callBack: () => void): () => void {
  const timer = setInterval(callBack, everyMs);
  timer.unref();
  return () => clearInterval(timer);
}

export function createStream(options: StreamOptions): Stream {
  const { startId, maxClients = 200, every = everyByTimer } = options;
  const limits = options.limits ?? { maxWaiting: 300, maxBlockedBeats: 4 };
  const channels = new Map<string, Channel>();
  const counted = { clients: 0, published: 0, coalesced: 0, givenUp: 0 };
  let closed = false;

  // As many changes are kept for those who come back as may wait for one who lags: whoever was cut off gets a snapshot.
  const channelOf = (site: string): Channel => {
    const channel = channels.get(site) ?? createChannel(startId, limits.maxWaiting);
    channels.set(site, channel);
    return channel;
  };
  const beat = () => beatText({ at: isoFromMs(options.nowMs()) });
  const stopBeats = every(BEAT_EVERY_MS, () => {
    const text = beat();
    for (const { listeners } of channels.values()) for (const listener of listeners) listener.beat(text);
  });

  return {
    publish(site, event, key, body) {
      counted.published += 1;
      channelOf(site).publish(event, key, body);
    },

    open(site, lastEventId, raw, zone = null) {
      if (closed || counted.clients >= maxClients) return "full";
      const missed = lastEventId === null ? null : (channels.get(site)?.since(lastEventId) ?? null);
      const snapshot = missed === null ? options.snapshot(site) : null;
      if (missed === null && snapshot === null) return "missing";
      // Whoever has hung up already closes no more.
      if (raw.destroyed) return "opened";
      const channel = channelOf(site);
      const whole = createListener(raw, limits, {
        coalesced: () => void (counted.coalesced += 1),
        givenUp: () => {
          counted.givenUp += 1;
          if (options.logger)
            options.logger.warn({ site }, "a screen lagged too far and was cut off; it comes back by itself");
        },
      });
      const listener = zone === null ? whole : boundTo(whole, zone);
      counted.clients += 1;
      channel.listeners.add(listener);
      raw.on("close", () => {
        if (channel.listeners.delete(listener)) counted.clients -= 1;
      });
      raw.writeHead(200, {
        "content-type": "text/event-stream; charset=utf-8",
        "cache-control": "no-store, no-transform",
        // A proxy in between must pass every event on at once.
        "x-accel-buffering": "no",
      });
      raw.write(`retry: ${RETRY_MS}\n\n`);
      const snapshotFrame = (whole: BoardBody) => {
        const board = zone === null ? whole : boardWithin(whole, zone);
        return { ...frameOf(startId, channel.sequence(), "snapshot", site, board, options.boardText), zone };
      };
      // Who comes back may have missed nothing; the beat says that the stream goes on.
      if (snapshot === null) listener.beat(beat());
      else listener.send(snapshotFrame(snapshot));
      for (const frame of missed ?? []) listener.send(frame);
      return "opened";
    },

    upTo: (site) => streamId(startId, channelOf(site).sequence()),

    stats: () => ({ ...counted }),

    close() {
      closed = true;
      stopBeats();
      for (const { listeners } of channels.values()) for (const listener of listeners) listener.end();
    },
  };
}
