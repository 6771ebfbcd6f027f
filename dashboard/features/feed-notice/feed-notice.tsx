// A line above the board while the weather feed of the site is not read or not believed; nothing otherwise.
import type { FeedStateBody } from "#contract/feed.ts";
import { ask } from "../../data/api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { useVoice } from "../../ui/voice.tsx";
import { feedWords } from "./feed-words.ts";

/** Feeds are fetched every half hour or less often. */
const AGAIN_MS = 5 * 60_000;

export default function FeedNotice({ site }: { readonly site: string }) {
  const voice = useVoice();
  const path = `/sites/${encodeURIComponent(site)}/feed`;
  const { value } = useAsked(() => ask<FeedStateBody>(path), path, String(Math.floor(voice.nowMs / AGAIN_MS)));
  const said = value === null ? null : feedWords(value, voice);
  return said === null ? null : (
    <p className="away" role="status">
      {said}
    </p>
  );
}
