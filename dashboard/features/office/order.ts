// Which sites come first: where something may be going wrong, or where nobody knows. Pure.
import type { OfficeSiteBody, OfficeZoneBody } from "#contract/office.ts";
import type { CallWord } from "#core/judge/call.ts";
import { isBlind } from "../../text/sentence.ts";

/** `unknown`: nothing is known of the zone now, whatever was said of it before. */
export type Standing = CallWord | "unknown";
export const STANDINGS: readonly Standing[] = ["unknown", "abrade", "wait", "pour", "finished"];

/** Silent for too long, or never heard to live: nothing that it said stands. */
export function isSilent({ aliveAt, oldAfterS }: OfficeSiteBody, nowMs: number): boolean {
  return aliveAt === null || nowMs - Date.parse(aliveAt) > oldAfterS * 1000;
}

export function standingOf({ call, unread, behind }: OfficeZoneBody, silent: boolean): Standing {
  return silent || unread || behind || call === null ? "unknown" : call.call;
}

const WEIGHT: Readonly<Record<Standing, number>> = { unknown: 6, abrade: 4, wait: 2, pour: 1, finished: 0 };

function weightOf(zone: OfficeZoneBody, silent: boolean): number {
  const standing = standingOf(zone, silent);
  if (standing === "wait" && zone.call !== null) {
    // A pour that must stop at the next joint comes before a floor that nobody works on.
    if (zone.call.pouring) return 7;
    if (isBlind(zone.call)) return 5;
  }
  return WEIGHT[standing];
}

export interface Placed {
  readonly site: OfficeSiteBody;
  readonly silent: boolean;
  /** Worst first. */
  readonly zones: readonly OfficeZoneBody[];
}

/** Sites with the zones that stand so (null = all); sites without any are left out. Worst first, by name where even. */
export function placed(sites: readonly OfficeSiteBody[], only: Standing | null, nowMs: number): Placed[] {
  return sites
    .map((site) => {
      const silent = isSilent(site, nowMs);
      const zones = site.zones
        .filter((zone) => only === null || standingOf(zone, silent) === only)
        .sort((a, b) => weightOf(b, silent) - weightOf(a, silent));
      const rings = site.alarms.some(({ level, state }) => level === "wake" && state === "open");
      const worst = zones.reduce((most, zone) => Math.max(most, weightOf(zone, silent)), silent ? WEIGHT.unknown : -1);
      const share = zones.filter((zone) => weightOf(zone, silent) === worst).length;
      return { site, silent, zones, weight: rings ? 8 : worst, share };
    })
    .filter(({ zones, silent }) => zones.length > 0 || (only === null && silent))
    .sort((a, b) => b.weight - a.weight || b.share - a.share || a.site.name.localeCompare(b.site.name));
}

export function countsOf(sites: readonly OfficeSiteBody[], nowMs: number): Readonly<Record<Standing, number>> {
  const counts: Record<Standing, number> = { unknown: 0, abrade: 0, wait: 0, pour: 0, finished: 0 };
  for (const site of sites) {
    const silent = isSilent(site, nowMs);
    for (const zone of site.zones) counts[standingOf(zone, silent)] += 1;
  }
  return counts;
}
