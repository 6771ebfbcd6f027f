// Composition: the only file that knows every part. What it makes runs in a test as it does in a process.
import { randomUUID } from "node:crypto";
import { join } from "node:path";
import type { FastifyBaseLogger } from "fastify";
import { pino } from "pino";
import { createBoardText } from "#contract/board-text.ts";
import type { PartHealth } from "#contract/health.ts";
import { topicOf } from "#contract/topics.ts";
import { judgeToLook, judgeZone } from "#core/judge/judge.ts";
import { spotCheck } from "#core/judge/spot-check.ts";
import { httpParts, type HttpDoor, openHttp, openLink } from "./app-doors.ts";
import { createAbout } from "./app-about.ts";
import { createAlarmApp } from "./app-alarms.ts";
import { createCalendarApp } from "./app-calendar.ts";
import { clockHealth, createTroubles, feedsHealth, storeHealth } from "./app-health.ts";
import { createInflux } from "./app-influx.ts";
import { createKeeping } from "./app-keeping.ts";
import { createNotifyApp } from "./app-notify.ts";
import { createOfficeApp } from "./app-office.ts";
import { createFlow } from "./app-pipeline.ts";
import { createRecord } from "./app-record.ts";
import { createFeeds } from "./feed/feeds.ts";
import type { Desk } from "./http/desk.ts";
import { buildHttp } from "./http/server.ts";
import type { BrokerLink } from "./ingest/link.ts";
import type { Message } from "./ingest/message.ts";
import { Board } from "./live/board.ts";
import { createCounters } from "./live/counters.ts";
import { createDesk } from "./live/desk.ts";
import { feedTrouble, watchFeed } from "./live/desk-feed.ts";
import { createHindsight } from "./live/hindsight.ts";
import { home } from "./home.ts";
import { keepFeed } from "./live/keep-feed.ts";
import { createKeeper } from "./live/keep.ts";
import { createMoments } from "./live/moments.ts";
import { createNodeGate } from "./live/node-gate.ts";
import type { Office } from "./live/office.ts";
import type { Clock, Judge } from "./live/ports.ts";
import { Sites } from "./live/sites.ts";
import { fitWindow } from "./live/window.ts";
import { createPhotoMaker } from "./record/photo.ts";
import { createPeople } from "./people/people.ts";
import type { ZoneRef } from "./pipeline-queue.ts";
import { mailAnchorOf, type Settings } from "./settings.ts";
import { createLanding } from "./store/landing.ts";
import { openStore } from "./store/store.ts";
import { createStream } from "./stream/stream.ts";

export interface AppParts {
  /** The time of the site; the wall clock unless given. */
  readonly clock?: Clock;
  readonly logger?: FastifyBaseLogger;
  readonly judge?: Judge;
  /** Where secrets of weather feeds may stand; that of the process unless given. */
  readonly environment?: Readonly<Record<string, string | undefined>>;
  /** Folder of the built dashboard; where the build puts it unless given. */
  readonly dashboardDir?: string | null;
  /** For how long a page may wait for its first picture, ms of wall time. */
  readonly pagePatienceMs?: number;
}

export interface Started {
  readonly httpUrl: string;
  readonly mqttUrl: string;
  /** Makes the first owner; null when there is one, or when accounts are off. */
  readonly firstOwnerCode: string | null;
}

export interface App {
  /** Works before the doors are open: a site can be set up first. */
  readonly desk: Desk;
  start(): Promise<Started>;
  /** Takes nothing more, keeps what was taken, closes. */
  stop(): Promise<void>;
}

const WALL: Clock = { nowMs: () => Date.now(), pace: 1 };
const DASHBOARD = join(home(), "dashboard", "dist");
/** In a time-lapse minutes are short; more often than this nothing ticks, ms of wall time. */
const SHORTEST_TICK_MS = 250;
const MINUTE_MS = 60_000;

export function createApp(settings: Settings, parts: AppParts = {}): App {
  const { clock = WALL, judge = { judgeZone, judgeToLook, spotCheck }, dashboardDir = DASHBOARD } = parts;
  const logger: FastifyBaseLogger = parts.logger ?? pino({ level: settings.logLevel });
  const startId = randomUUID().slice(0, 8);
  const moments = createMoments(clock);
  const counters = createCounters();
  const startedMs = moments.now();
  const store = openStore(settings.data);
  const landing = createLanding(store, () => moments.heard());
  const influx = createInflux({ settings, store, nowMs: () => moments.now(), log: logger });
  const sites = new Sites(store, settings.site ?? null);
  sites.load(startedMs);
  const lastAliveMs = Math.max(0, ...store.runs.since(0).map(({ aliveMs }) => aliveMs));

  const troubles = createTroubles();
  let tickFailure: string | null = null;
  let lastMessageMs: number | null = null;
  let link: BrokerLink | null = null;
  let door: HttpDoor | null = null;
  const timers: NodeJS.Timeout[] = [];

  const mqtt = { publish: (topic: string, body: string, retain: boolean) => link?.publish(topic, body, retain) };
  const board = new Board({ store, clock, moments, judgeFirst: (site, zone) => pipeline.judgeFirst({ site, zone }) });
  const boardText = createBoardText();
  const stream = createStream({
    ...{ startId, boardText },
    nowMs: () => moments.now(),
    snapshot: (site) => {
      const known = sites.get(site);
      return known === null ? null : board.siteBody(known);
    },
    logger,
  });
  const hindsight = createHindsight({
    sites,
    board,
    judge,
    store,
    moments,
    busy: () => pipeline.waiting() > 0 || landing.waiting() > 0 || landing.floods(),
    done: (site, zone) => pipeline.renew({ site, zone }),
  });
  const { alarms, ...alarmApp } = createAlarmApp({
    sites,
    store,
    moments,
    dataDir: settings.data,
    startedMs,
    lastAliveMs,
    broker: () => link?.health() ?? null,
    storeFailure: () => landing.failure() ?? tickFailure,
    stream,
    mqtt,
    teller: () => telling.teller,
    channels: () => telling.channels,
    count: (name) => counters.add(name),
    failed(site, doing, error) {
      troubles.add(`${site} ${doing}`, error);
      logger.error({ site, err: error }, `${doing} failed`);
    },
  });
  const vital: Readonly<Record<string, () => PartHealth>> = {
    broker: () => link?.health() ?? { state: "down", detail: "not started" },
    store: () => storeHealth(landing.failure() ?? tickFailure),
    judge: () => troubles.health(),
  };
  const telling = createNotifyApp({
    settings,
    store,
    now: () => moments.now(),
    sites,
    callOf: (site, zone) => board.memory(site, zone).call,
    book: alarmApp.alarmBook,
    vital,
    publish: mqtt.publish,
    sirenGone: (site, siren) => link?.signOut(site, `siren/${siren}`),
    failed: (what, error) => logger.error({ err: error }, `${what} failed`),
  });
  const keeper = createKeeper({ sites, board, wantHindsight: (site, zone) => hindsight.want(site, zone), stream });
  const pipeline = createFlow({
    ...{ sites, board, judge, moments, landing, keeper, stream, mqtt, alarms, counters, troubles, log: logger },
    heard: (atMs) => void (lastMessageMs = atMs),
    zones: () => allZones(),
  });

  const gate = createNodeGate<Message>({
    sites,
    store,
    moments,
    pass: (message) => pipeline.take(message),
    count: (name) => counters.add(name),
  });
  const book = {
    joinSecret: (site: string) => store.nodes.joinSecret(site),
    nodeKey: (site: string, node: string) => store.nodes.key(site, node),
    sirenKey: (site: string, siren: string) => store.notify.sirenKey(site, siren),
    knowsNode: (site: string, node: string) => sites.knowsNode(site, node),
    readsTopic: (site: string, topic: string) => sites.recipeFor(topic, site) !== null,
  };
  const about = createAbout({
    sites,
    nowMs: () => moments.now(),
    everyS: MINUTE_MS / 1000,
    publicUrl: settings.publicUrl ?? null,
    callOf: (site, zone) => board.recorded(site, zone),
    alarmsOf: (site) => alarms.standing(site),
    publish: mqtt.publish,
  });
  const many = createOfficeApp({
    ...{ settings, startId, log: logger, store: store.office, link: () => link },
    nowMs: () => moments.now(),
    count: (name) => counters.add(name),
  });
  const hearRecipes = () => link?.hear(sites.all().flatMap(({ recipes }) => recipes.map(({ topic }) => topic)));

  function allZones(): ZoneRef[] {
    return sites.all().flatMap((site) => site.zones(moments.now()).map(({ id }) => ({ site: site.id, zone: id })));
  }

  /** Silence is an input, and the store says that this run is alive. */
  function tick(): void {
    try {
      store.runs.alive(moments.now());
      for (const site of sites.all()) fitWindow(site, store, moments.now());
      tickFailure = null;
    } catch (error) {
      tickFailure = error instanceof Error ? error.message : String(error);
      logger.error({ err: error }, "the store does not answer");
    }
    pipeline.tick(MINUTE_MS / clock.pace);
    about.tell();
    alarms.tick();
    telling.minute();
    record.tick();
    keeping.tick();
  }

  const keeping = createKeeping({
    ...{ settings, store, sites, log: logger },
    nowMs: () => moments.now(),
    busy: () => pipeline.waiting() > 0 || landing.waiting() > 0,
    count: (name, by) => counters.add(name, by),
  });
  const record = createRecord({
    closed: (days) => keeping.closed(days.length),
    sites,
    store,
    moments,
    anchorUrl: settings.anchorUrl ?? null,
    anchorMail: mailAnchorOf(settings),
    failed(what, error) {
      counters.add("recordFailures");
      logger.error({ err: error }, `${what} failed`);
    },
  });
  const feeds = createFeeds({
    steadyMs: () => performance.now(),
    nowMs: () => moments.now(),
    dir: settings.feedDir ?? null,
    secrets: { file: settings.feedSecrets ?? null, environment: parts.environment ?? process.env },
    keep: async (site, version, hours) => keepFeed(office, site, version, hours),
    failed(site, faults) {
      counters.add("feedFailures");
      logger.warn({ site, faults }, "the weather feed was not read");
    },
  });

  const office: Office = {
    sites,
    store,
    board,
    judge,
    clock,
    moments,
    judgeNow: async (site, zones) => void (await Promise.all(zones.map((zone) => pipeline.judgeNow({ site, zone })))),
    wantHindsight: (site, zone) => hindsight.want(site, zone),
    feeds,
    reach: influx.reach,
    photos: { make: createPhotoMaker(), store: store.photos },
    broker: {
      url: () => settings.mqttAddress ?? link?.url ?? null,
      hear: hearRecipes,
      signOut: (site, node) => link?.signOut(site, node),
    },
    pass: (topic, payload) => pipeline.take({ topic, payload, replayed: true, from: null }),
    clearCall: (site, zone) => mqtt.publish(topicOf({ kind: "call", site, zone }), "", true),
    stream: {
      publish: (site: string, event: "journal" | "node", key: string, body: never) =>
        stream.publish(site, event, key, body),
    },
  };
  const healthParts = {
    startId,
    startedMs,
    now: () => moments.now(),
    lastMessageMs: () => lastMessageMs,
    counters,
    parts: {
      ...vital,
      feed: () =>
        feedsHealth(
          sites
            .all()
            .flatMap((site) => (site.feed === null ? [] : [{ site: site.id, why: feedTrouble(office, site) }])),
        ),
      record: () => record.health(),
      keeping: () => keeping.health(),
      ...influx.health,
      ...telling.health,
      ...(many === null ? {} : { office: () => many.health() }),
      clock: () => clockHealth(moments.now(), lastAliveMs, moments.setBackMs(), clock.pace),
    },
    gauges: () => ({
      queueLanding: landing.waiting(),
      queueJudge: pipeline.waiting(),
      queueHindsight: hindsight.waiting(),
      queueBroker: link?.waiting() ?? 0,
      streamClients: stream.stats().clients,
      ...influx.gauges(),
    }),
  };
  const desk: Desk = { ...createDesk(office, healthParts), ...alarmApp.desk, ...record.recorder, ...many?.refusals };

  const calendars = createCalendarApp({
    ...{ settings, store, sites },
    now: () => moments.now(),
    callOf: (site, zone) => board.memory(site, zone).call,
    handOver: record.recorder.handOver,
    failed: (what, error) => logger.error({ err: error }, `${what} failed`),
  });
  const people = createPeople({
    store: store.people,
    mode: settings.accounts,
    // A time-lapse of the site ages neither sessions nor the audit.
    nowMs: () => Date.now(),
    steadyMs: () => performance.now(),
    siteNames: () => [
      ...sites.all().flatMap(({ id, record }) => [id, record.site.name ?? id]),
      ...(many?.siteNames() ?? []),
    ],
  });

  async function open(): Promise<Started> {
    store.runs.begin(moments.now());
    store.presence.forget(moments.now());
    for (const { presence } of sites.all()) {
      for (const [node, last] of presence) if (last === "online") presence.set(node, "unknown");
    }
    const served = () => sites.all().map(({ id }) => id);
    link =
      (await many?.open()) ??
      (await openLink(settings, (message) => gate.take(message), served(), { book, barred: gate.refuse }, logger));
    hearRecipes();
    // What was judged before the broker was there.
    for (const { site, zone } of allZones()) {
      const { call } = board.memory(site, zone);
      if (call !== null) mqtt.publish(topicOf({ kind: "call", site, zone }), JSON.stringify(call), true);
      hindsight.want(site, zone);
    }
    door = await openHttp(
      await buildHttp({
        ...{ desk, stream, boardText, pagePatienceMs: parts.pagePatienceMs },
        ...{ logger, dashboardDir, startId },
        access: people,
        notify: telling.desk,
        calendars,
        office: many?.http ?? null,
        ...httpParts(settings),
      }),
      settings,
    );
    timers.push(setInterval(tick, Math.max(SHORTEST_TICK_MS, MINUTE_MS / clock.pace)));
    timers.push(setInterval(() => keeper.tellNodes(), 1000));
    for (const site of sites.all()) watchFeed(office, site);
    influx.start();
    timers.push(setInterval(() => feeds.tick(), 1000));
    timers.push(setInterval(() => (about.look() ? link?.serve(served()) : undefined), 1000));
    timers.push(setInterval(() => telling.tick(), 1000));
    telling.start();
    pipeline.tick(MINUTE_MS / clock.pace);
    const firstOwnerCode = settings.accounts === "on" ? people.firstOwnerCode() : null;
    return { httpUrl: door.url, mqttUrl: link.url, firstOwnerCode };
  }

  async function shut(): Promise<void> {
    for (const timer of timers) clearInterval(timer);
    link?.pause();
    await record.close();
    await keeping.close();
    await feeds.close();
    await influx.close();
    landing.close();
    hindsight.close();
    pipeline.close();
    alarms.close();
    await telling.close();
    await link?.close();
    many?.close();
    gate.close();
    if (door === null) stream.close();
    else await door.close();
    if (door !== null && landing.failure() === null) store.runs.alive(moments.now());
    store.close();
  }

  let stopped: Promise<void> | null = null;
  const stop = () => (stopped ??= shut());
  return {
    desk,
    start: () =>
      open().catch(async (error: unknown) => {
        await stop();
        throw error;
      }),
    stop,
  };
}
