// The record of one coat: the evidence that the limits of the sheet were known and met, or who decided otherwise.
import type { CoatRecordBody } from "#contract/record.ts";
import type { DayHeadBody, PassageBody } from "#contract/record-parts.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import { dayName, dayOf } from "#core/record/chain.ts";
import { appendColumns, noColumns } from "#core/record/columns.ts";
import { faultsOf } from "#core/record/faults.ts";
import { type FieldFacts, fieldRules } from "#core/record/field-rules.ts";
import { gapsOf, offlineOf } from "#core/record/gaps.ts";
import { type Passage, passageOf } from "#core/record/passage.ts";
import type { Earned } from "#core/zone/film.ts";
import type { Timeline } from "#core/zone/timeline.ts";
import {
  bodiesOf,
  chainedEntries,
  handReadings,
  heatStretches,
  overrides,
  pourBody,
  probeBodies,
  round2,
  ventilation,
} from "./entry-bodies.ts";
import { handOverBody } from "./hand-over-body.ts";
import { limitBodies } from "./limit-bodies.ts";
import { RECORD_NOTICE } from "./notice.ts";
import type { Head, RecordSource } from "./ports.ts";
import { callsShown, shownBodies } from "./shown.ts";
import { type CoatSource, coatSource } from "./source-coat.ts";

const HOUR_MS = 3_600_000;

const earnedBody = ({ share, reachedMs, estimated }: Earned) => ({
  share: Math.round(share * 1000) / 1000,
  reachedAt: isoOrNull(reachedMs === null ? null : Math.round(reachedMs)),
  estimated,
});

export function passageBody(passage: Passage | null): PassageBody | null {
  if (passage === null) return null;
  const { exposure } = passage;
  return {
    coat: passage.coat,
    sheet: passage.sheet,
    pouredFrom: isoFromMs(passage.fromMs),
    pouredTo: isoFromMs(passage.toMs),
    until: isoFromMs(passage.untilMs),
    untilNextCoat: passage.untilNextCoat,
    elapsedH: Math.round(passage.elapsedH * 100) / 100,
    recoat: earnedBody(passage.recoat),
    dewSafe: earnedBody(passage.dewSafe),
    foot: earnedBody(passage.foot),
    traffic: earnedBody(passage.traffic),
    noMaximum: passage.noMaximum,
    closedAt: isoOrNull(passage.closedMs === null ? null : Math.round(passage.closedMs)),
    hottestHourC: round2(passage.hottestHourC),
    marginLimitK: passage.marginLimitK,
    lowestMarginK: round2(passage.lowestMarginK),
    lowestMarginAt: isoOrNull(passage.lowestMarginMs),
    belowLimitMin: Math.round(exposure.belowMin),
    inDewMin: Math.round(exposure.dewMin),
    longestGapMin: Math.round(exposure.gapMin),
  };
}

export function headBody({
  digests: _,
  site: __,
  ...head
}: Head & { readonly anchoredMs?: number | null }): DayHeadBody {
  const { day, head: hash, prev, journal, calls, readings, entries, callCount, readingCount, closed } = head;
  return { day, head: hash, prev, journal, calls, readings, entries, callCount, readingCount, closed };
}

function longestMin(gaps: readonly { readonly fromMs: number; readonly toMs: number }[]): number {
  return Math.round(Math.max(0, ...gaps.map(({ fromMs, toMs }) => toMs - fromMs)) / 60_000);
}

/** Coldest slab of a stretch, and hours of it with a reading. */
function slabBefore(line: Timeline, fromMs: number, toMs: number): { coldestC: number | null; readH: number } {
  let coldestC: number | null = null;
  const hours = new Set<number>();
  for (let index = 0; index < line.readings; index++) {
    const atMs = line.atMs[index] as number;
    const slabC = line.slabColdC[index] as number;
    if (atMs < fromMs || atMs > toMs || Number.isNaN(slabC)) continue;
    coldestC = Math.min(coldestC ?? slabC, slabC);
    hours.add(Math.floor((atMs - fromMs) / HOUR_MS));
  }
  return { coldestC: round2(coldestC), readH: hours.size };
}

function fieldFacts(coat: CoatSource): FieldFacts {
  const { before, after, pour, entries, fromMs } = coat;
  const { coldestC, readH } = slabBefore(before.line, fromMs, pour.fromMs);
  const sensitiveToMs = after.film?.dewSafe.reachedMs ?? after.moment.nowMs;
  const anything = after.line.readings > 0;
  const live = (retiredMs: number) => retiredMs > pour.fromMs;
  const beneath = before.film;
  return {
    coat: pour.coat,
    porous: before.record.porous,
    areaM2: coat.zone.areaM2,
    fromMs: pour.fromMs,
    toMs: pour.toMs,
    slabProbes: after.probes.slab.filter((probe) => live(probe.retiredMs)).length,
    airChips: after.probes.chips.filter((chip) => live(chip.retiredMs)).length,
    longestGapMin: anything ? longestMin(gapsOf(after.line, pour.fromMs, sensitiveToMs)) : null,
    longestGapBeforeMin: anything ? longestMin(gapsOf(before.line, pour.fromMs - HOUR_MS, pour.fromMs)) : null,
    longestGapBetweenMin:
      beneath === null
        ? null
        : longestMin(gapsOf(before.line, beneath.record.toMs, pour.fromMs).filter(({ reason }) => reason !== "no-air")),
    coldestBeforeC: coldestC,
    readBeforeH: readH,
    batches: pour.batches.length,
    entries: entries.filter(({ atMs }) => atMs <= after.moment.nowMs),
  };
}

/** null where there is no such zone, or no such coat has been poured. */
export function coatRecord(
  source: RecordSource,
  siteId: string,
  zoneId: string,
  number: number,
): CoatRecordBody | null {
  const coat = coatSource(source, siteId, zoneId, number);
  if (coat === null) return null;
  const { site, zone, pour, next, before, after, fromMs, toMs, nowMs, log } = coat;
  const sheet = after.film?.sheet ?? null;
  if (sheet === null) return null;
  const inForce = coat.sheets.get(sheet.id);
  if (inForce === undefined) return null;
  const calls = callsShown(source, siteId, coat.lineage, fromMs, toMs);
  const within = coat.entries.filter(({ atMs }) => atMs >= fromMs && atMs <= toMs);
  const sofar = coat.entries.filter(({ atMs }) => atMs <= toMs);
  const ids = new Set(coat.lineage.map(({ id }) => id));
  const own = site.log.journal.filter((entry) => entry.zone === null || ids.has(entry.zone));
  const columns = noColumns();
  appendColumns(columns, before.line, fromMs, pour.fromMs - 1);
  appendColumns(columns, after.line, pour.fromMs, toMs);
  const gaps = [
    ...gapsOf(before.line, fromMs, pour.fromMs),
    ...gapsOf(after.line, pour.fromMs, toMs),
    ...offlineOf(source.runs(fromMs), fromMs, toMs),
  ];
  const beneath = before.film === null ? null : passageOf(before, true);
  const film = passageOf(after, next !== null);
  const days = new Set<string>();
  for (let day = dayOf(fromMs); day <= dayOf(toMs); day++) days.add(dayName(day));
  const photos = bodiesOf(sofar, "photographed");
  return {
    record: 1,
    site: site.body,
    zone: {
      id: zone.id,
      name: zone.name,
      areaM2: zone.areaM2,
      pourM2PerH: zone.pourM2PerH,
      system: [...zone.system],
      base: zone.base,
    },
    timezone: site.body.timezone,
    coat: number,
    madeAt: isoFromMs(nowMs),
    from: isoFromMs(fromMs),
    to: isoFromMs(toMs),
    complete: next !== null || toMs < nowMs,
    pour: pourBody(pour),
    sheet: {
      sheet: inForce.body,
      version: inForce.version,
      since: isoFromMs(inForce.sinceMs),
      changedAt: inForce.changedMs.map(isoFromMs),
      photos: photos.flatMap((entry) =>
        entry.did === "photographed" && entry.of === "sheet" && (entry.sheet ?? sheet.id) === sheet.id
          ? [entry.photo]
          : [],
      ),
    },
    probes: probeBodies(after.probes),
    conditions: columns,
    limits: limitBodies(sheet, after, beneath, pour, coat.entries),
    before: passageBody(beneath),
    after: passageBody(film),
    calls: shownBodies(calls.filter(({ call }) => Date.parse(call.at) <= toMs)),
    overrides: overrides(within, calls),
    handReadings: handReadings(within),
    gaps: gaps
      .sort((a, b) => a.fromMs - b.fromMs)
      .map((gap) => ({ from: isoFromMs(gap.fromMs), to: isoFromMs(gap.toMs), reason: gap.reason })),
    faults: faultsOf(log, zone.id, fromMs, toMs).map(({ fromMs: startMs, toMs: endMs, ...fault }) => ({
      ...fault,
      from: isoFromMs(startMs),
      to: isoOrNull(endMs),
    })),
    surfaceWork: bodiesOf(within, "abraded", "washed", "cleaned", "inspected", "filled"),
    moisture: bodiesOf(sofar, "tested"),
    profile: bodiesOf(sofar, "profile"),
    adhesion: bodiesOf(sofar, "adhesion"),
    photos,
    heat: heatStretches(within),
    ventilation: ventilation(within),
    fieldRules: fieldRules(fieldFacts(coat)).map((rule) => ({ ...rule, facts: { ...rule.facts } })),
    handOver: next === null ? handOverBody(source, siteId, zoneId) : null,
    journal: chainedEntries(own, source.hashes(siteId), nowMs),
    heads: source.chain
      .heads(siteId)
      .filter(({ day }) => days.has(day))
      .map(headBody),
    ruleVersions: [...new Set(calls.map(({ call }) => call.ruleVersion))],
    notice: [...RECORD_NOTICE],
  };
}
