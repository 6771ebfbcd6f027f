// The schedule: asks when it is due, keeps what is good, goes on after everything that is bad.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { FeedRecipe } from "#contract/feed.ts";
import type { FeedHour } from "#core/zone/site.ts";
import { createFeeds, type Feeds } from "../../server/feed/feeds.ts";
import { SOURCE_LIMITS, type SourceLimits } from "../../server/feed/http-source.ts";
import { LISTS_RECIPE, listsOf, toldHours } from "../support/feed-sample.ts";
import { until } from "../support/running-app.ts";
import { json, startWeatherServer, status, type WeatherServer } from "../support/weather-server.ts";

const NOON_MS = Date.UTC(2026, 1, 3, 12);
const MINUTE = 60_000;
const GOOD = listsOf(toldHours(NOON_MS, 48));

let weather: WeatherServer;
let feeds: Feeds;
let steadyMs: number;
let kept: { site: string; version: number; hours: readonly FeedHour[] | null }[];
let failures: string[];
/** What `keep` does. */
let keeping: () => Promise<string | null>;
/** How long an answer may take: long, but where there will be none. */
let patience: { -readonly [K in keyof SourceLimits]: SourceLimits[K] };
beforeEach(async () => {
  weather = await startWeatherServer();
  steadyMs = 0;
  kept = [];
  failures = [];
  keeping = async () => null;
  patience = { ...SOURCE_LIMITS };
  feeds = createFeeds({
    steadyMs: () => steadyMs,
    nowMs: () => NOON_MS + steadyMs,
    dir: null,
    secrets: { file: null, environment: { FEED_SECRET_KEY: "hunter2" } },
    limits: patience,
    keep: (site, version, hours) => {
      kept.push({ site, version, hours });
      return keeping();
    },
    failed: (_, faults) => failures.push(...faults.map(({ field, reason }) => `${field} ${reason}`)),
  });
});
afterEach(async () => {
  await feeds.close();
  await weather.close();
});

const recipe = (): FeedRecipe => ({ ...LISTS_RECIPE, source: { url: `${weather.url}/hours` } });
const watch = (version = 1, ageMs: number | null = null) => feeds.watch("dock", { version, recipe: recipe(), ageMs });
/** Moves the clock on, and waits until the question of that time is answered. */
const after = async (ms: number) => {
  const asked = weather.asked.length;
  steadyMs += ms;
  feeds.tick();
  const before = feeds.state("dock");
  await until(() => {
    const now = feeds.state("dock");
    return weather.asked.length > asked && now !== null && now.nextMs > NOON_MS + steadyMs && now !== before;
  });
};

describe("a watched feed", () => {
  it("is asked at once, its hours are handed on, and again after the interval", async () => {
    weather.answer(json(GOOD));
    watch(3);
    await after(0);
    expect(kept).toMatchObject([{ site: "dock", version: 3 }]);
    expect(kept[0]?.hours).toHaveLength(48);
    expect(feeds.state("dock")).toMatchObject({ lastGoodMs: NOON_MS, failures: 0, lastError: null });
    steadyMs += 59 * MINUTE;
    feeds.tick();
    expect(weather.asked).toHaveLength(1);
    await after(8 * MINUTE);
    expect(kept).toHaveLength(2);
  });
  it("that is fresh already is not asked before its time", () => {
    watch(1, 40 * MINUTE);
    feeds.tick();
    expect(weather.asked).toHaveLength(0);
    const nextMs = feeds.state("dock")?.nextMs ?? 0;
    expect(nextMs - NOON_MS).toBeGreaterThanOrEqual(20 * MINUTE);
    expect(nextMs - NOON_MS).toBeLessThan(21 * MINUTE);
  });
  it("is asked whether anything is new, and told on when nothing is", async () => {
    weather.answer(json(GOOD, { etag: '"1"' }));
    watch();
    await after(0);
    weather.answer(status(304));
    await after(67 * MINUTE);
    expect(weather.asked[1]?.headers["if-none-match"]).toBe('"1"');
    expect(kept[1]?.hours).toBeNull();
    expect(feeds.state("dock")?.failures).toBe(0);
  });
  it("is not two questions at once", async () => {
    let release = () => {};
    weather.answer((request, response) => {
      release = () => json(GOOD)(request, response);
    });
    watch();
    feeds.tick();
    feeds.tick();
    await until(() => weather.asked.length === 1);
    feeds.tick();
    release();
    await until(() => kept.length === 1);
    expect(weather.asked).toHaveLength(1);
  });
});

describe("whatever goes wrong", () => {
  it("backs off, says why, and is good again afterwards", async () => {
    weather.answer(status(500));
    watch();
    await after(0);
    await after(6 * MINUTE);
    expect(failures).toEqual(Array(2).fill("/source/url answered 500 instead of the hours"));
    const state = feeds.state("dock");
    expect(state).toMatchObject({ failures: 2, lastGoodMs: null });
    expect((state?.nextMs ?? 0) - NOON_MS - steadyMs).toBeGreaterThanOrEqual(10 * MINUTE);
    weather.answer(json(GOOD));
    await after(12 * MINUTE);
    expect(feeds.state("dock")).toMatchObject({ failures: 0, lastError: null });
  });
  it("waits as long as the service asks for", async () => {
    weather.answer(status(503, { "retry-after": "7200" }));
    watch();
    await after(0);
    expect((feeds.state("dock")?.nextMs ?? 0) - NOON_MS).toBe(120 * MINUTE);
  });
  it.each<[string, Parameters<WeatherServer["answer"]>[0], string]>([
    [
      "a page",
      status(200, {}, "<html>out of order</html>"),
      '/ is not JSON: it begins with "<html>out of order</html>"',
    ],
    ["other JSON", json({ detail: "no such place" }), "/hourly/when is not there"],
    ["silence", () => undefined, "/source/url gave no answer within 0.3 s"],
  ])("%s keeps nothing", async (_, answering, reason) => {
    if (reason.endsWith(" s")) patience.timeoutMs = 300;
    weather.answer(answering);
    watch();
    await after(0);
    expect(kept).toEqual([]);
    expect(failures).toEqual([reason]);
  });
  it("a recipe that reads nothing is not asked again in five minutes", async () => {
    weather.answer(json({}));
    watch();
    await after(0);
    expect((feeds.state("dock")?.nextMs ?? 0) - NOON_MS).toBeGreaterThanOrEqual(60 * MINUTE);
  });
  it("a store that fails, or refuses, is said and not thrown", async () => {
    weather.answer(json(GOOD, { etag: '"1"' }));
    keeping = () => Promise.reject(new Error("disk full"));
    watch();
    await after(0);
    keeping = async () => "has told nothing new for more than a day";
    await after(67 * MINUTE);
    expect(failures).toEqual(["/ could not be kept: disk full", "/source has told nothing new for more than a day"]);
    // What was not kept is asked for anew, whole.
    expect(weather.asked[1]?.headers["if-none-match"]).toBeUndefined();
  });
  it("an answer to a recipe that was changed meanwhile is nobody's", async () => {
    let release = () => {};
    weather.answer((request, response) => {
      release = () => json(GOOD)(request, response);
    });
    watch(1);
    feeds.tick();
    await until(() => weather.asked.length === 1);
    const first = release;
    watch(2);
    feeds.tick();
    await until(() => weather.asked.length === 2);
    first();
    release();
    await until(() => kept.length > 0);
    expect(kept.map(({ version }) => version)).toEqual([2]);
    feeds.watch("dock", null);
    expect(feeds.state("dock")).toBeNull();
  });
  it("a secret in the address is sent, and never stands in what is said", async () => {
    weather.answer(status(401));
    feeds.watch("dock", {
      version: 1,
      recipe: { ...recipe(), source: { url: `${weather.url}/?key={KEY}` } },
      ageMs: null,
    });
    await after(0);
    expect(weather.asked[0]?.path).toBe("/?key=hunter2");
    expect(JSON.stringify([failures, feeds.state("dock")])).not.toContain("hunter2");
  });
});

describe("a look", () => {
  it("reads once and keeps nothing", async () => {
    weather.answer(json(GOOD));
    expect((await feeds.look(recipe())).hours).toHaveLength(48);
    weather.answer(status(500));
    expect(await feeds.look(recipe())).toMatchObject({ hours: [], faults: [{ field: "/source/url" }] });
    expect(kept).toEqual([]);
  });
});
