// What is kept, in the running server: a backup after each closed day, old readings thinned at night, sums for charts.
import { resolve } from "node:path";
import type { FastifyBaseLogger } from "fastify";
import type { PartHealth } from "#contract/health.ts";
import { evidenceIn } from "#core/record/evidence-spans.ts";
import { createSumming } from "./app-sums.ts";
import { createNightly } from "./backup-nightly.ts";
import type { LiveSite } from "./live/live-site.ts";
import type { Settings } from "./settings.ts";
import type { EmbeddedStore } from "./store/store.ts";

export interface KeepingParts {
  readonly settings: Settings;
  readonly store: EmbeddedStore;
  readonly sites: { all(): readonly LiveSite[] };
  readonly nowMs: () => number;
  /** True while packets or judgings wait. */
  readonly busy: () => boolean;
  readonly log: FastifyBaseLogger;
  readonly count: (name: string, by: number) => void;
}

/** Hours of the night in which old readings are thinned, by the clock of the site. */
const NIGHT_H = [1, 5] as const;
/** A round works for this long, and lets others in between its small steps; the next minute goes on. */
const ROUND_MS = 5000;

/** Hour of the day at a site, 0 to 23. */
export function hourAt(timezone: string, atMs: number): number {
  return Number(
    new Intl.DateTimeFormat("en-GB", { timeZone: timezone, hour: "2-digit", hourCycle: "h23" }).format(atMs),
  );
}

export function createKeeping({ settings, store, sites, nowMs, busy, log, count }: KeepingParts) {
  let stopped = false;
  let rounds: Promise<void> = Promise.resolve();
  let thinning = false;
  let thinFailure: string | null = null;
  const summing = createSumming({ store, nowMs, busy, log, count });
  const nightly =
    settings.backupDir === undefined
      ? null
      : createNightly({
          data: resolve(settings.data),
          dir: resolve(settings.backupDir),
          keep: settings.backupKeep,
          nowMs,
          made: (path) => log.info({ path }, "backup made"),
          failed: (error) => log.error({ err: error }, "the nightly backup failed"),
        });

  async function thin(site: LiveSite): Promise<void> {
    const until = performance.now() + ROUND_MS;
    const zoneOf = new Map(site.record.nodes.map(({ id, zone }) => [id, zone]));
    const done = await store.retention.run(site.id, {
      keepRawDays: settings.keepRawDays,
      deleteAfterDays: settings.deleteAfterDays ?? null,
      nowMs: nowMs(),
      isEvidence: evidenceIn(site.journal, (node) => zoneOf.get(node) ?? null),
      delivered: (throughMs) => store.outbox.delivered(throughMs),
      isOver: () => stopped || performance.now() > until,
    });
    count("readingsThinned", done.thinnedRows);
    count("readingsDeleted", done.deletedRows);
  }

  async function round(): Promise<void> {
    try {
      for (const site of sites.all()) {
        const hour = hourAt(site.record.site.timezone, nowMs());
        if (!stopped && hour >= NIGHT_H[0] && hour < NIGHT_H[1]) await thin(site);
      }
      thinFailure = null;
    } catch (error) {
      thinFailure = error instanceof Error ? error.message : String(error);
      log.error({ err: error }, "thinning of old readings failed");
    }
  }

  return {
    /** Once a minute; one round at a time. */
    tick(): void {
      summing.tick();
      if (thinning || stopped) return;
      thinning = true;
      rounds = round().finally(() => (thinning = false));
    },
    /** Days have been closed. */
    closed: (days: number): void => {
      if (days > 0 && !stopped) nightly?.begin();
    },
    health(): PartHealth {
      const backup = nightly?.health() ?? null;
      if (backup !== null) return backup;
      if (thinFailure !== null) return { state: "degraded", detail: `old readings were not thinned: ${thinFailure}` };
      return { state: "up", detail: nightly === null ? "no nightly backup is set up" : null };
    },
    async close(): Promise<void> {
      stopped = true;
      await summing.close();
      await nightly?.close();
      await rounds;
    },
  };
}
