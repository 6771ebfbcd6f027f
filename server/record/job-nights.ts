// Night files of a whole job: everything that the calls of a zone were made from, so that each can be made again.
import { bodyFromEntry } from "#contract/journal.ts";
import type { NightFileBody } from "#contract/night-file.ts";
import { packOf } from "#contract/night-readings.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";
import { sheetFromBody } from "#contract/sheet.ts";
import { versionsForFile } from "#contract/sheet-version.ts";
import { nodeFromBody, zoneFromBody } from "#contract/zone.ts";
import { entriesAt } from "#core/zone/heard.ts";
import { recordOf } from "#core/zone/record.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { historyFromMs } from "#core/zone/state.ts";
import { entriesOf, lineageOf, type ZoneNow, zonesAt } from "#core/zone/zones.ts";
import type { LinkedCall, RecordSource, Version } from "./ports.ts";
import { nodesOf } from "./source-coat.ts";

const HOUR_MS = 3_600_000;
/** A file holds calls of this much time at most: each carries the readings of two days before its first call again. */
const CHUNK_MS = 72 * HOUR_MS;
const FEED_BACK_MS = 76 * HOUR_MS;

export interface JobNight {
  readonly zone: string;
  readonly number: number;
  readonly body: NightFileBody;
}

interface Setup {
  readonly fromMs: number;
  readonly untilMs: number;
  readonly site: NightFileBody["site"];
  readonly sheets: NightFileBody["sheets"];
  readonly zones: NightFileBody["zones"];
  readonly nodes: NightFileBody["nodes"];
}

/** What was set up, from each change to the next: a call is made from what stood then. */
export function setupsOf(history: readonly Version[]): Setup[] {
  const standing = new Map<string, Version>();
  const times = [...new Set(history.map(({ fromMs }) => fromMs))].sort((a, b) => a - b);
  return times.flatMap((fromMs, index) => {
    for (const one of history) if (one.fromMs === fromMs) standing.set(`${one.kind} ${one.id}`, one);
    const all = [...standing.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
    const site = all.find((one) => one.kind === "site")?.body as NightFileBody["site"] | undefined;
    if (site === undefined) return [];
    return [
      {
        fromMs,
        untilMs: times[index + 1] ?? Number.POSITIVE_INFINITY,
        site,
        sheets: all.flatMap((one) => (one.kind === "sheet" && one.body !== null ? [one.body] : [])),
        zones: all.flatMap((one) => (one.kind === "zone" && one.body !== null ? [one.body] : [])),
        nodes: all.flatMap((one) => (one.kind === "node" && one.body !== null ? [one.body] : [])),
      },
    ];
  });
}

/** Calls that stand together in one file: made from one setup, within some days. */
function chunksOf(calls: readonly LinkedCall[], setups: readonly Setup[]): { setup: Setup; calls: LinkedCall[] }[] {
  const chunks: { setup: Setup; calls: LinkedCall[]; untilMs: number }[] = [];
  for (const one of calls) {
    const atMs = msFromIso(one.call.at);
    // An error of the judge is no call that a replay could give.
    if (one.call.ruleVersion === "judge-error") continue;
    const setup = setups.find(({ fromMs, untilMs }) => fromMs <= atMs && atMs < untilMs);
    if (setup === undefined) continue;
    const last = chunks.at(-1);
    if (last !== undefined && last.setup === setup && atMs < last.untilMs) last.calls.push(one);
    else chunks.push({ setup, calls: [one], untilMs: atMs + CHUNK_MS });
  }
  return chunks;
}

/** How far back readings are looked at by the calls of these moments. */
function neededFromMs(log: SiteLog, zone: string, moments: readonly number[]): number {
  return Math.min(
    ...moments.map((nowMs) => {
      const lineage = lineageOf(log, zone, nowMs);
      const entries = entriesOf(lineage, entriesAt(log, { nowMs, heardByMs: nowMs }));
      return historyFromMs(recordOf(log, lineage[0] as ZoneNow, entries), nowMs) - 2 * HOUR_MS;
    }),
  );
}

function nightOf(
  source: RecordSource,
  bare: SiteLog,
  zone: string,
  setup: Setup,
  calls: readonly LinkedCall[],
): NightFileBody {
  const moments = calls.map(({ call }) => msFromIso(call.at));
  const firstMs = moments[0] as number;
  const lastMs = moments.at(-1) as number;
  const log: SiteLog = {
    ...bare,
    timezone: setup.site.timezone,
    altitudeM: setup.site.altitudeM,
    sheets: setup.sheets.map(sheetFromBody),
    zones: setup.zones.map(zoneFromBody),
    nodes: setup.nodes.map(nodeFromBody),
  };
  const lineage = lineageOf(log, zone, lastMs);
  const ids = new Set(lineage.map(({ id }) => id));
  const nodes = nodesOf(log, lineage);
  const { series } = source.withReadings(log, nodes, neededFromMs(log, zone, moments), lastMs, firstMs);
  const journal = log.journal.filter(
    (entry) => entry.heardMs <= lastMs && (entry.zone === null || ids.has(entry.zone)),
  );
  const zones = setup.zones.filter(({ id }) => ids.has(id));
  const named = new Set([
    ...zones.flatMap(({ system }) => system),
    ...journal.flatMap((entry) =>
      (entry.did === "coat-added" || entry.did === "filled") && entry.sheet !== undefined ? [entry.sheet] : [],
    ),
  ]);
  const kept = source
    .history(bare.site)
    .flatMap((one) => (one.kind === "sheet" && one.body !== null ? [{ fromMs: one.fromMs, body: one.body }] : []));
  const feeds = source.feeds(bare.site, firstMs - FEED_BACK_MS).filter(({ fetchedMs }) => fetchedMs <= lastMs);
  const versions = [...new Set(calls.map(({ call }) => call.ruleVersion))].join(", ");
  return {
    nightFile: 1,
    id: `${bare.site}-${zone}-${isoFromMs(firstMs)}`,
    title: `${lineage[0]?.name ?? zone}, ${isoFromMs(firstMs)} to ${isoFromMs(lastMs)}; rules ${versions}`,
    site: setup.site,
    sheets: setup.sheets.filter(({ id }) => named.has(id)),
    ...versionsForFile(kept, named, lastMs),
    zones,
    nodes: setup.nodes.filter(({ id }) => nodes.includes(id)),
    journal: journal.map(bodyFromEntry),
    readings: series.flatMap(packOf),
    ...(feeds.length === 0
      ? {}
      : {
          feed: feeds.map(({ fetchedMs, hours, recipe }) => ({
            fetchedAt: isoFromMs(fetchedMs),
            ...(recipe === undefined ? {} : { recipe }),
            hours: hours.map(({ atMs, airC, dewPointC }) => ({ at: isoFromMs(atMs), airC, dewPointC })),
          })),
        }),
    ask: calls.map(({ call }) => ({ at: call.at, zone })),
    expect: calls.map(({ call }) => ({
      at: call.at,
      zone,
      call: call.call,
      limiting: [call.limiting],
      steps: [...call.steps],
      ...(call.next === null ? {} : { next: call.next.call }),
    })),
  };
}

/** All night files of a site, zone by zone, oldest first; zones that were split have theirs up to the split. */
export function* jobNights(source: RecordSource, siteId: string, untilMs: number): Generator<JobNight> {
  const site = source.site(siteId);
  if (site === null) return;
  const history = source.history(siteId);
  const setups = setupsOf(history);
  const ids = new Set([
    ...history.flatMap((one) => (one.kind === "zone" ? [one.id] : [])),
    ...zonesAt(site.log, untilMs).map(({ id }) => id),
  ]);
  for (const zone of [...ids].sort()) {
    const calls = source.calls(siteId, zone, 0).filter(({ call }) => msFromIso(call.at) <= untilMs);
    for (const [number, chunk] of chunksOf(calls, setups).entries()) {
      yield { zone, number: number + 1, body: nightOf(source, site.log, zone, chunk.setup, chunk.calls) };
    }
  }
}
