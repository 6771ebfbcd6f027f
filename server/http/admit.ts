// Whether somebody may ask a route, by the word of the route, the role, and the borders of sites and zones. Pure.
import { type Border, MAY, type May, type Role, type Who } from "#contract/access.ts";

/** `missing`: lies beyond a border; it is answered as if it were not there. */
export type Verdict = "in" | "sign-in" | "not-allowed" | "missing-site" | "missing-zone";

export interface Asked {
  readonly may: May;
  readonly border: Border | undefined;
  readonly site: string | undefined;
  readonly zone: string | undefined;
}

export function admit(who: Who | null, { may, border, site, zone }: Asked): Verdict {
  if (may === "anyone") return "in";
  if (who === null) return "sign-in";
  const roles: readonly Role[] = MAY[may];
  if (!roles.includes(who.role)) return "not-allowed";
  if (who.sites !== null && site !== undefined && !who.sites.includes(site)) return "missing-site";
  if (who.zone !== null && zone !== undefined && who.zone !== zone) return "missing-zone";
  if (border !== undefined) return "in";
  // What names no site or zone speaks of all of them.
  const beyond = (who.sites !== null && site === undefined) || (who.zone !== null && zone === undefined);
  return beyond ? "not-allowed" : "in";
}
