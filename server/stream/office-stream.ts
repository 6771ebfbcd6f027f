// Live updates of an office: server-sent events that carry one site whole, so that only the latest of each matters.
import type { ServerResponse } from "node:http";
import type { OfficeBody, OfficeSiteBody } from "#contract/office.ts";
import { officeSiteWithin, officeWithin } from "#contract/office-border.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { streamId } from "#contract/stream.ts";
import type { Frame } from "./frame.ts";
import { createListener, type Listener } from "./listener.ts";

const BEAT_EVERY_MS = 15_000;
const RETRY_MS = 2000;
const MOST_CLIENTS = 200;
const LIMITS = { maxWaiting: 300, maxBlockedBeats: 4 };

interface Follower {
  readonly listener: Listener;
  readonly sites: readonly string[] | null;
  readonly zone: string | null;
}

export interface OfficeStreamParts {
  readonly startId: string;
  readonly nowMs: () => number;
  readonly deaf: () => string | null;
  readonly body: () => OfficeBody;
}

export function createOfficeStream({ startId, nowMs, deaf, body }: OfficeStreamParts) {
  const followers = new Set<Follower>();
  let sequence = 0;
  let closed = false;
  const frame = (event: string, latestOf: string | null, data: object): Frame => ({
    sequence,
    latestOf,
    zone: null,
    text: `id: ${streamId(startId, sequence)}\nevent: ${event}\ndata: ${JSON.stringify(data)}\n\n`,
  });
  const beats = setInterval(() => {
    const text = `event: beat\ndata: ${JSON.stringify({ at: isoFromMs(nowMs()), deaf: deaf() })}\n\n`;
    for (const { listener } of followers) listener.beat(text);
  }, BEAT_EVERY_MS);
  beats.unref();

  return {
    changed(site: OfficeSiteBody): void {
      sequence += 1;
      const whole = frame("site", `site/${site.site}`, site);
      for (const { listener, sites, zone } of followers) {
        const seen = officeSiteWithin(site, sites, zone);
        if (seen !== null) listener.send(seen === site ? whole : frame("site", `site/${site.site}`, seen));
      }
    },
    gone(site: string): void {
      sequence += 1;
      for (const { listener, sites } of followers)
        if (sites === null || sites.includes(site)) listener.send(frame("gone", `site/${site}`, { site }));
    },
    open(sites: readonly string[] | null, zone: string | null, raw: ServerResponse): "opened" | "full" {
      if (closed || followers.size >= MOST_CLIENTS) return "full";
      if (raw.destroyed) return "opened";
      const listener = createListener(raw, LIMITS, { coalesced: () => undefined, givenUp: () => undefined });
      const follower = { listener, sites, zone };
      followers.add(follower);
      raw.on("close", () => followers.delete(follower));
      raw.writeHead(200, {
        "content-type": "text/event-stream; charset=utf-8",
        "cache-control": "no-store, no-transform",
        "x-accel-buffering": "no",
      });
      raw.write(`retry: ${RETRY_MS}\n\n`);
      listener.send(frame("snapshot", null, officeWithin(body(), sites, zone)));
      return "opened";
    },
    clients: () => followers.size,
    close(): void {
      closed = true;
      clearInterval(beats);
      for (const { listener } of followers) listener.end();
    },
  };
}
