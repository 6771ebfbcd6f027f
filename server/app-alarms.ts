// Alarms in the running server: what they look at, where they are kept, and who is told.
import { statfsSync } from "node:fs";
import type { AlarmBody } from "#contract/alarm.ts";
import type { PartHealth } from "#contract/health.ts";
import { createAlarmDesk } from "./live/alarm-desk.ts";
import type { AlarmTeller, ChannelWatch } from "./live/alarm-teller.ts";
import { createAlarms } from "./live/alarms.ts";
import type { Moments } from "./live/moments.ts";
import type { LiveStore } from "./live/ports.ts";
import type { Sites } from "./live/sites.ts";
import type { AlarmStore } from "./store/alarms-port.ts";

/** Room on the disk is asked for this often, ms. */
const DISK_EVERY_MS = 60_000;

export interface AlarmAppParts {
  readonly sites: Sites;
  readonly store: LiveStore & { readonly alarms: AlarmStore };
  readonly moments: Moments;
  readonly dataDir: string;
  readonly startedMs: number;
  /** When an earlier run was last alive; 0 without one. */
  readonly lastAliveMs: number;
  /** null before the doors are open. */
  readonly broker: () => PartHealth | null;
  readonly storeFailure: () => string | null;
  readonly stream: { publish(site: string, event: "alarm", key: string, body: AlarmBody): void };
  readonly mqtt: { publish(topic: string, body: string, retain: boolean): void };
  /** Whoever tells people, and what is known of the ways to them; null while nobody does. */
  readonly teller: () => AlarmTeller | null;
  readonly channels: () => ChannelWatch | null;
  readonly count: (name: string) => void;
  readonly failed: (site: string, doing: string, error: unknown) => void;
}

/** Room on the disk of a folder; null where the system does not tell. */
function diskLook(folder: string): () => { readonly freeBytes: number; readonly totalBytes: number } | null {
  let askedMs = Number.NEGATIVE_INFINITY;
  let disk: { readonly freeBytes: number; readonly totalBytes: number } | null = null;
  return () => {
    if (performance.now() - askedMs < DISK_EVERY_MS) return disk;
    askedMs = performance.now();
    try {
      const { bavail, blocks, bsize } = statfsSync(folder);
      disk = { freeBytes: bavail * bsize, totalBytes: blocks * bsize };
    } catch {
      // Some file systems do not tell: then nobody knows, which clears nothing.
      disk = null;
    }
    return disk;
  };
}

export function createAlarmApp(parts: AlarmAppParts) {
  const { sites, store, moments, startedMs, lastAliveMs } = parts;
  const disk = diskLook(parts.dataDir);
  const away = lastAliveMs > 0 && lastAliveMs < startedMs ? { fromMs: lastAliveMs, toMs: startedMs } : null;
  const alarms = createAlarms({
    sites,
    store,
    moments,
    server() {
      const broker = parts.broker();
      return {
        sinceMs: startedMs,
        brokerDown: broker === null ? null : broker.state === "down",
        storeDown: parts.storeFailure() !== null,
        disk: disk(),
        away,
      };
    },
    channels: parts.channels,
    teller: parts.teller,
    stream: parts.stream,
    mqtt: parts.mqtt,
    count: parts.count,
    failed: parts.failed,
  });
  const { alarmBook, ...desk } = createAlarmDesk({ sites, moments, alarms, book: store.alarms });
  return { alarms, desk, alarmBook };
}
