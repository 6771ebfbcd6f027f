// Several servers on one broker: each process serves the shards that no other holds, and takes over those of one that died.
import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { FastifyBaseLogger } from "fastify";
import type { App, Started } from "./app.ts";
import type { Settings } from "./settings.ts";
import { lockFolder } from "./store/folder-lock.ts";

/**
 * A shard is the data folder of one server: its sites with their journals, what is on its way to InfluxDB, and, by its
 * name, its session at the broker. The lease is the lock of the folder, which the system takes back from a dead process.
 */
const SHARD = /^[A-Za-z0-9][A-Za-z0-9_-]{0,19}$/;
const LOOK_EVERY_MS = 1000;
/** Whoever holds more waits longer: so shards spread, and a server that comes back soon finds its own. */
const WAIT_EACH_MS = 10_000;
/** A shard that could not be opened is tried again after this time. */
const AGAIN_MS = 15_000;

export interface ShardParts {
  readonly folder: string;
  readonly settings: Settings;
  readonly makeApp: (settings: Settings) => App;
  readonly opened: (shard: string, started: Started) => void;
  readonly log: Pick<FastifyBaseLogger, "info" | "error">;
}

/** Names of the shards in a folder, in order. */
export function shardsIn(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((item) => item.isDirectory() && SHARD.test(item.name))
    .map(({ name }) => name)
    .sort();
}

/** The settings of one shard: its own folder, name at the broker, port and address. */
export function settingsOf(settings: Settings, folder: string, shard: string, index: number): Settings {
  const { shards: _, publicUrl, ...rest } = settings;
  return {
    ...rest,
    data: join(folder, shard),
    mqttClientId: `${settings.mqttClientId}-${shard}`,
    httpPort: settings.httpPort === 0 ? 0 : settings.httpPort + index,
    ...(publicUrl === undefined ? {} : { publicUrl: publicUrl.replace("{shard}", shard) }),
  };
}

function isFree(folder: string): boolean {
  try {
    lockFolder(folder).release();
    return true;
  } catch {
    // Held, or for a moment looked at by another; whatever else it is shows when it is opened.
    return false;
  }
}

export function createShards({ folder, settings, makeApp, opened, log }: ShardParts) {
  const held = new Map<string, App>();
  const freeSinceMs = new Map<string, number>();
  const againMs = new Map<string, number>();
  let timer: NodeJS.Timeout | null = null;
  let looking: Promise<void> = Promise.resolve();
  let stopping = false;

  async function open(shard: string, index: number): Promise<void> {
    try {
      const app = makeApp(settingsOf(settings, folder, shard, index));
      held.set(shard, app);
      opened(shard, await app.start());
    } catch (error) {
      held.delete(shard);
      againMs.set(shard, performance.now() + AGAIN_MS);
      log.error({ shard, err: error }, "a shard could not be opened; it is tried again");
    }
  }

  async function look(): Promise<void> {
    const nowMs = performance.now();
    for (const [index, shard] of shardsIn(folder).entries()) {
      if (stopping || held.has(shard) || (againMs.get(shard) ?? 0) > nowMs) continue;
      if (!isFree(join(folder, shard))) {
        freeSinceMs.delete(shard);
        continue;
      }
      const sinceMs = freeSinceMs.get(shard) ?? nowMs;
      freeSinceMs.set(shard, sinceMs);
      if (nowMs - sinceMs < held.size * WAIT_EACH_MS) continue;
      freeSinceMs.delete(shard);
      await open(shard, index);
    }
  }

  return {
    /** Resolves when it has looked once; what is free later is taken then. Throws where the folder cannot be read. */
    async start(): Promise<void> {
      shardsIn(folder);
      await look();
      log.info({ held: [...held.keys()] }, "shards are looked at");
      timer = setInterval(() => {
        looking = looking.then(look).catch((error: unknown) => {
          log.error({ err: error }, "the folder of shards cannot be read");
        });
      }, LOOK_EVERY_MS);
    },
    async stop(): Promise<void> {
      stopping = true;
      if (timer !== null) clearInterval(timer);
      await looking;
      await Promise.all([...held.values()].map((app) => app.stop()));
    },
  };
}
