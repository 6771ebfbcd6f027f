// The newest fetch of the weather feed, if nothing speaks against it.
import { judgeFeed } from "#core/outlook/feed-doubt.ts";
import { outdoorPastOf } from "#core/outlook/outdoor-past.ts";
import type { Moment } from "#core/zone/heard.ts";
import type { FeedFetch, SiteLog } from "#core/zone/site.ts";

/** Null without a feed, and while there is a doubt about it: a feed with a fault is never a reason to pour. */
export function believedFeed(log: SiteLog, moment: Moment): FeedFetch | null {
  if (log.feeds.length === 0) return null;
  const known = outdoorPastOf(log, moment);
  const heard = known?.from === "node" ? known.past : null;
  const judged = judgeFeed(log.feeds, heard, moment.nowMs, moment.heardByMs);
  return judged === null || judged.doubt !== null ? null : judged.fetch;
}
