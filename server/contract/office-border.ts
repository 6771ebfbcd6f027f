// What stays of an office for somebody who is bound to sites or to a zone. Pure.
import type { OfficeBody, OfficeSiteBody } from "#contract/office.ts";

/** Null when the site is beyond the border. `sites` and `zone` null = no border. */
export function officeSiteWithin(
  site: OfficeSiteBody,
  sites: readonly string[] | null,
  zone: string | null,
): OfficeSiteBody | null {
  if (sites !== null && !sites.includes(site.site)) return null;
  if (zone === null) return site;
  // An alarm that several zones share names them all.
  const alarms = site.alarms.filter(({ zones }) => zones.length === 1 && zones[0] === zone);
  return { ...site, zones: site.zones.filter(({ id }) => id === zone), alarms, alarmCount: alarms.length };
}

export function officeWithin(body: OfficeBody, sites: readonly string[] | null, zone: string | null): OfficeBody {
  return { ...body, sites: body.sites.flatMap((site) => officeSiteWithin(site, sites, zone) ?? []) };
}
