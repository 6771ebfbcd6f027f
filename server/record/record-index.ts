// Which coats of which zones have a record, and of which days a summary can be had.
import type { RecordIndexBody, ZoneCoatsBody } from "#contract/record.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import { dayFromName, dayStartMs } from "#core/record/chain.ts";
import { poursOf, standingOf } from "#core/record/pours.ts";
import { recordOf } from "#core/zone/record.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { lineageOf, type ZoneNow, zonesAt } from "#core/zone/zones.ts";
import { headBody } from "./coat-record.ts";
import { localDayOf } from "./day-summary.ts";
import type { RecordSource } from "./ports.ts";

const DAY_MS = 86_400_000;

function coatsOf(source: RecordSource, siteId: string, log: SiteLog, zone: ZoneNow, nowMs: number): ZoneCoatsBody {
  const entries = standingOf(log, zone.id, nowMs);
  const record = recordOf(log, zone, entries);
  const pours = poursOf(entries);
  const lineage = lineageOf(log, zone.id, nowMs);
  const film = source.calls(siteId, (lineage[0] as ZoneNow).id, nowMs).at(-1)?.call.film ?? null;
  const count = Math.max(record.system.length, (pours.at(-1)?.coat ?? -1) + 1);
  return {
    zone: zone.id,
    name: zone.name,
    coats: Array.from({ length: count }, (_, coat) => {
      const pour = pours.find((one) => one.coat === coat);
      const next = pours.find((one) => one.coat > coat);
      const sheet = record.system[coat] ?? null;
      const earlier = pours.filter((one) => one.coat < coat).at(-1);
      // What bears on a coat: from the end of the one before until its own end, for the last one until now.
      const fromMs = earlier?.toMs ?? (pour?.fromMs ?? 0) - 2 * DAY_MS;
      const untilMs = next === undefined ? nowMs : (pour?.toMs ?? 0);
      const within = (atMs: number) => pour !== undefined && atMs > fromMs && atMs <= untilMs;
      const going = record.pouring?.coat === coat;
      // The last call knows whether the film on the floor is past dew.
      const curing = pour !== undefined && next === undefined && (film?.coat !== coat || film.dewSensitive);
      return {
        coat,
        sheet: sheet?.id ?? null,
        name: sheet?.name ?? null,
        state: going ? "pouring" : pour === undefined ? "to-come" : curing ? "curing" : "down",
        from: isoOrNull(pour?.fromMs ?? (going ? (record.pouring?.atMs ?? null) : null)),
        to: isoOrNull(pour?.toMs ?? null),
        record: pour !== undefined && sheet !== null,
        overrides: entries.filter((entry) => entry.did === "overrode" && within(entry.atMs)).length,
        photos: entries.filter((entry) => entry.did === "photographed" && within(entry.atMs)).length,
      };
    }),
  };
}

/** null where there is no such site, or no such zone on it. */
export function recordIndex(source: RecordSource, siteId: string, only: string | null): RecordIndexBody | null {
  const site = source.site(siteId);
  if (site === null) return null;
  const nowMs = source.now();
  const zones = zonesAt(site.log, nowMs).filter(({ id }) => only === null || id === only);
  if (only !== null && zones.length === 0) return null;
  const { timezone } = site.body;
  const heads = source.chain.heads(siteId);
  const kept = [...heads.map(({ day }) => day), ...source.chain.openDays(siteId, nowMs)];
  // A day of UTC touches two of the site's clock.
  const days = kept.flatMap((day) => {
    const startMs = dayStartMs(dayFromName(day));
    return [startMs, Math.min(startMs + DAY_MS - 1, nowMs)].map((atMs) => localDayOf(timezone, atMs));
  });
  return {
    site: site.body,
    timezone,
    madeAt: isoFromMs(nowMs),
    zones: zones.map((zone) => coatsOf(source, siteId, site.log, zone, nowMs)),
    days: [...new Set(days)].sort(),
    heads: heads.map(headBody),
  };
}
