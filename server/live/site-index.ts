// Where things of a site stand in its log: what a zone is judged from is found without the zones, nodes and entries of others.
import type { JournalEntry } from "#core/zone/journal.ts";
import type { LogSeries, Node, SiteIndex, SiteLog, Zone } from "#core/zone/site.ts";
import type { JournalByZone } from "./journal-by-zone.ts";

function grouped<K, T>(all: readonly T[], keyOf: (one: T) => K): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const one of all) {
    const group = groups.get(keyOf(one));
    if (group === undefined) groups.set(keyOf(one), [one]);
    else group.push(one);
  }
  return groups;
}

const NONE: readonly never[] = [];

/** `byZone`: of the journal of these lists. They are gone through once, and do not change after that. */
export function siteIndexOf(
  lists: Pick<SiteLog, "zones" | "nodes" | "series" | "journal">,
  byZone: JournalByZone,
): SiteIndex {
  const { zones, nodes, series, journal } = lists;
  const zoneById: ReadonlyMap<string, Zone> = new Map(zones.map((zone) => [zone.id, zone]));
  const nodesByZone: ReadonlyMap<string | null, readonly Node[]> = grouped(nodes, ({ zone }) => zone);
  const seriesByNode: ReadonlyMap<string, readonly LogSeries[]> = grouped(series, ({ node }) => node);
  return {
    zones,
    nodes,
    series,
    journal,
    zone: (id) => zoneById.get(id),
    nodesIn: (zone) => nodesByZone.get(zone) ?? NONE,
    seriesOf: (node) => seriesByNode.get(node) ?? NONE,
    entriesOf: (ids): readonly JournalEntry[] => byZone.of(ids),
    splits: () => byZone.splits(),
  };
}
