// The feeds of all sites: each asked when it is due, read by its recipe, and handed on to be stored. Nothing throws out of it.
import { DEFAULT_EVERY_MIN, type FeedRecipe } from "#contract/feed.ts";
import { type FeedRead, readFeedText } from "#contract/feed-reading.ts";
import type { Fault } from "#contract/faults.ts";
import type { FeedHour } from "#core/zone/site.ts";
import { readFile } from "./file-source.ts";
import { askHttp, SOURCE_LIMITS, type SourceAnswer, type SourceLimits } from "./http-source.ts";
import { fillSecrets, type SecretPlaces } from "./secrets.ts";
import { evenOf, waitMs } from "./timing.ts";

export interface WatchedFeed {
  readonly version: number;
  readonly recipe: FeedRecipe;
  /** Age of what is stored of it already, ms; null when nothing is. */
  readonly ageMs: number | null;
}

export interface FeedRun {
  readonly lastGoodMs: number | null;
  readonly failures: number;
  readonly lastError: { readonly atMs: number; readonly faults: readonly Fault[] } | null;
  readonly nextMs: number;
}

export interface FeedParts {
  /** Time that only goes forward, ms. */
  readonly steadyMs: () => number;
  /** Time of the site, for people. */
  readonly nowMs: () => number;
  readonly dir: string | null;
  readonly secrets: SecretPlaces;
  readonly limits?: SourceLimits;
  /** Stores it and uses it; `hours` null = what was told last still stands. Gives a reason when it must not be used. */
  readonly keep: (site: string, version: number, hours: readonly FeedHour[] | null) => Promise<string | null>;
  readonly failed: (site: string, faults: readonly Fault[]) => void;
}

interface Watched {
  readonly feed: WatchedFeed;
  etag: string | null;
  lastModified: string | null;
  attempt: number;
  failures: number;
  lastGoodMs: number | null;
  lastError: FeedRun["lastError"];
  dueMs: number;
  asking: Promise<void> | null;
}

/** After a start all sites would ask at once. */
const FIRST_WITHIN_MS = 5000;

export function createFeeds(parts: FeedParts) {
  const limits = parts.limits ?? SOURCE_LIMITS;
  const closing = new AbortController();
  const watched = new Map<string, Watched>();

  async function ask(recipe: FeedRecipe, etag: string | null, lastModified: string | null): Promise<SourceAnswer> {
    if (recipe.source.file !== undefined) return readFile(parts.dir, recipe.source.file, limits);
    const filled = fillSecrets(recipe, parts.secrets);
    if (!filled.ok) return { kind: "failed", faults: filled.faults, retryAfterMs: null };
    return askHttp({ ...filled.value, etag, lastModified }, limits, closing.signal);
  }

  /** The faults of one question, empty when it was good. */
  async function attempt(
    site: string,
    of: Watched,
  ): Promise<{ faults: readonly Fault[]; retryAfterMs: number | null }> {
    const { recipe, version } = of.feed;
    // What was said and is of no use is not said otherwise in five minutes.
    const usualMs = (recipe.everyMin ?? DEFAULT_EVERY_MIN) * 60_000;
    const answer = await ask(recipe, of.etag, of.lastModified);
    if (answer.kind === "failed") return answer;
    const read = answer.kind === "same" ? null : readFeedText(recipe, answer.text);
    if (read !== null && read.faults.length > 0) return { faults: read.faults, retryAfterMs: usualMs };
    // While it was asked the recipe may have been changed: what the old one read is nobody's.
    if (watched.get(site) !== of || closing.signal.aborted) return { faults: [], retryAfterMs: null };
    const refused = await parts.keep(site, version, read?.hours ?? null);
    if (answer.kind === "text") {
      of.etag = answer.etag;
      of.lastModified = answer.lastModified;
    }
    return { faults: refused === null ? [] : [{ field: "/source", reason: refused }], retryAfterMs: usualMs };
  }

  async function run(site: string, of: Watched): Promise<void> {
    of.attempt += 1;
    let retryAfterMs: number | null = null;
    let faults: readonly Fault[];
    try {
      ({ faults, retryAfterMs } = await attempt(site, of));
    } catch (error) {
      faults = [{ field: "/", reason: `could not be kept: ${error instanceof Error ? error.message : String(error)}` }];
    }
    if (faults.length === 0) {
      of.failures = 0;
      of.lastGoodMs = parts.nowMs();
      of.lastError = null;
    } else {
      of.failures += 1;
      of.lastError = { atMs: parts.nowMs(), faults };
      if (watched.get(site) === of && !closing.signal.aborted) parts.failed(site, faults);
    }
    const everyMin = of.feed.recipe.everyMin ?? DEFAULT_EVERY_MIN;
    of.dueMs = parts.steadyMs() + waitMs(site, everyMin, of.attempt, of.failures, retryAfterMs);
    of.asking = null;
  }

  return {
    /** From now on; null = no more. A feed that was told lately is not asked again at once. */
    watch(site: string, feed: WatchedFeed | null): void {
      watched.delete(site);
      if (feed === null) return;
      const everyMs = (feed.recipe.everyMin ?? DEFAULT_EVERY_MIN) * 60_000;
      const waitedMs = feed.ageMs === null ? 0 : Math.max(0, everyMs - feed.ageMs);
      const jitterMs = feed.ageMs === null ? 0 : FIRST_WITHIN_MS * evenOf(site);
      watched.set(site, {
        feed,
        etag: null,
        lastModified: null,
        attempt: 0,
        failures: 0,
        lastGoodMs: null,
        lastError: null,
        dueMs: parts.steadyMs() + waitedMs + jitterMs,
        asking: null,
      });
    },
    /** Asks whoever is due. */
    tick(): void {
      if (closing.signal.aborted) return;
      const steadyMs = parts.steadyMs();
      for (const [site, of] of watched) if (of.asking === null && of.dueMs <= steadyMs) of.asking = run(site, of);
    },
    state(site: string): FeedRun | null {
      const of = watched.get(site);
      if (of === undefined) return null;
      const { lastGoodMs, failures, lastError, dueMs } = of;
      return { lastGoodMs, failures, lastError, nextMs: parts.nowMs() + Math.max(0, dueMs - parts.steadyMs()) };
    },
    /** Asks once and keeps nothing. */
    async look(recipe: FeedRecipe): Promise<FeedRead> {
      const answer = await ask(recipe, null, null);
      if (answer.kind === "text") return readFeedText(recipe, answer.text);
      const faults =
        answer.kind === "failed" ? answer.faults : [{ field: "/source/url", reason: "says that nothing is new" }];
      return { hours: [], skipped: 0, faults };
    },
    /** Cuts off what is being asked, and waits for it. */
    async close(): Promise<void> {
      closing.abort();
      for (const { asking } of watched.values()) if (asking !== null) await asking;
    },
  };
}
export type Feeds = ReturnType<typeof createFeeds>;
