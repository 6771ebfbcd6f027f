// How much of the past is in memory: what the judge looks at now, and looked at in the hours that the board shows.
import { entriesAt } from "#core/zone/heard.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { recordOf } from "#core/zone/record.ts";
import { baggedOf } from "#core/zone/salt-check.ts";
import { BESIDE_MS } from "#core/zone/second-opinion.ts";
import { historyFromMs } from "#core/zone/state.ts";
import { allZones, entriesOf, lineageIn, type ZoneNow } from "#core/zone/zones.ts";
import { filledSeries, insertReading } from "./live-series.ts";
import type { LiveSite } from "./live-site.ts";
import type { LiveStore } from "./ports.ts";

const HOUR_MS = 3_600_000;
/** The past that the board shows. */
export const PAST_MS = 12 * HOUR_MS;
/** Cut only when this much too much is there: cutting moves everything that stays. */
const SLACK_MS = 4 * HOUR_MS;
const LEAST_MS = 52 * HOUR_MS + PAST_MS;

/** What every zone asks of the journal, read once for all of them. */
interface Asked {
  readonly nowMs: number;
  /** Coats of the past that the board shows. */
  readonly poured: readonly JournalEntry[];
  /** From when on hand readings that were heard late need the probes, epoch ms. */
  readonly lateFromMs: number;
  /** Entries of these zones and of the whole site by a moment, in their order. */
  readonly entriesBy: (lineage: readonly ZoneNow[], atMs: number) => readonly JournalEntry[];
}

type ByZone = Map<string | null, { readonly entry: JournalEntry; readonly place: number }[]>;

function byZoneOf(entries: readonly JournalEntry[]): ByZone {
  const byZone: ByZone = new Map();
  for (const [place, entry] of entries.entries()) {
    const own = byZone.get(entry.zone) ?? [];
    own.push({ entry, place });
    byZone.set(entry.zone, own);
  }
  return byZone;
}

function askedOf(site: LiveSite, nowMs: number): Asked {
  const poured: JournalEntry[] = [];
  let lateFromMs = Infinity;
  for (const entry of site.journal) {
    if (entry.did === "poured" && entry.atMs > nowMs - PAST_MS) poured.push(entry);
    // A hand reading that is heard late needs what the probes said then.
    if (entry.did === "measured" && entry.heardMs > nowMs - PAST_MS)
      lateFromMs = Math.min(lateFromMs, entry.atMs - BESIDE_MS);
  }
  // Sorting or searching the journal of a thousand zones for each of them would hold everything up.
  const known = new Map<number, ByZone>();
  const entriesBy = (lineage: readonly ZoneNow[], atMs: number) => {
    const byZone = known.get(atMs) ?? byZoneOf(entriesAt(site.log, { nowMs: atMs, heardByMs: nowMs }));
    known.set(atMs, byZone);
    const own = [null, ...lineage.map(({ id }) => id)].flatMap((zone) => byZone.get(zone) ?? []);
    return own.sort((a, b) => a.place - b.place).map(({ entry }) => entry);
  };
  return { nowMs, poured, lateFromMs, entriesBy };
}

/** From when on a zone's readings are needed, so that it can be judged at any moment of the past that the board shows. */
function neededFromMs(site: LiveSite, lineage: readonly ZoneNow[], asked: Asked): number {
  const { nowMs, entriesBy } = asked;
  const [first] = lineage;
  if (first === undefined) return nowMs - LEAST_MS;
  const moments = [nowMs, nowMs - PAST_MS];
  // A coat of today hides the one before, which the calls of this morning were made from.
  for (const { atMs, zone } of asked.poured) if (lineage.some(({ id }) => id === zone)) moments.push(atMs - 1);
  const from = moments.flatMap((atMs) => {
    const entries = entriesOf(lineage, entriesBy(lineage, atMs));
    const record = recordOf(site.log, first, entries);
    // A chip that lies in a bag for days speaks by what it said before.
    const bagged = record.saltBagged
      .flatMap(({ probe }) => baggedOf(record, probe.split("/")[0] ?? probe))
      .flatMap(({ fromMs, toMs }) => (toMs > nowMs - LEAST_MS ? [fromMs - HOUR_MS] : []));
    return [historyFromMs(record, atMs), ...bagged];
  });
  return Math.min(nowMs - LEAST_MS, asked.lateFromMs, ...from);
}

/** Whether a reading speaks beside a hand reading, however long ago: a probe that was off stays so until one agrees. */
function besideHands(site: LiveSite, node: string): { readonly handMs: number[]; speaks: (atMs: number) => boolean } {
  const zone = site.record.nodes.find(({ id }) => id === node)?.zone ?? null;
  const split = site.journal.some(({ did }) => did === "split");
  const handMs = site.journal.flatMap((entry) =>
    entry.did === "measured" && zone !== null && (split || entry.zone === zone) ? [entry.atMs] : [],
  );
  return { handMs, speaks: (atMs) => handMs.some((hand) => atMs <= hand && hand - atMs <= BESIDE_MS) };
}

/** Quantities that a person measures too. */
const BY_HAND = /^(slab(\.\d+)?|air|rh)$/;

function neededByNode(site: LiveSite, nowMs: number): Map<string, number> {
  const needed = new Map(site.record.nodes.map(({ id }) => [id, nowMs - LEAST_MS]));
  const asked = askedOf(site, nowMs);
  const all = allZones(site.log, nowMs);
  const nodesIn = new Map<string, string[]>();
  for (const { id, zone } of site.record.nodes)
    if (zone !== null) nodesIn.set(zone, [...(nodesIn.get(zone) ?? []), id]);
  for (const { zone, open } of all.values()) {
    if (!open) continue;
    const lineage = lineageIn(all, site.id, zone.id);
    const fromMs = neededFromMs(site, lineage, asked);
    for (const node of lineage.flatMap(({ id }) => nodesIn.get(id) ?? []))
      needed.set(node, Math.min(fromMs, needed.get(node) ?? fromMs));
  }
  return needed;
}

function load(site: LiveSite, store: LiveStore, node: string, quantity: string, fromMs: number, nowMs: number): void {
  const { readings } = store;
  const range = readings.range(site.id, node, quantity, fromMs, Number.MAX_SAFE_INTEGER);
  const series = filledSeries(node, quantity, range);
  const before = [nowMs - PAST_MS, Number.MAX_SAFE_INTEGER].map((heardByMs) =>
    readings.lastBefore(site.id, node, quantity, fromMs, heardByMs),
  );
  for (const one of before) if (one !== null) insertReading(series, one.atMs, one.value, one.heardMs);
  const { handMs } = besideHands(site, node);
  for (const hand of BY_HAND.test(quantity) ? handMs.filter((atMs) => atMs - BESIDE_MS < fromMs) : []) {
    const beside = readings.range(site.id, node, quantity, hand - BESIDE_MS, Math.min(hand, fromMs - 1));
    for (const [index, atMs] of beside.atMs.entries())
      insertReading(series, atMs, beside.values[index] as number, beside.heardMs[index] as number);
  }
  site.put(series);
}

/** Brings into memory what is needed and not there, and lets go of what is long past. */
export function fitWindow(site: LiveSite, store: LiveStore, nowMs: number): void {
  let names: { readonly node: string; readonly quantity: string }[] | null = null;
  for (const [node, fromMs] of neededByNode(site, nowMs)) {
    const loadedMs = site.loadedFromMs.get(node);
    if (loadedMs === undefined || fromMs < loadedMs) {
      // One look at the store serves all nodes that have to be loaded.
      names ??= store.readings.latest(site.id);
      for (const name of names) if (name.node === node) load(site, store, node, name.quantity, fromMs, nowMs);
      site.loadedFromMs.set(node, fromMs);
    } else if (fromMs > loadedMs + SLACK_MS) {
      const { speaks } = besideHands(site, node);
      site.cut(node, fromMs, nowMs - PAST_MS, speaks);
      site.loadedFromMs.set(node, fromMs);
    }
  }
}
