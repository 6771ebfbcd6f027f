// The running server as the record sees it: the log of a site with the readings of any stretch, and what was shown and linked.
import type { FeedFetch, Series, SiteLog } from "#core/zone/site.ts";
import type { LiveStore } from "./ports.ts";
import type { Moments } from "./moments.ts";
import type { Sites } from "./sites.ts";

export interface RecordSourceParts {
  readonly sites: Sites;
  readonly store: Pick<LiveStore, "readings" | "feeds" | "runs">;
  readonly moments: Moments;
}

/**
 * Readings of a stretch, with the last one before it: a probe that fell silent must not be forgotten. And the last of
 * those that had been heard by `heardByMs`, for calls of that time.
 */
function stretch(
  { readings }: RecordSourceParts["store"],
  site: string,
  node: string,
  quantity: string,
  fromMs: number,
  toMs: number,
  heardByMs: number,
): Series {
  const range = readings.range(site, node, quantity, fromMs, toMs);
  const before = [heardByMs, Number.MAX_SAFE_INTEGER]
    .map((byMs) => readings.lastBefore(site, node, quantity, fromMs, byMs))
    .filter((one) => one !== null)
    .filter((one, index, all) => all.findIndex(({ atMs }) => atMs === one.atMs) === index)
    .sort((a, b) => a.atMs - b.atMs);
  return {
    node,
    quantity,
    atMs: [...before.map(({ atMs }) => atMs), ...range.atMs],
    values: [...before.map(({ value }) => value), ...range.values],
    heardMs: [...before.map(({ heardMs }) => heardMs), ...range.heardMs],
  };
}

export function createRecordSource({ sites, store, moments }: RecordSourceParts) {
  return {
    now: () => moments.now(),
    /** As a judging is: what is heard afterwards has a later time. */
    cut: () => moments.judged(),
    site(id: string) {
      const site = sites.get(id);
      if (site === null) return null;
      const { record, log } = site;
      // Lists of the live log grow in place: what is kept over a turn of the event loop must be a copy.
      return {
        body: record.site,
        zones: record.zones,
        nodes: record.nodes,
        log: { ...log, journal: [...log.journal], series: [], feeds: [...log.feeds] },
      };
    },
    withReadings(log: SiteLog, nodes: readonly string[], fromMs: number, toMs: number, heardByMs = toMs): SiteLog {
      const wanted = new Set(nodes);
      const names = store.readings.latest(log.site).filter(({ node }) => wanted.has(node));
      const series = names.map(({ node, quantity }) =>
        stretch(store, log.site, node, quantity, fromMs, toMs, heardByMs),
      );
      return { ...log, series: series.filter(({ atMs }) => atMs.length > 0) };
    },
    feeds: (site: string, fromMs: number): readonly FeedFetch[] => store.feeds.since(site, fromMs),
    /** The run that goes on is alive now, whatever it last wrote. */
    runs(fromMs: number) {
      const known = store.runs.since(fromMs);
      return known.map((run, index) => (index === known.length - 1 ? { ...run, aliveMs: moments.now() } : run));
    },
  };
}
