// A broker elsewhere: readings over shared connections, each acknowledged when it is on the disk; calls published.
import { setTimeout as sleep } from "node:timers/promises";
import { type ClientSubscribeCallback, ErrorWithReasonCode, type IClientOptions, type MqttClient } from "mqtt";
import { nodeFilters } from "#contract/topics.ts";
import { connectReader, type Said } from "./acknowledge.ts";
import type { BrokerLink, Log } from "./link.ts";
import type { Message, Take } from "./message.ts";
import { createOutbox, type Letter, NotAllowed } from "./outbox.ts";

export interface SourceOptions {
  readonly url: string;
  readonly username: string | null;
  readonly password: string | null;
  /** Text of the authority's certificate; null = the public ones. */
  readonly ca: string | null;
  readonly version: 4 | 5;
  readonly connections: number;
  readonly clientId: string;
  /** Sites whose nodes are heard; null for all. `serve` replaces it. */
  readonly sites: readonly string[] | null;
  /** Heard besides. */
  readonly filters: readonly string[];
  readonly take: Take;
  readonly log: Log;
}

const RECONNECT_MS = 2000;
/** A store that cannot take a reading is asked again this often. */
const ASK_AGAIN_MS = 1000;
/** What arrives this soon after the session was resumed may have waited at the broker. */
const BACKLOG_MS = 5000;
/** How long the broker keeps the session, and so unread readings, while the server is away: a week. */
const SESSION_S = 7 * 24 * 3600;
/** Reasons of MQTT 5 that trying again does not mend: not authorized, topic name invalid, payload format invalid. */
const REFUSALS: readonly number[] = [0x87, 0x90, 0x99];
/** A line that is cut this soon after a message went out may have been cut because of it. */
const CUT_MS = 3000;
/**
 * Unacknowledged messages of all connections: no more are asked for (MQTT 5), and no more are read. Twice what one transaction
 * takes, so that the broker sends while it is written.
 */
const UNDER_WAY = 1000;
const UNDER_WAY_BYTES = 256 * 1024;

/**
 * Only readings are shared: a retained presence is not told to shared subscriptions. And only among the connections of
 * one server: shared among servers, the readings of a zone would be dealt out, and each would judge with half of them.
 */
function filtersOf(index: number, site: string | null, { version, clientId }: SourceOptions): string[] {
  const [senml = "", ...others] = nodeFilters(site);
  const readings = version === 5 ? `$share/${clientId}/${senml}` : senml;
  return index === 0 ? [readings, ...others] : [readings];
}

export async function startSource(options: SourceOptions): Promise<BrokerLink> {
  const { take, log, version } = options;
  const count = version === 5 ? options.connections : 1;
  const most = Math.ceil(UNDER_WAY / count);
  let stopping = false;
  let lastError: string | null = null;
  let lastSent: { readonly topic: string; readonly atMs: number } | null = null;
  let heard = options.filters;
  let served = options.sites;
  const stopped = new AbortController();
  let again: Promise<unknown> | null = null;

  /** What could not be stored waits together, and one of it says why. */
  const untilAgain = (topic: string, error: unknown): Promise<unknown> => {
    if (again !== null) return again;
    log.error({ topic, why: String(error) }, "not stored, so not acknowledged; asking again");
    again = sleep(ASK_AGAIN_MS, undefined, { signal: stopped.signal })
      .catch(() => undefined)
      .finally(() => (again = null));
    return again;
  };
  const takeAtLast = async (message: Message, why: unknown): Promise<void> => {
    for (let error = why; ; ) {
      await untilAgain(message.topic, error);
      if (stopping) throw error;
      try {
        return await take(message);
      } catch (another) {
        error = another;
      }
    }
  };
  const deliver = (packet: Said, backlog: boolean): Promise<void> => {
    const payload = typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
    const message = { topic: packet.topic, payload, replayed: packet.retain || packet.dup || backlog, from: null };
    return take(message).catch((error: unknown) => takeAtLast(message, error));
  };

  const nodesOf = (index: number): string[] => (served ?? [null]).flatMap((site) => filtersOf(index, site, options));

  const open = (index: number): MqttClient => {
    const settings: IClientOptions = {
      clientId: `${options.clientId}-${index}`,
      protocolVersion: version,
      clean: false,
      resubscribe: false,
      reconnectPeriod: RECONNECT_MS,
      reconnectOnConnackError: true,
      ...(options.username === null ? {} : { username: options.username }),
      ...(options.password === null ? {} : { password: options.password }),
      ...(options.ca === null ? {} : { ca: options.ca }),
      ...(version === 5 ? { properties: { sessionExpiryInterval: SESSION_S, receiveMaximum: most } } : {}),
    };
    let backlogUntilMs = 0;
    const client = connectReader(options.url, settings, {
      take: (packet) => deliver(packet, performance.now() < backlogUntilMs),
      resumed(sessionPresent) {
        if (sessionPresent) backlogUntilMs = performance.now() + BACKLOG_MS;
      },
      most,
      mostBytes: UNDER_WAY_BYTES / count,
    });
    client.on("connect", () => {
      lastError = null;
      const all = [...nodesOf(index), ...(index === 0 ? heard : [])];
      const answered: ClientSubscribeCallback = (error, granted) => {
        const refused = granted?.filter(({ qos }) => qos > 2).map(({ topic }) => topic) ?? [];
        if (error || refused.length > 0) {
          lastError = error ? error.message : `may not subscribe to ${refused.join(", ")}`;
          log.error({ why: lastError }, "broker refuses a subscription");
        }
      };
      if (all.length > 0) client.subscribe(all, { qos: 1 }, answered);
      if (index === 0) {
        outbox.again();
        void outbox.flush();
      }
    });
    client.on("close", () => {
      // MQTT 5 says no in words: there a line is cut by a broker that fails.
      if (index !== 0 || version === 5 || stopping) return;
      if (lastSent === null || performance.now() - lastSent.atMs > CUT_MS) return;
      outbox.cutAfter(lastSent.topic);
      lastSent = null;
    });
    client.on("error", (error) => {
      lastError = error.message || String((error as { code?: unknown }).code);
      log.warn({ connection: index, why: lastError }, "broker");
    });
    return client;
  };

  const send = async ({ topic, body, retain }: Letter): Promise<void> => {
    const client = clients[0];
    if (client === undefined || !client.connected) throw new Error("not connected");
    try {
      await client.publishAsync(topic, body, { qos: 1, retain });
      lastSent = { topic, atMs: performance.now() };
    } catch (error) {
      if (error instanceof ErrorWithReasonCode && REFUSALS.includes(error.code)) throw new NotAllowed(error.message);
      throw error;
    }
  };
  const outbox = createOutbox(send, ({ topic }) => log.warn({ topic }, "dropped: not allowed, or the broker was away"));
  const clients: readonly MqttClient[] = Array.from({ length: count }, (_, index) => open(index));
  const connected = () => clients.filter((client) => client.connected).length;

  return {
    url: options.url,
    publish(topic, body, retain) {
      outbox.put({ topic, body, retain });
      void outbox.flush();
    },
    hear(filters) {
      // The session outlives a restart of this server, so an old filter may still stand; what it brings is read by no recipe.
      const gone = heard.filter((filter) => !filters.includes(filter) && !options.filters.includes(filter));
      const added = filters.filter((filter) => !heard.includes(filter));
      heard = [...options.filters, ...filters];
      const client = clients[0];
      if (client?.connected !== true) return;
      if (gone.length > 0) client.unsubscribe(gone);
      if (added.length > 0) client.subscribe(added, { qos: 1 });
    },
    serve(sites) {
      if (served === null) return;
      const added = sites.filter((site) => served?.includes(site) !== true);
      served = [...served, ...added];
      clients.forEach((client, index) => {
        const filters = added.flatMap((site) => filtersOf(index, site, options));
        if (client.connected && filters.length > 0) client.subscribe(filters, { qos: 1 });
      });
    },
    signOut: () => undefined,
    health() {
      const up = connected();
      const barred = outbox.barred();
      const faults = [
        ...(lastError === null ? [] : [lastError]),
        ...(barred.length === 0 ? [] : [`may not write to ${barred.slice(0, 5).join(", ")}`]),
      ];
      const detail = [`${options.url}, ${up} of ${count} connections`, ...faults].join("; ");
      return { state: up === 0 ? "down" : up < count || faults.length > 0 ? "degraded" : "up", detail };
    },
    waiting: () => outbox.waiting(),
    pause() {
      stopping = true;
      stopped.abort();
    },
    async close() {
      stopping = true;
      stopped.abort();
      await outbox.flush();
      await Promise.all(clients.map((client) => client.endAsync(!client.connected)));
    },
  };
}
