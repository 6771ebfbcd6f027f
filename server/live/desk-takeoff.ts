// The desk's takeoff: what the coats of a site, or of one zone, take as the log stands now.
import { bodyFromTakeoff, type FailedTakeoff, type TakeoffBody } from "#contract/takeoff.ts";
import { type ZoneTakeoff, zoneTakeoff } from "#core/takeoff/zone.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { zonesAt } from "#core/zone/zones.ts";
import { type Answer, good, refuse } from "./answer.ts";
import { type Office, siteOf, zoneOf } from "./office.ts";

/** What one zone takes, or why it cannot be reckoned: the others stand all the same. */
function attempt(log: SiteLog, zone: string, nowMs: number): ZoneTakeoff | FailedTakeoff {
  try {
    return zoneTakeoff(log, zone, nowMs);
  } catch (error) {
    const name = zonesAt(log, nowMs).find(({ id }) => id === zone)?.name ?? zone;
    return { zone, name, reason: error instanceof Error ? error.message : String(error) };
  }
}

export function createTakeoffDesk(office: Office) {
  return {
    takeoff(siteId: string, zoneId: string | null): Answer<TakeoffBody> {
      const found = zoneId === null ? siteOf(office, siteId) : zoneOf(office, siteId, zoneId);
      if (!found.ok) return found;
      const site = "site" in found.value ? found.value.site : found.value;
      const nowMs = office.moments.now();
      const zones = zoneId === null ? site.zones(nowMs).map(({ id }) => id) : [zoneId];
      const made = zones.map((zone) => attempt(site.log, zone, nowMs));
      const failed = made.flatMap((one) => ("reason" in one ? [one] : []));
      // Of one zone alone nothing would be left to show.
      if (zoneId !== null && failed[0] !== undefined) return refuse("conflict", "/zone", failed[0].reason);
      const whole = made.flatMap((one) => ("reason" in one ? [] : [one]));
      return good(bodyFromTakeoff(whole, nowMs, failed));
    },
  };
}
