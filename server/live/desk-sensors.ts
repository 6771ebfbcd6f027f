// The desk's look at all sensors of a site: how far each is trusted and why, what will fail, what was refused.
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import type { SensorBody, SensorsBody } from "#contract/sensors.ts";
import { isSlabQuantity } from "#contract/reading.ts";
import type { NodeBody } from "#contract/zone.ts";
import { upperPlace } from "#core/zone/heard.ts";
import { type ZoneState, zoneState } from "#core/zone/state.ts";
import { type Answer, good } from "./answer.ts";
import { knockStates } from "./desk-knocks.ts";
import type { LiveSite } from "./live-site.ts";
import { TREND_DAYS, warningsOf } from "./node-trends.ts";
import { type Office, siteOf } from "./office.ts";
import { zoneOpinions } from "./opinions.ts";

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
/** What was refused longer ago than this is no news. */
const QUARANTINE_MS = 30 * DAY_MS;

type Doubts = SensorBody["doubts"];

function statesOf(site: LiveSite, nowMs: number): ZoneState[] {
  return site.zones(nowMs).flatMap(({ id }) => {
    try {
      return [zoneState(site.log, id, { nowMs, heardByMs: nowMs })];
    } catch (error) {
      // A zone that cannot be judged says so in its call; its nodes are shown without doubts.
      if (!(error instanceof RangeError)) throw error;
      return [];
    }
  });
}

function doubtsOf(states: readonly ZoneState[]): Map<string, Doubts> {
  const byNode = new Map<string, Doubts>();
  for (const { trust } of states) {
    for (const { probe, kind, sinceMs, measured, limit } of trust.doubts) {
      const node = probe.split("/")[0] ?? probe;
      const known = byNode.get(node) ?? [];
      if (!known.some((one) => one.probe === probe && one.kind === kind))
        byNode.set(node, [...known, { probe, kind, since: isoFromMs(sinceMs), measured, limit }]);
    }
  }
  return byNode;
}

/** Share of the rounds of the last day that are there; null for a node that is younger, or moved since. */
function heardShareOf(site: LiveSite, { id, everyS }: NodeBody, nowMs: number): number | null {
  const fromMs = nowMs - DAY_MS;
  const counts = site.seriesOf(id).flatMap(({ atMs }) => {
    const first = atMs.at(0);
    return first === undefined || first > fromMs ? [] : [upperPlace(atMs, nowMs) - upperPlace(atMs, fromMs)];
  });
  if (counts.length === 0) return null;
  return Math.min(1, Math.max(...counts) / (DAY_MS / (everyS * 1000)));
}

export function createSensorDesk(office: Office) {
  const { store, moments, board, broker } = office;

  const daysOf = (site: string, node: string, quantity: string, nowMs: number) =>
    store.readings
      .buckets(site, node, quantity, nowMs - TREND_DAYS * DAY_MS, DAY_MS, TREND_DAYS)
      .map(({ mean }) => (mean === null ? null : Math.round(mean * 10) / 10));

  const sensorOf = (
    site: LiveSite,
    node: NodeBody,
    doubts: Doubts,
    keys: ReadonlyMap<string, number>,
    nowMs: number,
  ): SensorBody => {
    const { id } = node;
    const life = site.lives.get(id) ?? null;
    const state = board.nodeState(site, node);
    const quantities = site
      .seriesOf(id)
      .flatMap(({ quantity, atMs, values }) => {
        const at = atMs.at(-1);
        if (at === undefined) return [];
        const probe = `${id}/${quantity}`;
        const last = site.journal
          .filter((one) => (one.did === "retired" || one.did === "moved") && one.probe === probe)
          .at(-1);
        return [{ quantity, value: values.at(-1) as number, at: isoFromMs(at), retired: last?.did === "retired" }];
      })
      .sort((a, b) => (a.quantity < b.quantity ? -1 : 1));
    const last = (quantity: string) => quantities.find((one) => one.quantity === quantity)?.value ?? null;
    const batteryDays = daysOf(site.id, id, "battery", nowMs);
    const rssiDays = daysOf(site.id, id, "rssi", nowMs);
    const temperatures = quantities.filter(({ quantity }) => quantity === "air" || isSlabQuantity(quantity));
    const heardShare = heardShareOf(site, node, nowMs);
    const heardMs = site.lastHeardMs.get(id) ?? null;
    const facts = {
      batteryPct: last("battery"),
      batteryDays,
      rssiDays,
      coldestC: temperatures.length === 0 ? null : Math.min(...temperatures.map(({ value }) => value)),
      heardShare,
      silentH: heardMs === null ? null : (nowMs - heardMs) / HOUR_MS,
      everyS: node.everyS,
    };
    return {
      node,
      presence: state.presence,
      lastHeard: state.lastHeard,
      quantities,
      batteryPct: facts.batteryPct,
      batteryV: last("battery.v"),
      rssiDbm: state.rssiDbm,
      batteryDays,
      rssiDays,
      heardShare,
      warnings: life === null ? warningsOf(facts) : [],
      doubts: life === null ? doubts : [],
      passwordSince: isoOrNull(keys.get(site.deviceOf(id)) ?? null),
      retiredAt: isoOrNull(life?.retiredMs ?? null),
      replacedBy: life?.replacedBy ?? null,
    };
  };

  return {
    sensors(siteId: string): Answer<SensorsBody> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const site = found.value;
      const nowMs = moments.now();
      const states = statesOf(site, nowMs);
      const doubts = doubtsOf(states);
      const keys = store.nodes.keys(siteId);
      return good({
        at: isoFromMs(nowMs),
        sensors: site.record.nodes.map((node) => sensorOf(site, node, doubts.get(node.id) ?? [], keys, nowMs)),
        zones: states.map(zoneOpinions),
        knocks: knockStates(office, site),
        quarantine: store.quarantine
          .list(siteId)
          .filter(({ lastMs }) => nowMs - lastMs < QUARANTINE_MS)
          .slice(0, 200)
          .map(({ node, reason, field, excerpt, count, firstMs, lastMs }) => ({
            node,
            reason,
            field,
            excerpt,
            count,
            firstAt: isoFromMs(firstMs),
            lastAt: isoFromMs(lastMs),
          })),
        broker: broker.url(),
      });
    },
  };
}
