// A weather feed in the running server: stored before it is used, judged by, taken away, and the same in a replay.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { FeedRecipe, FeedStateBody } from "#contract/feed.ts";
import { type NightFileBody, readNightFile } from "#contract/night-file.ts";
import { topicOf } from "#contract/topics.ts";
import { feedDoubtOf } from "#core/outlook/feed-doubt.ts";
import { judgeZone } from "../../server/core/judge/judge.ts";
import { spotCheck } from "../../server/core/judge/spot-check.ts";
import { openStore } from "../../server/store/store.ts";
import { HOUR_MS, LISTS_RECIPE, listsOf, toldHours } from "../support/feed-sample.ts";
import { counter, runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, NOON_MS, OUTDOORS, pack, SITE } from "../support/small-site.ts";
import { json, startWeatherServer, status, type WeatherServer } from "../support/weather-server.ts";

const told = (fromH = 0, count = 48) => listsOf(toldHours(NOON_MS + fromH * HOUR_MS, count));
let weather: WeatherServer;
let running: RunningApp;
beforeEach(async () => {
  weather = await startWeatherServer();
  weather.answer(json(told(-2)));
  running = await runApp({ judge: { judgeZone, spotCheck } });
});
afterEach(async () => {
  await running.end();
  await weather.close();
});

const recipe = (more: Partial<FeedRecipe> = {}): FeedRecipe => ({
  ...LISTS_RECIPE,
  source: { url: `${weather.url}/hours` },
  ...more,
});
const state = (): FeedStateBody => valueOf(running.app.desk.feed(SITE.id));
const put = async (more: Partial<FeedRecipe> = {}) => valueOf(await running.app.desk.putFeed(SITE.id, recipe(more)));
const arrived = () => until(() => state().hours > 0 && state().nextAt !== null && state().lastGoodAt !== null);
const exported = () => JSON.parse(JSON.stringify(valueOf(running.app.desk.nightFile(SITE.id, "bay")))) as NightFileBody;
const feedsOf = (file: NightFileBody) => {
  const read = readNightFile(file);
  if (!read.ok) expect.fail(JSON.stringify(read.faults));
  return read.value.log.feeds;
};
/** The outdoor node hears the weather that the feed tells, `lateH` hours late. */
const yard = (lateH = 0, hours = 40) =>
  running.send(
    toldHours(NOON_MS - hours * HOUR_MS, hours + 1).flatMap(({ atMs }) => {
      const [then] = toldHours(atMs - lateH * HOUR_MS, 1);
      const t = atMs / 1000;
      return [
        { n: `${OUTDOORS.id}/air`, u: "Cel", t, v: then?.airC },
        { n: `${OUTDOORS.id}/rh`, u: "%RH", t, v: then?.rhPct },
      ];
    }),
    { topic: topicOf({ kind: "senml", site: SITE.id, node: OUTDOORS.id }) },
  );

describe("a site without a feed", () => {
  it("says so, and is well", () => {
    expect(state()).toMatchObject({ recipe: null, used: false, doubt: null, hours: 0, nextAt: null });
    expect(running.app.desk.health().parts["feed"]).toEqual({ state: "up", detail: "no feed is set up" });
  });
});

describe("a feed", () => {
  it("is asked at once, stored with its time, and every zone is judged by it", async () => {
    const judged = counter(running, "judged");
    await put();
    await arrived();
    expect(state()).toMatchObject({ used: true, doubt: null, failures: 0, hours: 48, spreadScale: 1.25 });
    await until(() => counter(running, "judged") > judged);
    const [fetch] = feedsOf(exported());
    expect(fetch).toMatchObject({ recipe: 1 });
    expect(fetch?.hours).toHaveLength(48);
    expect(running.app.desk.health().parts["feed"]).toEqual({ state: "up", detail: null });
  });
  it("is there again after a restart, recipe and hours, and is not asked before its time", async () => {
    await put();
    await arrived();
    const { data } = running;
    const before = feedsOf(exported());
    await running.stop();
    running = await runApp({ data, empty: true, judge: { judgeZone, spotCheck }, atMs: NOON_MS + HOUR_MS / 6 });
    expect(state()).toMatchObject({ recipe: recipe(), hours: 48, used: true });
    expect(feedsOf(exported())).toEqual(before);
    expect(weather.asked).toHaveLength(1);
  });
  it("that says the same again is stored again only when it begins to look old, and ages after a day", async () => {
    weather.answer(json(told(-2, 96)));
    await put({ everyMin: 60 });
    await arrived();
    const { data } = running;
    const again = async (hours: number) => {
      await running.stop();
      const asked = weather.asked.length;
      running = await runApp({ data, empty: true, judge: { judgeZone, spotCheck }, atMs: NOON_MS + hours * HOUR_MS });
      await until(() => weather.asked.length > asked && (state().lastError !== null || state().failures === 0), 40_000);
      await new Promise((resolve) => setTimeout(resolve, 200));
      return feedsOf(exported()).length;
    };
    expect(await again(2)).toBe(1);
    expect(await again(3)).toBe(2);
    expect(state().ageS).toBeLessThan(60);
    expect(await again(25)).toBe(2);
    expect(state().lastError?.faults).toEqual([
      { field: "/source", reason: "has told nothing new for more than a day" },
    ]);
    expect(state().doubt).toMatchObject({ fault: "stale" });
  }, 120_000);
  it("that is taken away is used no more from that moment, and the log says so", async () => {
    await put();
    await arrived();
    valueOf(await running.app.desk.removeFeed(SITE.id));
    expect(state()).toMatchObject({ recipe: null, used: false, hours: 0 });
    const feeds = feedsOf(exported());
    expect(feeds.map(({ hours }) => hours.length)).toEqual([48, 0]);
    expect(feedDoubtOf(feeds, null, running.nowMs(), running.nowMs())).toBeNull();
  });
  it("with a recipe put right is believed at once: what the wrong one read is no measure", async () => {
    weather.answer(
      json(listsOf(toldHours(NOON_MS - 2 * HOUR_MS, 48).map((hour) => ({ ...hour, airC: hour.airC * 1.8 + 32 })))),
    );
    await yard();
    await put();
    await until(() => state().doubt !== null);
    expect(state()).toMatchObject({ used: false, doubt: { fault: "unit" } });
    expect(state().doubt?.reason).toContain("look at the units of the recipe");
    expect(running.app.desk.health().parts["feed"]?.state).toBe("degraded");
    await put({ air: { at: "/hourly/air", unit: "F" } });
    await until(() => state().used);
    expect(state().doubt).toBeNull();
  });
  it("that is right beside a node whose clock is off is doubted, since nobody can tell which of them it is", async () => {
    weather.answer(json(told(-44, 92)));
    await yard(7);
    await put();
    await until(() => state().doubt !== null);
    expect(state().doubt).toMatchObject({ fault: "time-zone", measured: -7 });
    expect(state().doubt?.reason).toContain("or at the clock of the outdoor node");
  });
  it("keeps a zone with a single probe going when it fails", async () => {
    await put();
    await arrived();
    weather.answer(status(500));
    await running.send(pack(running.nowMs(), {}, NODE.id));
    await put({ everyMin: 30 });
    await until(() => state().failures > 0);
    expect(state().lastError?.faults[0]?.reason).toBe("answered 500 instead of the hours");
    const page = valueOf(running.app.desk.zonePage(SITE.id, "bay"));
    expect(["pour", "wait"]).toContain(page.call.call);
    expect(running.app.desk.health().parts["feed"]?.detail).toContain("dock: /source/url: answered 500");
  });
});

describe("a try", () => {
  const tryIt = async (body?: unknown, more: Partial<FeedRecipe> = {}) =>
    valueOf(await running.app.desk.tryFeed(SITE.id, { recipe: recipe(more), ...(body === undefined ? {} : { body }) }));
  it("reads what is pasted, as JSON or as text, and what is fetched, and stores nothing", async () => {
    const pasted = await tryIt(told(0, 24));
    expect(pasted).toMatchObject({ skipped: 0, faults: [], doubt: null });
    expect(pasted.hours).toHaveLength(24);
    expect(pasted.hours[0]?.at).toBe("2026-02-03T12:00:00Z");
    expect(await tryIt(JSON.stringify(told(0, 24)))).toEqual(pasted);
    expect((await tryIt()).hours).toHaveLength(48);
    expect(state()).toMatchObject({ recipe: null, hours: 0 });
    expect(exported().feed).toBeUndefined();
  });
  it("names each fault with its place, and a doubt with its reason", async () => {
    expect((await tryIt("<html>")).faults).toEqual([{ field: "/", reason: 'is not JSON: it begins with "<html>"' }]);
    expect((await tryIt(told(0, 3))).doubt).toMatchObject({ fault: "ends", unit: "h" });
    weather.answer(status(500));
    expect((await tryIt()).faults[0]?.field).toBe("/source/url");
  });
  it("refuses a recipe whose parts do not fit, by field", async () => {
    const answer = await running.app.desk.tryFeed(SITE.id, { recipe: recipe({ time: { at: "/t", as: "local" } }) });
    expect(answer).toMatchObject({ ok: false, refusal: "invalid", faults: [{ field: "/recipe/time/zone" }] });
    expect(await running.app.desk.putFeed(SITE.id, recipe({ source: {} }))).toMatchObject({
      refusal: "invalid",
      faults: [{ field: "/source" }],
    });
  });
});

describe("replay and live with a feed", () => {
  it("agree on every call, before it, with it and after it was taken away", async () => {
    const hour = async (index: number) => {
      const atMs = running.nowMs();
      await running.send(pack(atMs, { slab: 11 - index / 4, air: 13 - index / 3, rh: 55 + index }));
    };
    await hour(0);
    await put();
    await arrived();
    await hour(1);
    weather.answer(json(listsOf(toldHours(NOON_MS, 48).map((one) => ({ ...one, airC: one.airC - 3 })))));
    await put({ everyMin: 30 });
    await arrived();
    await hour(2);
    valueOf(await running.app.desk.removeFeed(SITE.id));
    await hour(3);
    await until(() => counter(running, "queueJudge") === 0);
    const file = exported();
    const read = readNightFile(file);
    if (!read.ok) expect.fail(JSON.stringify(read.faults));
    const { log, ask } = read.value;
    expect(log.feeds.length).toBeGreaterThanOrEqual(4);
    expect(ask.length).toBeGreaterThan(0);
    for (const [index, { atMs, zone }] of ask.entries())
      expect(judgeZone(log, zone, atMs).call.call).toBe(file.expect?.[index]?.call);
    const live = valueOf(running.app.desk.zonePage(SITE.id, "bay")).call;
    const store = openStore(await running.stop().then(() => running.data));
    expect(store.feeds.since(SITE.id, 0)).toEqual(log.feeds);
    expect(live.zone).toBe("bay");
    store.close();
  });
});
