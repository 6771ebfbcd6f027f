// The zones of a site at a moment: those on record, with splits applied.
import type { SiteLog, Zone } from "#core/zone/site.ts";

/** A zone as it stands now; parts made by a split know whose floor they were. */
export interface ZoneNow extends Zone {
  /** Slab probes (`node/quantity`) that speak for this zone; null = all of its nodes' probes. */
  readonly probes: readonly string[] | null;
  /** The zone this one was split from, and when; null for a zone on record. */
  readonly splitFrom: { readonly zone: string; readonly atMs: number } | null;
}

/** Zones that can be judged at `nowMs`: a zone that was split is replaced by its parts. */
export function zonesAt(log: SiteLog, heardByMs: number): readonly ZoneNow[] {
  throw new RangeError(`${log.site} ${heardByMs}`);
}
