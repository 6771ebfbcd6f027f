// The desk's weather feed of a site: its recipe, how it is doing, and a try that keeps nothing.
import {
  type FeedRecipe,
  type FeedStateBody,
  type FeedTriedBody,
  type FeedTryBody,
  readFeedRecipe,
} from "#contract/feed.ts";
import { sayFaults } from "#contract/faults.ts";
import { readFeedBody, readFeedText } from "#contract/feed-reading.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import { feedAhead } from "#core/outlook/feed-ahead.ts";
import { feedDoubtOf, type OutdoorHeard } from "#core/outlook/feed-doubt.ts";
import { orderedHours } from "#core/outlook/feed-hours.ts";
import { outdoorPastOf } from "#core/outlook/outdoor-past.ts";
import type { FeedFetch } from "#core/zone/site.ts";
import { type Answer, good, refuseAll } from "./answer.ts";
import { doubtBody } from "./feed-words.ts";
import { fetchTimeMs, rememberFetch } from "./keep-feed.ts";
import type { LiveSite } from "./live-site.ts";
import { type Office, siteOf, touchedZones } from "./office.ts";

/** What an outdoor node heard; what a feed said is no measure of a feed. */
function outdoorHeard(site: LiveSite, nowMs: number): OutdoorHeard | null {
  const known = outdoorPastOf(site.log, { nowMs, heardByMs: nowMs });
  return known?.from === "node" ? known.past : null;
}

const hundredths = (value: number) => Math.round(value * 100) / 100;

/** A site's feed is watched from now on, by what is stored of it. */
export function watchFeed({ feeds, moments }: Pick<Office, "feeds" | "moments">, site: LiveSite): void {
  const { feed } = site;
  const last = site.feeds.at(-1);
  const isOwn = feed !== null && last !== undefined && last.recipe === feed.version && last.hours.length > 0;
  const ageMs = isOwn ? Math.max(0, moments.now() - last.fetchedMs) : null;
  feeds.watch(site.id, feed === null ? null : { version: feed.version, recipe: feed.body, ageMs });
}

/** Why the feed of a site is of no use now; null when it is. */
export function feedTrouble({ feeds, moments }: Pick<Office, "feeds" | "moments">, site: LiveSite): string | null {
  const run = feeds.state(site.id);
  const failed = run?.lastError ?? null;
  if (failed !== null) return sayFaults(failed.faults);
  const nowMs = moments.now();
  return doubtBody(feedDoubtOf(site.feeds, outdoorHeard(site, nowMs), nowMs, nowMs))?.reason ?? null;
}

export function createFeedDesk(office: Office) {
  const { feeds, moments, store } = office;

  const stateOf = (site: LiveSite): FeedStateBody => {
    const nowMs = moments.now();
    const run = feeds.state(site.id);
    const lastFailure = run?.lastError ?? null;
    const ahead = site.feed === null ? null : feedAhead(site.feeds, outdoorHeard(site, nowMs), nowMs, nowMs, 1);
    return {
      recipe: site.feed?.body ?? null,
      lastGoodAt: isoOrNull(run?.lastGoodMs ?? (ahead === null ? null : nowMs - ahead.ageS * 1000)),
      failures: run?.failures ?? 0,
      lastError: lastFailure === null ? null : { at: isoFromMs(lastFailure.atMs), faults: [...lastFailure.faults] },
      nextAt: isoOrNull(run?.nextMs ?? null),
      hours: ahead === null ? 0 : (site.feeds.at(-1)?.hours.length ?? 0),
      ageS: ahead === null ? null : Math.round(ahead.ageS),
      endsAt: isoOrNull(ahead?.endsMs ?? null),
      used: ahead !== null && ahead.fault === null,
      doubt: doubtBody(ahead?.doubt ?? null),
      spreadScale: ahead === null ? null : hundredths(ahead.spreadScale),
      airOffsetK: ahead === null ? null : hundredths(ahead.airOffsetK),
      dewOffsetK: ahead === null ? null : hundredths(ahead.dewOffsetK),
    };
  };

  /** A new recipe, or none. What the old one read must not be used from now on, and the log has to say so. */
  const change = async (site: LiveSite, body: FeedRecipe | null): Promise<void> => {
    const atMs = fetchTimeMs(office, site);
    const used = (site.feeds.at(-1)?.hours.length ?? 0) > 0;
    const { version, fetch } = store.together(() => {
      const number = store.records.putFeed(site.id, body, atMs);
      const empty: FeedFetch = { fetchedMs: atMs, recipe: number, hours: [] };
      if (used) store.feeds.append(site.id, empty);
      return { version: number, fetch: empty };
    });
    if (used) rememberFetch(site, fetch);
    site.feed = body === null ? null : { version, body };
    watchFeed(office, site);
    await office.judgeNow(site.id, touchedZones(site, null, atMs));
  };

  return {
    feed(siteId: string): Answer<FeedStateBody> {
      const found = siteOf(office, siteId);
      return found.ok ? good(stateOf(found.value)) : found;
    },

    async putFeed(siteId: string, body: FeedRecipe): Promise<Answer<FeedStateBody>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const read = readFeedRecipe(body);
      if (!read.ok) return refuseAll("invalid", read.faults);
      await change(found.value, read.value);
      return good(stateOf(found.value));
    },

    async removeFeed(siteId: string): Promise<Answer<null>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      if (found.value.feed !== null) await change(found.value, null);
      return good(null);
    },

    async tryFeed(siteId: string, { recipe, body }: FeedTryBody): Promise<Answer<FeedTriedBody>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const read = readFeedRecipe(recipe);
      if (!read.ok)
        return refuseAll(
          "invalid",
          read.faults.map(({ field, reason }) => ({ field: `/recipe${field}`, reason })),
        );
      const said =
        body === undefined
          ? await feeds.look(read.value)
          : typeof body === "string"
            ? readFeedText(read.value, body)
            : readFeedBody(read.value, body);
      const hours = orderedHours(said.hours);
      const nowMs = moments.now();
      const doubt =
        hours.length === 0
          ? null
          : feedDoubtOf([{ fetchedMs: nowMs, hours }], outdoorHeard(found.value, nowMs), nowMs, nowMs);
      return good({
        hours: hours.map(({ atMs, airC, dewPointC }) => ({
          at: isoFromMs(atMs),
          airC: hundredths(airC),
          dewPointC: hundredths(dewPointC),
        })),
        skipped: said.skipped,
        faults: [...said.faults],
        doubt: doubtBody(doubt),
      });
    },
  };
}
