// A zone as a night file: everything that its calls are made from, and the moments at which it was judged.
import { bodyFromEntry } from "#contract/journal.ts";
import type { NightFileBody } from "#contract/night-file.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";
import { versionsForFile } from "#contract/sheet-version.ts";
import { packOf } from "#contract/night-readings.ts";
import { lineageOf } from "#core/zone/zones.ts";
import { type Answer, good } from "./answer.ts";
import type { LiveSite } from "./live-site.ts";
import { type Found, type Office, zoneOf } from "./office.ts";
import { PAST_MS } from "./window.ts";
import type { ShownCall } from "./zone-memory.ts";

/** Nodes of the zone, those outdoors, and the entries that speak for it. */
function partsOf({ site, zone }: Found, nowMs: number) {
  const lineage = lineageOf(site.log, zone.id, nowMs).map(({ id }) => id);
  const nodes = [...site.nodesOf(zone.id, nowMs), ...site.record.nodes.filter((node) => node.zone === null)];
  const journal = site.journal.filter((entry) => entry.zone === null || lineage.includes(entry.zone));
  const zones = site.record.zones.filter(({ id }) => lineage.includes(id));
  const named = new Set([
    ...zones.flatMap(({ system }) => system),
    ...journal.flatMap((entry) =>
      (entry.did === "coat-added" || entry.did === "filled") && entry.sheet !== undefined ? [entry.sheet] : [],
    ),
  ]);
  const { sheets, sheetVersions } = site.record;
  return {
    nodes,
    journal,
    zones,
    sheets: sheets.filter(({ id }) => named.has(id)),
    versions: versionsForFile(sheetVersions, named, nowMs),
  };
}

/** Calls that can be made again from this file: within the past in memory, and since the record last changed. */
function callsToRepeat(office: Office, site: LiveSite, zone: string, nowMs: number): ShownCall[] {
  const { recorded, call } = office.board.memory(site.id, zone);
  const fromMs = Math.max(nowMs - PAST_MS, site.changedMs);
  const repeatable = recorded.filter(({ at, ruleVersion }) => msFromIso(at) >= fromMs && ruleVersion !== "judge-error");
  const now = call !== null && call.at !== repeatable.at(-1)?.at ? [call] : [];
  return [...repeatable, ...now];
}

function expected(call: ShownCall): NonNullable<NightFileBody["expect"]>[number] {
  const next = call.next === null ? {} : { next: call.next.call };
  return { at: call.at, zone: call.zone, call: call.call, limiting: [call.limiting], steps: [...call.steps], ...next };
}

export function createNightExport(office: Office) {
  return {
    nightFile(siteId: string, zoneId: string): Answer<NightFileBody> {
      const found = zoneOf(office, siteId, zoneId);
      if (!found.ok) return found;
      const nowMs = office.moments.now();
      const { site } = found.value;
      const { nodes, journal, zones, sheets, versions } = partsOf(found.value, nowMs);
      const calls = callsToRepeat(office, site, zoneId, nowMs);
      return good({
        nightFile: 1,
        id: `${siteId}-${zoneId}-${isoFromMs(nowMs)}`,
        title: `${found.value.zone.name}, ${isoFromMs(nowMs)}`,
        site: site.record.site,
        sheets: [...sheets],
        ...versions,
        zones: [...zones],
        nodes: [...nodes],
        journal: journal.map(bodyFromEntry),
        readings: nodes.flatMap(({ id }) => site.seriesOf(id).flatMap(packOf)),
        ...(site.feeds.length === 0
          ? {}
          : {
              feed: site.feeds.map(({ fetchedMs, hours, recipe }) => ({
                fetchedAt: isoFromMs(fetchedMs),
                ...(recipe === undefined ? {} : { recipe }),
                hours: hours.map(({ atMs, airC, dewPointC }) => ({ at: isoFromMs(atMs), airC, dewPointC })),
              })),
            }),
        ask:
          calls.length === 0 ? [{ at: isoFromMs(nowMs), zone: zoneId }] : calls.map(({ at, zone }) => ({ at, zone })),
        ...(calls.length === 0 ? {} : { expect: calls.map(expected) }),
      });
    },
  };
}
