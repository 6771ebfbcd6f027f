// What a weather feed told enters the live log: stored first, then used.
import { orderedHours } from "#core/outlook/feed-hours.ts";
import type { FeedFetch, FeedHour } from "#core/zone/site.ts";
import type { LiveSite } from "./live-site.ts";
import { type Office, touchedZones } from "./office.ts";
import { FEED_MS } from "./sites.ts";

const HOUR_MS = 3_600_000;
/** The same hours told again are stored again only when they begin to look old. */
const RENEW_MS = 2.5 * HOUR_MS;
/** For how long the same hours told again count as fresh. A service that says nothing new for longer has stopped working. */
const FRESH_AGAIN_MS = 24 * HOUR_MS;

function isSame(a: readonly FeedHour[], b: readonly FeedHour[]): boolean {
  return (
    a.length === b.length &&
    a.every((hour, index) => {
      const other = b[index] as FeedHour;
      return hour.atMs === other.atMs && hour.airC === other.airC && hour.dewPointC === other.dewPointC;
    })
  );
}

/** When the hours of the newest fetch came first. */
function sameSinceMs(feeds: readonly FeedFetch[], last: FeedFetch): number {
  let sinceMs = last.fetchedMs;
  for (const fetch of [...feeds].reverse()) {
    if (fetch.recipe !== last.recipe || !isSame(fetch.hours, last.hours)) break;
    sinceMs = fetch.fetchedMs;
  }
  return sinceMs;
}

/** Takes a fetch that is stored into the log, and drops what nobody looks at any more. */
export function rememberFetch(site: LiveSite, fetch: FeedFetch): void {
  site.feeds.push(fetch);
  const first = site.feeds.findIndex(({ fetchedMs }) => fetchedMs >= fetch.fetchedMs - FEED_MS);
  if (first > 0) site.feeds.splice(0, first);
}

/** A time at which no other fetch of this site was heard: the store knows them by it. */
export function fetchTimeMs({ moments }: Office, site: LiveSite): number {
  return Math.max(moments.heard(), (site.feeds.at(-1)?.fetchedMs ?? 0) + 1);
}

/**
 * Keeps what a feed told by the recipe `version`; `hours` null = it says that nothing is new. Gives the reason why it is
 * not used, or null when all is well.
 */
export function keepFeed(
  office: Office,
  siteId: string,
  version: number,
  hours: readonly FeedHour[] | null,
): string | null {
  const site = office.sites.get(siteId);
  if (site === null || site.feed?.version !== version) return null;
  const newest = site.feeds.at(-1);
  const last = newest !== undefined && newest.recipe === version && newest.hours.length > 0 ? newest : null;
  const told = hours === null ? (last?.hours ?? null) : orderedHours(hours);
  if (told === null) return "says that nothing is new, and nothing of it was heard before";
  if (last !== null && isSame(last.hours, told)) {
    const nowMs = office.moments.now();
    if (nowMs - sameSinceMs(site.feeds, last) >= FRESH_AGAIN_MS) return "has told nothing new for more than a day";
    if (nowMs - last.fetchedMs < RENEW_MS) return null;
  }
  const fetchedMs = fetchTimeMs(office, site);
  const fetch: FeedFetch = { fetchedMs, recipe: version, hours: told };
  office.store.together(() => office.store.feeds.append(siteId, fetch));
  rememberFetch(site, fetch);
  void office.judgeNow(siteId, touchedZones(site, null, fetchedMs));
  return null;
}
