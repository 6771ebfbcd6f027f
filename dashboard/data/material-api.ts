// What the material page asks of the server. Loaded with that page.
import type { TakeoffBody } from "#contract/takeoff.ts";
import type { ZoneBody } from "#contract/zone.ts";
import { ask, change } from "./api.ts";

const at = (site: string) => `/sites/${encodeURIComponent(site)}`;
const zoneAt = (site: string, zone: string) => `${at(site)}/zones/${encodeURIComponent(zone)}`;

export interface Crew {
  readonly pourM2PerH: number;
  readonly people?: number;
}

export const materialApi = {
  /** `zone` null = the whole site. */
  takeoff: (site: string, zone: string | null) =>
    ask<TakeoffBody>(`${zone === null ? at(site) : zoneAt(site, zone)}/takeoff`),
  changeCrew: (site: string, zone: string, crew: Crew) => ask<ZoneBody>(zoneAt(site, zone), change("PATCH", crew)),
};
