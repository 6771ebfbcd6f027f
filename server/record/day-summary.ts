// The summary of one day of a site by its own clock: what was poured, what was said and decided, and the worst that was read.
import type { DaySummaryBody } from "#contract/record.ts";
import { bodyFromEntry } from "#contract/journal.ts";
import { localReader } from "#contract/local-time.ts";
import { isoFromMs, isoOrNull, msFromIso } from "#contract/primitives.ts";
import { dayName, dayOf } from "#core/record/chain.ts";
import { faultsOf } from "#core/record/faults.ts";
import { gapsOf, offlineOf } from "#core/record/gaps.ts";
import { poursOf, standingOf } from "#core/record/pours.ts";
import { type ZoneState, zoneState } from "#core/zone/state.ts";
import { lineageOf, type ZoneNow, zonesAt } from "#core/zone/zones.ts";
import { headBody } from "./coat-record.ts";
import { overrides, round2 } from "./entry-bodies.ts";
import { RECORD_NOTICE } from "./notice.ts";
import type { RecordSource } from "./ports.ts";
import { callsShown } from "./shown.ts";
import { nodesOf } from "./source-coat.ts";

const HOUR_MS = 3_600_000;
const LOOK_BACK_MS = 52 * HOUR_MS;

/** Midnight to midnight by the clock on the wall; a midnight that the clock leaves out begins an hour later. */
export function localDay(timezone: string, day: string): { readonly fromMs: number; readonly toMs: number } | null {
  const read = localReader(timezone);
  const next = new Date(Date.parse(`${day}T00:00:00Z`) + 86_400_000);
  if (Number.isNaN(next.getTime())) return null;
  const start = (name: string) => (read(`${name}T00:00:00`) ?? [])[0] ?? (read(`${name}T01:00:00`) ?? [])[0] ?? null;
  const fromMs = start(day);
  const toMs = start(next.toISOString().slice(0, 10));
  return fromMs === null || toMs === null ? null : { fromMs, toMs };
}

/** The day that the clock of a zone shows. */
export function localDayOf(timezone: string, atMs: number): string {
  return new Intl.DateTimeFormat("sv-SE", {
    timeZone: timezone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  }).format(atMs);
}

function worstOf(state: ZoneState, fromMs: number) {
  const { line } = state;
  const worst = {
    coldC: Infinity,
    hotC: -Infinity,
    airColdC: Infinity,
    airHotC: -Infinity,
    rhPct: -Infinity,
    marginK: Infinity,
    marginMs: 0,
  };
  for (let index = 0; index < line.readings; index++) {
    const atMs = line.atMs[index] as number;
    if (atMs < fromMs) continue;
    // NaN is neither above nor below.
    if ((line.slabColdC[index] as number) < worst.coldC) worst.coldC = line.slabColdC[index] as number;
    if ((line.slabHotC[index] as number) > worst.hotC) worst.hotC = line.slabHotC[index] as number;
    if ((line.airMinC[index] as number) < worst.airColdC) worst.airColdC = line.airMinC[index] as number;
    if ((line.airMaxC[index] as number) > worst.airHotC) worst.airHotC = line.airMaxC[index] as number;
    if ((line.rhMaxPct[index] as number) > worst.rhPct) worst.rhPct = line.rhMaxPct[index] as number;
    if ((line.marginK[index] as number) < worst.marginK) {
      worst.marginK = line.marginK[index] as number;
      worst.marginMs = atMs;
    }
  }
  const some = (value: number) => (Number.isFinite(value) ? round2(value) : null);
  return {
    slabColdC: some(worst.coldC),
    slabHotC: some(worst.hotC),
    airColdC: some(worst.airColdC),
    airHotC: some(worst.airHotC),
    rhMaxPct: some(worst.rhPct),
    lowestMarginK: some(worst.marginK),
    lowestMarginAt: isoOrNull(Number.isFinite(worst.marginK) ? worst.marginMs : null),
  };
}

/** null where there is no such site, or no such day. */
export function daySummary(source: RecordSource, siteId: string, day: string): DaySummaryBody | null {
  const site = source.site(siteId);
  const span = site === null ? null : localDay(site.body.timezone, day);
  if (site === null || span === null) return null;
  const nowMs = source.now();
  const { fromMs } = span;
  const toMs = Math.min(span.toMs, nowMs);
  if (toMs <= fromMs) return null;
  const zones = zonesAt(site.log, nowMs).map((zone: ZoneNow) => {
    const lineage = lineageOf(site.log, zone.id, nowMs);
    const standing = standingOf(site.log, zone.id, nowMs);
    const poured = poursOf(standing).filter((pour) => pour.fromMs < toMs && pour.toMs >= fromMs);
    const lastPour = poursOf(standing.filter(({ atMs }) => atMs <= toMs)).at(-1);
    const sinceMs = Math.min(fromMs, lastPour?.fromMs ?? fromMs) - LOOK_BACK_MS;
    const log = source.withReadings(site.log, nodesOf(site.log, lineage), sinceMs, toMs);
    const state = zoneState(log, zone.id, { nowMs: toMs, heardByMs: nowMs });
    const calls = callsShown(source, siteId, lineage, fromMs, toMs);
    const within = standing.filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
    return {
      zone: zone.id,
      name: zone.name,
      poured: poured.map((pour) => ({
        coat: pour.coat,
        sheet: state.record.system[pour.coat]?.id ?? null,
        from: isoFromMs(pour.fromMs),
        to: isoFromMs(pour.toMs),
      })),
      calls: calls.map(({ call }, index) => ({
        from: isoFromMs(Math.max(fromMs, msFromIso(call.at))),
        to: calls[index + 1]?.call.at ?? null,
        call: call.call,
        limiting: call.limiting,
      })),
      ...worstOf(state, fromMs),
      overrides: overrides(within, calls),
      gaps: [...gapsOf(state.line, fromMs, toMs), ...offlineOf(source.runs(fromMs), fromMs, toMs)]
        .sort((a, b) => a.fromMs - b.fromMs)
        .map((gap) => ({ from: isoFromMs(gap.fromMs), to: isoFromMs(gap.toMs), reason: gap.reason })),
      faults: faultsOf(log, zone.id, fromMs, toMs).map(({ fromMs: startMs, toMs: endMs, ...fault }) => ({
        ...fault,
        from: isoFromMs(startMs),
        to: isoOrNull(endMs),
      })),
    };
  });
  const days = new Set<string>();
  for (let of = dayOf(fromMs); of <= dayOf(toMs - 1); of++) days.add(dayName(of));
  return {
    site: site.body,
    timezone: site.body.timezone,
    day,
    from: isoFromMs(fromMs),
    to: isoFromMs(toMs),
    madeAt: isoFromMs(nowMs),
    zones,
    entries: site.log.journal.filter(({ atMs }) => atMs >= fromMs && atMs < toMs).map(bodyFromEntry),
    heads: source.chain
      .heads(siteId)
      .filter((head) => days.has(head.day))
      .map(headBody),
    notice: [...RECORD_NOTICE],
  };
}
