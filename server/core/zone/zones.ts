// The zones of a site at a moment: those on record, with splits applied.
import { standingEntries } from "#core/zone/heard.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { SiteLog, Zone } from "#core/zone/site.ts";
import { splitsIn, zoneOf } from "#core/zone/site-parts.ts";

/** A zone as it stands now; parts made by a split know whose floor they were. */
export interface ZoneNow extends Zone {
  /** Slab probes (`node/quantity`) that speak for this zone; null = all of its nodes' probes. */
  readonly probes: readonly string[] | null;
  /** The zone this one was split from, and when; null for a zone on record. */
  readonly splitFrom: { readonly zone: string; readonly atMs: number } | null;
}

export type AllZones = ReadonlyMap<string, { readonly zone: ZoneNow; readonly open: boolean }>;

const unsplit = (zone: Zone): ZoneNow => ({ ...zone, probes: null, splitFrom: null });

interface Placed {
  readonly zone: ZoneNow;
  open: boolean;
}

/** Splits that stand, in the order in which they happened. Of thousands of entries only these are sorted. */
function standingSplits(log: SiteLog, heardByMs: number) {
  const splits = standingEntries(splitsIn(log), heardByMs).filter((entry) => entry.did === "split");
  return splits.sort((a, b) => a.atMs - b.atMs);
}

/** Applies splits to `zones`, which gets what a split touches. `onRecord` tells a zone that is not in it. */
function split(
  zones: Map<string, Placed>,
  splits: ReturnType<typeof standingSplits>,
  onRecord: (id: string) => Zone | undefined,
): void {
  for (const entry of splits) {
    if (entry.zone === null) continue;
    const parent = zones.get(entry.zone) ?? placed(onRecord(entry.zone));
    if (parent === undefined || !parent.open) continue;
    parent.open = false;
    zones.set(entry.zone, parent);
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
}

function placed(zone: Zone | undefined): Placed | undefined {
  return zone && { zone: unsplit(zone), open: true };
}

/** Every zone that ever was, parents of splits included; `open` says which can be judged. */
export function allZones(log: SiteLog, heardByMs: number): AllZones {
  const zones = new Map<string, Placed>();
  for (const zone of log.zones) zones.set(zone.id, { zone: unsplit(zone), open: true });
  split(zones, standingSplits(log, heardByMs), () => undefined);
  return zones;
}

/** Zones that can be judged, from what had been heard by `heardByMs`: a zone that was split is replaced by its parts. */
export function zonesAt(log: SiteLog, heardByMs: number): readonly ZoneNow[] {
  return [...allZones(log, heardByMs).values()].filter((item) => item.open).map((item) => item.zone);
}

/**
 * The zone and the zones it was split from, nearest first. Throws RangeError if it does not exist. Looks at what splits
 * touch alone: a site of a thousand zones is not gone through for each of them.
 */
export function lineageOf(log: SiteLog, zone: string, heardByMs: number): readonly ZoneNow[] {
  const touched = new Map<string, Placed>();
  const onRecord = (id: string) => zoneOf(log, id);
  split(touched, standingSplits(log, heardByMs), onRecord);
  return lineageFrom((id) => (touched.get(id) ?? placed(onRecord(id)))?.zone, log.site, zone);
}

/** The same for many zones of one moment. */
export function lineageIn(all: AllZones, site: string, zone: string): readonly ZoneNow[] {
  return lineageFrom((id) => all.get(id)?.zone, site, zone);
}

function lineageFrom(find: (id: string) => ZoneNow | undefined, site: string, zone: string): readonly ZoneNow[] {
  const chain: ZoneNow[] = [];
  for (let id: string | undefined = zone; id !== undefined; ) {
    const found = find(id);
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
