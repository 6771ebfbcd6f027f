// The pipeline joined with the parts that it asks: sites, board, store and broker.
import type { FastifyBaseLogger } from "fastify";
import { lookAgain } from "#core/judge/look-again.ts";
import type { createAlarmApp } from "./app-alarms.ts";
import type { Troubles } from "./app-health.ts";
import { accept } from "./ingest/accept.ts";
import { decode } from "./ingest/decode.ts";
import type { Accepted, Decoded, Message } from "./ingest/message.ts";
import { createShapes } from "./ingest/shapes.ts";
import type { Board } from "./live/board.ts";
import type { Counters } from "./live/counters.ts";
import type { LandedParcel } from "./live/keep.ts";
import type { Moments } from "./live/moments.ts";
import type { Judge } from "./live/ports.ts";
import type { Sites } from "./live/sites.ts";
import { createPipeline } from "./pipeline.ts";
import { keyOf, type ZoneRef } from "./pipeline-queue.ts";
import type { createLanding } from "./store/landing.ts";
import type { Stream } from "./stream/stream.ts";

export interface FlowParts {
  readonly sites: Sites;
  readonly board: Board;
  readonly judge: Judge;
  readonly moments: Moments;
  readonly landing: ReturnType<typeof createLanding>;
  readonly keeper: { keep(landed: LandedParcel): readonly ZoneRef[] };
  readonly stream: Stream;
  readonly mqtt: { publish(topic: string, body: string, retain: boolean): void };
  readonly alarms: Pick<ReturnType<typeof createAlarmApp>["alarms"], "judged">;
  readonly counters: Counters;
  readonly troubles: Troubles;
  readonly heard: (atMs: number) => void;
  readonly zones: () => readonly ZoneRef[];
  readonly log: FastifyBaseLogger;
}

export function createFlow(parts: FlowParts) {
  const { sites, board, judge, moments, landing, keeper, stream, mqtt, alarms, counters, troubles, log } = parts;
  const shapes = createShapes();
  const logOf = (site: string) => {
    const known = sites.get(site);
    if (known === null) throw new RangeError(`no site "${site}"`);
    return known;
  };
  return createPipeline<Message, Decoded, Accepted, LandedParcel>({
    wallMs: () => performance.now(),
    moments,
    decode(message, nowMs) {
      parts.heard(nowMs);
      return decode(message, nowMs, (topic, site) => sites.recipeFor(topic, site), shapes);
    },
    accept: (decoded, nowMs) => accept(decoded, sites, nowMs),
    land: (accepted, keep) => landing.land(accepted, keep),
    keep: (landed) => keeper.keep(landed),
    judge: ({ site, zone }, atMs) =>
      judge.judgeToLook?.(logOf(site).log, zone, atMs) ?? judge.judgeZone(logOf(site).log, zone, atMs),
    lookAgain: ({ site }, again, atMs) => lookAgain(again, logOf(site).log, atMs),
    board: {
      look: ({ site, zone }, again) => board.look(site, zone, again),
      show: ({ site, zone }, judged, call) => board.show(site, zone, judged, call),
      recorded: ({ site, zone }) => board.recorded(site, zone),
      record: ({ site }, call) => board.record(site, call),
      zoneBody({ site, zone }) {
        const known = sites.get(site);
        const found = known?.zone(zone, moments.now()) ?? null;
        return known === null || found === null ? null : board.zoneBody(known, found);
      },
      has: ({ site, zone }) => (sites.get(site)?.zone(zone, moments.now()) ?? null) !== null,
      zones: parts.zones,
      forgetOthers: (known) => board.forgetOthers((site, zone) => known.has(keyOf({ site, zone }))),
    },
    stream,
    mqtt,
    alarms: { judged: ({ site, zone }, judged) => alarms.judged(site, zone, judged) },
    count: (name, by) => counters.add(name, by),
    lag: (ms) => counters.lag(ms),
    trouble({ site, zone }, doing, error) {
      troubles.add(`${site}/${zone} ${doing}`, error);
      log.error({ site, zone, err: error }, `${doing} failed`);
    },
  });
}
