// Addresses of the dashboard: in the part behind #, so that every server and every kept page serves them.

/** Pages of a site beside its board. Each may have a part: `#/site/{id}/material/{zone}`. */
export const SITE_PAGES = [
  "zone",
  "record",
  "spot-check",
  "sensors",
  "alarms",
  "more",
  "set-up",
  "plan",
  "material",
  "tonight",
  "help",
] as const;
export type SitePageName = (typeof SITE_PAGES)[number];
/** Pages of a zone are nothing without it. */
const NEEDS_PART: readonly SitePageName[] = ["zone", "record"];
/** Pages of all sites. */
export const GLOBAL_PAGES = ["sites", "people", "me", "sheets"] as const;
export type GlobalPageName = (typeof GLOBAL_PAGES)[number];

export type Route =
  | { readonly page: "board"; readonly site: string | null }
  | { readonly page: SitePageName; readonly site: string | null; readonly part: string | null }
  | { readonly page: GlobalPageName; readonly part: string | null }
  /** A way in that somebody was given: it works without a session. */
  | { readonly page: Door; readonly token: string }
  | { readonly page: "unknown" };

/** Addresses of their own: what stands behind their # is the secret, which no server logs. */
const DOORS = ["invite", "link", "reset"] as const;
export type Door = (typeof DOORS)[number];

/** `#/`, `#/{page}`, `#/{page}/{part}`; pages of a site also under `#/site/{id}`. */
export function routeFrom(hash: string): Route {
  const parts = hash
    .replace(/^#?\/?/, "")
    .split("/")
    .filter((part) => part !== "")
    .map(decodePart);
  const site = parts[0] === "site" && parts[1] !== undefined ? parts[1] : null;
  const [name, part = null, ...more] = site === null ? parts : parts.slice(2);
  if (more.length > 0) return { page: "unknown" };
  if (name === undefined) return { page: "board", site };
  const page = SITE_PAGES.find((one) => one === name);
  if (page !== undefined)
    return part === null && NEEDS_PART.includes(page) ? { page: "unknown" } : { page, site, part };
  const global = site === null ? GLOBAL_PAGES.find((one) => one === name) : undefined;
  return global === undefined ? { page: "unknown" } : { page: global, part };
}

/** The page of an address: `path` tells a way in from all else, which stands in the hash. */
export function routeOf(path: string, hash: string): Route {
  const door = DOORS.find((one) => path === `/${one}`);
  const token = hash.replace(/^#/, "");
  // A code for a new password can also be typed; invitations and links are opened as they were given.
  if (door === undefined || (token === "" && door !== "reset")) return routeFrom(hash);
  return { page: door, token };
}

function decodePart(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

const at = (site: string) => `#/site/${encodeURIComponent(site)}`;
const ofPart = (part: string | null) => (part === null ? "" : `/${encodeURIComponent(part)}`);
export const hrefs = {
  board: (site: string) => at(site),
  page: (site: string, page: SitePageName, part: string | null = null) => `${at(site)}/${page}${ofPart(part)}`,
  global: (page: GlobalPageName, part: string | null = null) => `#/${page}${ofPart(part)}`,
  zone: (site: string, zone: string) => hrefs.page(site, "zone", zone),
  record: (site: string, zone: string) => hrefs.page(site, "record", zone),
  spotCheck: (site: string | null) => (site === null ? "#/spot-check" : hrefs.page(site, "spot-check")),
  sensors: (site: string) => hrefs.page(site, "sensors"),
  sites: "#/sites",
  people: "#/people",
  me: "#/me",
};
