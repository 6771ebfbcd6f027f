// Which readings are evidence: those that the record of a coat speaks of, and those beside a person's own meter.
import type { JournalEntry } from "#core/zone/journal.ts";

const HOUR_MS = 3_600_000;
/** A record begins 48 h before its pour, and the judge looked back 52 h from there. */
const BEFORE_POUR_MS = 100 * HOUR_MS;
/** A last coat is followed until it has earned all that its sheet prints, 21 days at most. */
const AFTER_POUR_MS = 21 * 24 * HOUR_MS;
/** Hand readings are held against what the probes said around them. */
const BESIDE_HAND_MS = 2 * HOUR_MS;

interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

function spanOf(entry: JournalEntry): Span | null {
  switch (entry.did) {
    case "poured":
      return { fromMs: entry.fromMs - BEFORE_POUR_MS, toMs: entry.toMs + AFTER_POUR_MS };
    case "pouring":
      return { fromMs: entry.atMs - BEFORE_POUR_MS, toMs: entry.atMs + AFTER_POUR_MS };
    case "measured":
      return { fromMs: entry.atMs - BESIDE_HAND_MS, toMs: entry.atMs + BESIDE_HAND_MS };
    case "salt-checked":
      return { fromMs: entry.atMs - entry.soakH * HOUR_MS - BESIDE_HAND_MS, toMs: entry.atMs + BESIDE_HAND_MS };
    default:
      return null;
  }
}

/** A zone and its parts are one floor: each zone by the first name of its floor. */
function floorsOf(journal: readonly JournalEntry[]): (zone: string) => string {
  const parent = new Map<string, string>();
  for (const entry of journal)
    if (entry.did === "split" && entry.zone !== null)
      for (const { id } of entry.into) if (id !== entry.zone) parent.set(id, entry.zone);
  return (zone) => {
    const seen = new Set<string>();
    let at = zone;
    for (let up = parent.get(at); up !== undefined && !seen.has(up); up = parent.get(at)) {
      seen.add(at);
      at = up;
    }
    return at;
  };
}

/**
 * Tells whether a reading of a node is evidence of a coat of its zone, from the whole journal: what was taken back counts
 * too. A node of no zone, or one that is not known any more, speaks for every zone.
 */
export function evidenceIn(
  journal: readonly JournalEntry[],
  zoneOf: (node: string) => string | null,
): (node: string, atMs: number) => boolean {
  const floorOf = floorsOf(journal);
  const all: Span[] = [];
  const everywhere: Span[] = [];
  const byFloor = new Map<string, Span[]>();
  for (const entry of journal) {
    const span = spanOf(entry);
    if (span === null) continue;
    all.push(span);
    if (entry.zone === null) everywhere.push(span);
    else byFloor.set(floorOf(entry.zone), [...(byFloor.get(floorOf(entry.zone)) ?? []), span]);
  }
  const within = (spans: readonly Span[], atMs: number) =>
    spans.some(({ fromMs, toMs }) => atMs >= fromMs && atMs <= toMs);
  return (node, atMs) => {
    const zone = zoneOf(node);
    if (zone === null) return within(all, atMs);
    return within(everywhere, atMs) || within(byFloor.get(floorOf(zone)) ?? [], atMs);
  };
}
