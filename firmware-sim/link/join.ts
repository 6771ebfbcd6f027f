// How a new node comes in: it draws its own secret, knocks with the join secret, and tries its own until it is let in.
import { createHash, randomBytes } from "node:crypto";
import { connectAsync } from "mqtt";
import type { KnockBody } from "#contract/knock.ts";
import { topicOf } from "#contract/topics.ts";
import type { SimNode } from "../node/spec.ts";
import type { BrokerAt } from "./mqtt-node.ts";

/** What a node keeps through a loss of power. */
export interface Flash {
  readonly secret: string;
}

export interface JoinAt {
  readonly url: string;
  readonly site: string;
  readonly joinSecret: string;
  readonly ca?: string;
}

export function newFlash(): Flash {
  return { secret: randomBytes(32).toString("base64url") };
}

/** What it says of itself; the key is the hash of its secret, which never leaves it but to sign in. */
export function knockOf({ body, slabs }: SimNode, { secret }: Flash): KnockBody {
  return {
    what: `simulated node, ${Object.keys(slabs).length} slab probes and an air chip`,
    quantities: [...Object.keys(slabs), "air", "rh", "dew", "battery", "rssi"],
    everyS: body.everyS,
    key: createHash("sha256").update(secret).digest("hex"),
  };
}

function pause(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    signal.addEventListener("abort", () => (clearTimeout(timer), resolve()), { once: true });
  });
}

/** Resolves with what it signs in with, or null when `signal` fires first. `everyMs`: between two knocks. */
export async function joinSite(
  node: SimNode,
  at: JoinAt,
  flash: Flash,
  everyMs: number,
  signal: AbortSignal,
): Promise<BrokerAt | null> {
  const { id } = node.body;
  const once = { protocolVersion: 4, reconnectPeriod: 0, connectTimeout: 10_000 } as const;
  const trust = at.ca === undefined ? {} : { ca: at.ca };
  const own = { url: at.url, username: `${at.site}/${id}`, password: flash.secret, ...trust };
  const knock = JSON.stringify(knockOf(node, flash));
  while (!signal.aborted) {
    try {
      const { url, ...credentials } = own;
      await (await connectAsync(url, { ...once, ...credentials, clientId: `${at.site}-${id}` })).endAsync();
      return own;
    } catch {
      // Not let in yet, or no network: both are asked again.
    }
    try {
      const door = await connectAsync(at.url, { ...once, ...trust, username: at.site, password: at.joinSecret });
      await door.publishAsync(topicOf({ kind: "knock", site: at.site, node: id }), knock, { qos: 1 });
      await door.endAsync();
    } catch {
      // The next round knocks again.
    }
    await pause(everyMs, signal);
  }
  return null;
}
