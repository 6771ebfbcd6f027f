// InfluxDB beside the embedded store: composed from the settings, or absent.
import type { PartHealth } from "#contract/health.ts";
import type { Settings } from "./settings.ts";
import { createInfluxQuery } from "./store/influx-query.ts";
import { createReach, type Reach } from "./store/influx-reach.ts";
import { createInfluxReadings } from "./store/influx-readings.ts";
import { createSender, type Sender } from "./store/influx-sender.ts";
import { type InfluxTarget, targetName } from "./store/influx-target.ts";
import { createInfluxWrite } from "./store/influx-write.ts";
import type { EmbeddedStore } from "./store/store.ts";

export interface InfluxParts {
  readonly settings: Settings;
  readonly store: EmbeddedStore;
  readonly nowMs: () => number;
  readonly log: { warn(fields: object, message: string): void; info(fields: object, message: string): void };
}

export interface InfluxSide {
  readonly reach: Reach;
  /** Empty without an InfluxDB. */
  readonly health: Readonly<Record<string, () => PartHealth>>;
  gauges(): Readonly<Record<string, number>>;
  start(): void;
  close(): Promise<void>;
}

/** A batch may take this long, a question of a person this long, ms. */
const WRITE_MS = 20_000;
const ASK_MS = 5000;
const DAY_MS = 86_400_000;
/** A node's clock may run ahead, so that a reading is older by when it was heard than by when it was taken. */
const AHEAD_MS = 3_600_000;

export function influxTargetOf(settings: Settings): InfluxTarget | null {
  const { influxUrl, influxVersion, influxDatabase, influxBucket } = settings;
  if (influxUrl === undefined) return null;
  return {
    url: influxUrl,
    version: influxVersion === 1 ? 1 : influxVersion === 3 ? 3 : 2,
    org: settings.influxOrg ?? null,
    database: influxDatabase ?? influxBucket ?? "",
    bucket: influxBucket ?? influxDatabase ?? "",
    retentionPolicy: settings.influxRetentionPolicy ?? null,
    token: settings.influxToken ?? null,
  };
}

function said(store: EmbeddedStore, sender: Sender | null): PartHealth {
  const { behind, sinceMs, historySeries, refused } = store.outbox.state();
  const trouble = sender?.trouble() ?? null;
  const since = sinceMs === null ? "" : ` since ${new Date(sinceMs).toISOString()}`;
  const parts = [
    ...(behind > 0 ? [`behind by ${behind} points${since}`] : []),
    ...(historySeries > 0 ? [`${historySeries} series from before are on their way`] : []),
    ...(refused > 0 ? [`${refused} points refused and put aside`] : []),
    ...(trouble === null ? [] : [`last error: ${trouble}`]),
  ];
  // The judge does not wait for it, and nothing is lost: never worse than degraded.
  return { state: trouble === null ? "up" : "degraded", detail: parts.length === 0 ? null : parts.join("; ") };
}

/** Where the settings name no InfluxDB, the outbox notes nothing and everything is read from the embedded store. */
export function createInflux({ settings, store, nowMs, log }: InfluxParts): InfluxSide {
  const target = influxTargetOf(settings);
  store.outbox.aim(target === null ? null : targetName(target));
  const far = target === null ? null : createInfluxReadings(createInfluxQuery(target, ASK_MS, () => performance.now()));
  const localFromMs = () => {
    const borderMs = nowMs() - settings.keepRawDays * DAY_MS + AHEAD_MS;
    // What has not arrived there has not been thinned here.
    return far !== null && store.outbox.delivered(borderMs) ? borderMs : Number.NEGATIVE_INFINITY;
  };
  let sender: Sender | null = null;
  return {
    reach: createReach(store.readings, far, localFromMs),
    health: target === null ? {} : { influx: () => said(store, sender) },
    gauges() {
      if (target === null) return {};
      const { behind, refused } = store.outbox.state();
      return { influxBehind: behind, influxRefused: refused, influxDelivered: sender?.delivered() ?? 0 };
    },
    start() {
      if (target === null) return;
      sender ??= createSender({ outbox: store.outbox, write: createInfluxWrite(target, WRITE_MS), nowMs, log });
    },
    close: async () => sender?.close(),
  };
}
