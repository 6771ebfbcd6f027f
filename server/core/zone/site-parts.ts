// Parts of a log: by its index where it has one, else by looking through all of it. Both give the same.
import type { JournalEntry } from "#core/zone/journal.ts";
import type { LogSeries, Node, SiteIndex, SiteLog, Zone } from "#core/zone/site.ts";

/** The index of a log; null where there is none, or it speaks of other lists than those of the log. */
function indexOf({ index, zones, nodes, series, journal }: SiteLog): SiteIndex | null {
  const own = index?.zones === zones && index.nodes === nodes && index.series === series && index.journal === journal;
  return own ? index : null;
}

/** The last zone on record of this id. */
export function zoneOf(log: SiteLog, id: string): Zone | undefined {
  const index = indexOf(log);
  return index === null ? log.zones.findLast((zone) => zone.id === id) : index.zone(id);
}

/** Nodes of these zones; a zone is asked for once. */
export function nodesIn(log: SiteLog, zones: readonly (string | null)[]): Node[] {
  const index = indexOf(log);
  if (index !== null) return zones.flatMap((zone) => index.nodesIn(zone));
  return log.nodes.filter((node) => zones.includes(node.zone));
}

/** All that these nodes say; what one of them says stands in the order of the log. */
export function seriesOf(log: SiteLog, nodes: readonly Node[]): LogSeries[] {
  const ids = new Set(nodes.map(({ id }) => id));
  const index = indexOf(log);
  if (index !== null) return [...ids].flatMap((id) => index.seriesOf(id));
  return log.series.filter(({ node }) => ids.has(node));
}

/** Entries that can say something of these zones, and perhaps others, in the order of the journal. */
export function entriesIn(log: SiteLog, zones: readonly string[]): readonly JournalEntry[] {
  return indexOf(log)?.entriesOf(zones) ?? log.journal;
}

/** Every split ever written down, taken back or not, and perhaps other entries; none where no zone was ever split. */
export function splitsIn(log: SiteLog): readonly JournalEntry[] {
  return indexOf(log)?.splits() ?? (log.journal.some(({ did }) => did === "split") ? log.journal : []);
}
