// Fetches of weather feeds in the embedded database, each with its time.
import type { FeedFetch, FeedHour } from "#core/zone/site.ts";
import type { Database } from "./sql.ts";
import type { FeedStore } from "./ports.ts";

export function createFeeds(db: Database): FeedStore {
  const insert = db.prepare("INSERT OR IGNORE INTO feed_fetches (site, fetched_ms, body, recipe) VALUES (?, ?, ?, ?)");
  const since = db.prepare(
    "SELECT fetched_ms, body, recipe FROM feed_fetches WHERE site = ? AND fetched_ms >= ? ORDER BY fetched_ms",
  );
  return {
    append: (site, { fetchedMs, hours, recipe }: FeedFetch) =>
      void insert.run(site, fetchedMs, JSON.stringify(hours), recipe ?? null),
    since: (site, fromMs) =>
      since.all(site, fromMs).map(([fetchedMs, body, recipe]) => ({
        fetchedMs: fetchedMs as number,
        hours: JSON.parse(body as string) as FeedHour[],
        ...(recipe === null ? {} : { recipe: recipe as number }),
      })),
  };
}
