// Addresses of the dashboard: in the part behind #, so that every server and every kept page serves them.

export type Route =
  | { readonly page: "board"; readonly site: string | null }
  | { readonly page: "zone"; readonly site: string | null; readonly zone: string }
  | { readonly page: "record"; readonly site: string | null; readonly zone: string }
  | { readonly page: "spot-check"; readonly site: string | null }
  | { readonly page: "sensors"; readonly site: string | null }
  | { readonly page: "sites" }
  | { readonly page: "people" }
  | { readonly page: "me" }
  /** A way in that somebody was given: it works without a session. */
  | { readonly page: Door; readonly token: string }
  | { readonly page: "unknown" };

/** Addresses of their own: what stands behind their # is the secret, which no server logs. */
const DOORS = ["invite", "link", "reset"] as const;
export type Door = (typeof DOORS)[number];

/** `#/`, `#/zone/{id}`, `#/record/{zone}`, `#/spot-check`, `#/sensors`, `#/sites`, each but the last also under `#/site/{id}`. */
export function routeFrom(hash: string): Route {
  const parts = hash
    .replace(/^#?\/?/, "")
    .split("/")
    .filter((part) => part !== "")
    .map(decodePart);
  const site = parts[0] === "site" && parts[1] !== undefined ? parts[1] : null;
  const [page, id, ...more] = site === null ? parts : parts.slice(2);
  if (more.length > 0) return { page: "unknown" };
  if (page === undefined) return { page: "board", site };
  if (page === "zone" && id !== undefined) return { page: "zone", site, zone: id };
  if (page === "record" && id !== undefined) return { page: "record", site, zone: id };
  if (page === "spot-check" && id === undefined) return { page: "spot-check", site };
  if (page === "sensors" && id === undefined) return { page: "sensors", site };
  if (site !== null) return { page: "unknown" };
  if ((page === "sites" || page === "people" || page === "me") && id === undefined) return { page };
  return { page: "unknown" };
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
export const hrefs = {
  board: (site: string) => at(site),
  zone: (site: string, zone: string) => `${at(site)}/zone/${encodeURIComponent(zone)}`,
  record: (site: string, zone: string) => `${at(site)}/record/${encodeURIComponent(zone)}`,
  spotCheck: (site: string | null) => (site === null ? "#/spot-check" : `${at(site)}/spot-check`),
  sensors: (site: string) => `${at(site)}/sensors`,
  sites: "#/sites",
  people: "#/people",
  me: "#/me",
};
