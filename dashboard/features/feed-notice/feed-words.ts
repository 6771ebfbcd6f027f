// What is wrong with the weather feed of a site, in words; null when nothing is, or there is none.
import type { FeedStateBody } from "#contract/feed.ts";
import { aheadText } from "../../text/ahead.ts";
import type { Voice } from "../../text/sentence.ts";

/** Failures in a row that are no hiccup any more. */
const FAILURES = 3;

export function feedWords(feed: FeedStateBody, voice: Pick<Voice, "text" | "clock" | "nowMs">): string | null {
  if (feed.recipe === null) return null;
  const words = aheadText(voice.text).feed;
  if (feed.doubt !== null) return `${words.doubted[feed.doubt.fault]} ${words.without}`;
  if (feed.failures < FAILURES && feed.lastGoodAt !== null) return null;
  if (feed.lastGoodAt === null) return feed.failures === 0 ? null : `${words.neverRead} ${words.without}`;
  return words.unread(voice.clock.when(Date.parse(feed.lastGoodAt), voice.nowMs));
}
