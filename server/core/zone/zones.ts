// The zones of a site at a moment: those on record, with splits applied.
import { standingEntries } from "#core/zone/heard.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { SiteLog, Zone } from "#core/zone/site.ts";

/** A zone as it stands now; parts made by a split know whose floor they were. */
export interface ZoneNow extends Zone {
  /** Slab probes (`node/quantity`) that speak for this zone; null = all of its nodes' probes. */
  readonly probes: readonly string[] | null;
  /** The zone this one was split from, and when; null for a zone on record. */
  readonly splitFrom: { readonly zone: string; readonly atMs: number } | null;
}

export type AllZones = ReadonlyMap<string, { readonly zone: ZoneNow; readonly open: boolean }>;

const unsplit = (zone: Zone): ZoneNow => ({ ...zone, probes: null, splitFrom: null });

/** Whether any split was ever written down, also one that was taken back since. */
const everSplit = (log: SiteLog): boolean => log.journal.some(({ did }) => did === "split");

/** Every zone that ever was, parents of splits included; `open` says which can be judged. */
export function allZones(log: SiteLog, heardByMs: number): AllZones {
  const zones = new Map<string, { zone: ZoneNow; open: boolean }>();
  for (const zone of log.zones) zones.set(zone.id, { zone: unsplit(zone), open: true });
  if (!everSplit(log)) return zones;
  // Splits are few: a journal of thousands of entries is not sorted for them.
  const splits = standingEntries(log.journal, heardByMs).filter((entry) => entry.did === "split");
  for (const entry of splits.sort((a, b) => a.atMs - b.atMs)) {
    if (entry.zone === null) continue;
    const parent = zones.get(entry.zone);
    if (parent === undefined || !parent.open) continue;
    parent.open = false;
    // The outline is that of the whole floor: a part has its own or none.
    const { outline: _whole, areaTyped: _typed, ...floor } = parent.zone;
    for (const part of entry.into) {
      const zone: ZoneNow = {
        ...floor,
        ...(part.outline === undefined ? {} : { outline: part.outline }),
        id: part.id,
        name: part.name ?? `${parent.zone.name} (${part.id})`,
        areaM2: part.areaM2,
        probes: part.probes ?? parent.zone.probes,
        splitFrom: { zone: entry.zone, atMs: entry.atMs },
      };
      zones.set(part.id, { zone, open: true });
    }
  }
  return zones;
}

/** Zones that can be judged, from what had been heard by `heardByMs`: a zone that was split is replaced by its parts. */
export function zonesAt(log: SiteLog, heardByMs: number): readonly ZoneNow[] {
  return [...allZones(log, heardByMs).values()].filter((item) => item.open).map((item) => item.zone);
}

/** The zone and the zones it was split from, nearest first. Throws RangeError if it does not exist. */
export function lineageOf(log: SiteLog, zone: string, heardByMs: number): readonly ZoneNow[] {
  // Without a split a zone is its own line: a site of a thousand is not gone through for each of them.
  if (!everSplit(log)) {
    const found = log.zones.findLast(({ id }) => id === zone);
    if (found !== undefined) return [unsplit(found)];
  }
  return lineageIn(allZones(log, heardByMs), log.site, zone);
}

/** The same for many zones of one moment. */
export function lineageIn(all: AllZones, site: string, zone: string): readonly ZoneNow[] {
  const chain: ZoneNow[] = [];
  for (let id: string | undefined = zone; id !== undefined; ) {
    const found: ZoneNow | undefined = all.get(id)?.zone;
    if (found === undefined) throw new RangeError(`zone: "${id}" is not a zone of site "${site}"`);
    chain.push(found);
    id = found.splitFrom?.zone;
  }
  return chain;
}

/** The entries that speak for a zone: its own, its forebears' up to each split, and the whole site's. */
export function entriesOf(lineage: readonly ZoneNow[], entries: readonly JournalEntry[]): readonly JournalEntry[] {
  const untilMs = new Map<string, number>();
  let limitMs = Number.POSITIVE_INFINITY;
  for (const zone of lineage) {
    untilMs.set(zone.id, limitMs);
    if (zone.splitFrom !== null) limitMs = Math.min(limitMs, zone.splitFrom.atMs);
  }
  return entries.filter(
    (entry) => entry.zone === null || entry.atMs <= (untilMs.get(entry.zone) ?? Number.NEGATIVE_INFINITY),
  );
}
