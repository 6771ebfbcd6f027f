// Of which zone another one is a part, and the entry that made it one: undone, the parts are one zone again.
import type { BoardZoneBody } from "#contract/board.ts";
import type { ZoneNow } from "#core/zone/zones.ts";
import type { LiveSite } from "./live-site.ts";

export function splitOf({ log }: LiveSite, { id, splitFrom }: ZoneNow): NonNullable<BoardZoneBody["splitFrom"]> | null {
  if (splitFrom === null) return null;
  const { zone, atMs } = splitFrom;
  const entry = log.journal.find(
    (one) => one.did === "split" && one.zone === zone && one.atMs === atMs && one.into.some((part) => part.id === id),
  );
  const name = log.zones.find((one) => one.id === zone)?.name ?? zone;
  return entry === undefined ? null : { zone, name, entry: entry.id };
}
