// Causes at nodes and their probes: silence, a battery, a doubt.
import { NO_FACTS } from "#core/alarm/alarm.ts";
import { filmAtStake, isDataRule, isUnjudged, type Found } from "#core/alarm/film-causes.ts";
import type { NodeMoment, SiteMoment, ZoneMoment } from "#core/alarm/moment.ts";
import { CAUSES } from "#core/alarm/rules.ts";
import { placeOf, type Sign } from "#core/alarm/sign.ts";

const HOUR_MS = 3_600_000;

/** Silent, heard, or nobody knows: while the server was away nobody listened. */
export function isSilent({ heardMs, everyS }: NodeMoment, nowMs: number, listeningMs: number): boolean | null {
  const mostMs = Math.max(CAUSES.silentMin * 60, CAUSES.silentRounds * everyS) * 1000;
  if (heardMs !== null && nowMs - heardMs <= mostMs) return false;
  // One that was never heard is being set up: the sensors page says so.
  if (heardMs === null) return null;
  return nowMs - Math.max(heardMs, listeningMs) > mostMs ? true : null;
}

export function silenceCauses({ nodes, nowMs, server }: SiteMoment): Found {
  const signs: Sign[] = [];
  const fine: string[] = [];
  for (const node of nodes) {
    const place = { group: "silent", member: node.node };
    const silent = isSilent(node, nowMs, server.sinceMs);
    if (silent === false) fine.push(placeOf(place));
    if (silent !== true || node.heardMs === null) continue;
    const silentH = (nowMs - node.heardMs) / HOUR_MS;
    const facts = { ...NO_FACTS, expectedAtMs: node.heardMs, measured: silentH, unit: "h", about: node.node };
    signs.push({ ...place, kind: "node-silent", level: "tell", zones: node.zones, order: -silentH, facts });
  }
  return { signs, fine };
}

export function batteryCauses({ nodes, nowMs, server }: SiteMoment): Found {
  const signs: Sign[] = [];
  const fine: string[] = [];
  for (const node of nodes) {
    const place = { group: "battery", member: node.node };
    const { batteryPct, batteryWarns, batteryInDays } = node;
    if (batteryPct === null || isSilent(node, nowMs, server.sinceMs) !== false) continue;
    if (batteryWarns === null) {
      if (batteryPct >= CAUSES.batteryBackPct) fine.push(placeOf(place));
      continue;
    }
    const expectedAtMs = batteryInDays === null ? null : nowMs + batteryInDays * 24 * HOUR_MS;
    const facts = { ...NO_FACTS, expectedAtMs, measured: batteryPct, unit: "%", about: node.node };
    const level = batteryWarns === "low" ? "tell" : "list";
    signs.push({ ...place, kind: "battery-low", level, zones: node.zones, order: batteryPct, facts });
  }
  return { signs, fine };
}

/** `standing`: probes in doubt by now: one that no rule speaks of any more is well, if its zone was judged. */
export function doubtCauses(zone: ZoneMoment, standing: readonly Sign[]): Found {
  if (isUnjudged(zone)) return { signs: [], fine: [] };
  const signs = zone.call.rules.flatMap(({ rule, outcome, probe, detail, measured, limit, sinceMs }): Sign[] => {
    if (!isDataRule(rule) || probe === null || rule === "data-stale" || rule === "data-missing") return [];
    if (outcome !== "stop" && outcome !== "caution") return [];
    const facts = { ...NO_FACTS, expectedAtMs: sinceMs, measured, limit, about: `${probe} ${detail ?? rule}` };
    const level = outcome === "stop" && filmAtStake(zone) ? "tell" : "list";
    return [{ group: "doubt", member: probe, kind: "probe-doubt", level, zones: [zone.zone], order: 0, facts }];
  });
  const told = new Set(signs.map(({ member }) => member));
  const blind = zone.call.rules.some(({ rule, outcome }) => rule === "data-stale" && outcome === "stop");
  const fine = standing
    .filter(({ member, zones }) => !blind && zones.includes(zone.zone) && !told.has(member))
    .map(placeOf);
  return { signs, fine };
}
