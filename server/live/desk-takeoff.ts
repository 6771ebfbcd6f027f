// The desk's takeoff: what the coats of a site, or of one zone, take as the log stands now.
import { bodyFromTakeoff, type TakeoffBody } from "#contract/takeoff.ts";
import { zoneTakeoff } from "#core/takeoff/zone.ts";
import { type Answer, good } from "./answer.ts";
import { type Office, siteOf, zoneOf } from "./office.ts";

export function createTakeoffDesk(office: Office) {
  return {
    takeoff(siteId: string, zoneId: string | null): Answer<TakeoffBody> {
      const found = zoneId === null ? siteOf(office, siteId) : zoneOf(office, siteId, zoneId);
      if (!found.ok) return found;
      const site = "site" in found.value ? found.value.site : found.value;
      const nowMs = office.moments.now();
      const zones = zoneId === null ? site.zones(nowMs).map(({ id }) => id) : [zoneId];
      return good(
        bodyFromTakeoff(
          zones.map((zone) => zoneTakeoff(site.log, zone, nowMs)),
          nowMs,
        ),
      );
    },
  };
}
