// The state of a zone at a moment: everything that the judge and the outlook look at, folded once.
import {
  type Conditions,
  dewPointTrack,
  handConditions,
  type HandReading,
  handReadingAt,
  liveConditions,
  newestAgeMs,
  slabTrack,
} from "#core/zone/conditions.ts";
import { type Exposure, exposureOf } from "#core/zone/exposure.ts";
import { type FillerState, fillerFromMs, fillerOf } from "#core/zone/filler.ts";
import { type FilmState, filmOf } from "#core/zone/film.ts";
import { entriesAt, type Moment } from "#core/zone/heard.ts";
import { type AirChip, probesOf, type SlabProbe, type ZoneProbes } from "#core/zone/probes.ts";
import { handDoubt } from "#core/zone/margin-doubt.ts";
import { recordOf, type ZoneRecord } from "#core/zone/record.ts";
import { saltChecksOf } from "#core/zone/salt-check.ts";
import { chipOffsets, voteOf } from "#core/zone/silent.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { entriesIn } from "#core/zone/site-parts.ts";
import type { Slopes } from "#core/zone/slope.ts";
import { type SurfaceWater, surfaceWaterOf } from "#core/zone/surface-water.ts";
import { type Timeline, timelineOf, type Voices } from "#core/zone/timeline.ts";
import { type Trust, trustOf } from "#core/zone/trust/trust.ts";
import { entriesOf, lineageOf, type ZoneNow } from "#core/zone/zones.ts";

const HOUR_MS = 3_600_000;
/** The outlook and the offsets of silent probes look back two days. */
const LOOK_BACK_MS = 50 * HOUR_MS;
const MINUTE_MS = 60_000;
/** A hand reading of slab, air and humidity stands in for so long. */
export const HAND_VALID_MS = { pouring: 15 * MINUTE_MS, else: 30 * MINUTE_MS } as const;

export interface ZoneState {
  readonly log: SiteLog;
  readonly zone: ZoneNow;
  readonly moment: Moment;
  readonly record: ZoneRecord;
  readonly probes: ZoneProbes;
  readonly trust: Trust;
  readonly line: Timeline;
  readonly film: FilmState | null;
  /** Crack filler; null where nothing was filled. */
  readonly filler: FillerState | null;
  readonly exposure: Exposure | null;
  /** Until when the film was, or is, dew-sensitive. */
  readonly sensitive: boolean;
  readonly water: SurfaceWater;
  readonly conditions: Conditions;
  /** By the places of the voices; none of probes that may not speak, or where a hand reading stands in. */
  readonly slopes: Slopes;
  readonly hand: HandReading | null;
  readonly staleAfterMs: number;
  readonly slabAgeMs: number | null;
  readonly airAgeMs: number | null;
  /** Live probes that may speak. */
  readonly slabVoices: number;
  readonly airVoices: number;
  /** A laid probe says nothing and has too little in common with the others to be guessed. */
  readonly unknownVote: string | null;
}

function staleAfter(slab: readonly SlabProbe[], chips: readonly AirChip[], pouring: boolean): number {
  if (!pouring) return 30 * MINUTE_MS;
  const everyS = Math.max(0, ...slab.map((probe) => probe.node.everyS), ...chips.map((chip) => chip.node.everyS));
  return Math.min(15 * MINUTE_MS, Math.max(5 * MINUTE_MS, 2.5 * everyS * 1000));
}

function lastHeardWithin(times: readonly number[], nowMs: number, ageMs: number): boolean {
  const last = times.at(-1);
  return last !== undefined && nowMs - last <= ageMs;
}

/** What a slab probe said before it was laid elsewhere does not speak for its new place. */
export function speaksWithin(probe: SlabProbe, nowMs: number, ageMs: number): boolean {
  return lastHeardWithin(probe.track.atMs, nowMs, ageMs) && (probe.track.atMs.at(-1) as number) >= probe.movedMs;
}

/** The first chip whose silence, or doubt, cannot be bridged, or null. One that never said anything sound has no vote. */
function unknownChipOf({ chips, quarantinedChips }: Voices, nowMs: number, ageMs: number): string | null {
  const used = chips.filter((chip) => chip.retiredMs > nowMs && chip.dewPoint.atMs.length > 0);
  const speaking = used.filter(
    (chip) => !quarantinedChips.has(chip.name) && lastHeardWithin(chip.dewPoint.atMs, nowMs, ageMs),
  );
  if (speaking.length === 0) return null;
  const silent = used.filter((chip) => !speaking.includes(chip));
  return (
    silent.find((chip) => !speaking.every((other) => chipOffsets(chip.dewPoint, other.dewPoint, nowMs).enough))?.name ??
    null
  );
}

/** The first laid slab probe whose silence cannot be bridged, or null. */
function unknownVoteOf({ slab, quarantinedSlab }: Voices, nowMs: number, ageMs: number): string | null {
  const laid = slab.filter((probe) => probe.retiredMs > nowMs);
  const speaking = laid.filter((probe) => !quarantinedSlab.has(probe.name) && speaksWithin(probe, nowMs, ageMs));
  if (speaking.length === 0) return null;
  const silent = laid.find(
    (probe) => !speaking.includes(probe) && !speaking.every((other) => voteOf(probe, other, nowMs).enough),
  );
  return silent?.name ?? null;
}

/**
 * How far back readings are looked at: two days, and to two days before the film's pour, so that a probe that fell silent
 * soon after it can still be compared with the others.
 */
export function historyFromMs(record: ZoneRecord, nowMs: number): number {
  return Math.min(nowMs, record.film?.fromMs ?? nowMs, fillerFromMs(record, nowMs)) - LOOK_BACK_MS;
}

/** Where the timeline begins: two days back, and two hours before the film's pour. */
function lineFromMs(record: ZoneRecord, nowMs: number): number {
  return Math.min(nowMs - LOOK_BACK_MS, (record.film?.fromMs ?? nowMs) - 2 * HOUR_MS, fillerFromMs(record, nowMs));
}

/** Folds the log into the state of one zone. Throws RangeError if the zone does not exist. */
export function zoneState(log: SiteLog, zone: string, moment: Moment): ZoneState {
  const { nowMs } = moment;
  const lineage = lineageOf(log, zone, moment.heardByMs);
  const zoneNow = lineage[0] as ZoneNow;
  const journal = entriesIn(
    log,
    lineage.map(({ id }) => id),
  );
  const record = recordOf(log, zoneNow, entriesOf(lineage, entriesAt({ journal }, moment)), moment.heardByMs);
  const probes = probesOf(log, lineage, record, moment, historyFromMs(record, nowMs));
  const trust = trustOf(probes, record, moment);
  const line = timelineOf(trust.voices, lineFromMs(record, nowMs), nowMs);
  const film = filmOf(record.film, line, nowMs);
  const sensitive = film !== null && film.dewSafe.reachedMs === null;
  const cleanFoundMs =
    record.inspected.filter((entry) => entry.surface === "clean").at(-1)?.atMs ?? Number.NEGATIVE_INFINITY;
  const exposure =
    film === null
      ? null
      : exposureOf(
          line,
          film.record.fromMs,
          film.dewSafe.reachedMs ?? nowMs,
          film.sheet.limits.dewMarginK,
          cleanFoundMs,
        );
  const pouring = record.pouring !== null;
  const laid = probes.slab.filter((probe) => probe.retiredMs > nowMs);
  const chips = probes.chips.filter((chip) => chip.retiredMs > nowMs);
  const staleAfterMs = staleAfter(laid, chips, pouring);
  const slabAgeMs = newestAgeMs(laid, slabTrack, nowMs);
  const airAgeMs = newestAgeMs(chips, dewPointTrack, nowMs);
  const { quarantinedSlab, quarantinedChips } = trust.voices;
  const slabVoices = laid.filter(
    (probe) => !quarantinedSlab.has(probe.name) && speaksWithin(probe, nowMs, staleAfterMs),
  ).length;
  const airVoices = chips.filter(
    (chip) => !quarantinedChips.has(chip.name) && lastHeardWithin(chip.dewPoint.atMs, nowMs, staleAfterMs),
  ).length;
  const unknownVote =
    unknownVoteOf(trust.voices, nowMs, staleAfterMs) ?? unknownChipOf(trust.voices, nowMs, staleAfterMs);
  const hand = handReadingAt(record.measured, nowMs, HAND_VALID_MS[pouring ? "pouring" : "else"]);
  const live = slabVoices > 0 && airVoices > 0 && unknownVote === null;
  const slopes: Slopes = [];
  const conditions =
    !live && hand !== null
      ? handConditions(hand, log.altitudeM, nowMs)
      : liveConditions(
          line,
          trust.voices,
          quarantinedSlab,
          log.altitudeM,
          nowMs,
          handDoubt(trust.doubts, trust.voices, line, nowMs),
          saltChecksOf(record),
          slopes,
        );
  const waterFromMs = film === null ? nowMs - 48 * HOUR_MS : film.record.toMs;
  return {
    log,
    zone: zoneNow,
    moment,
    record,
    probes,
    trust,
    line,
    film,
    filler: fillerOf(record, line, nowMs),
    exposure,
    sensitive,
    water: surfaceWaterOf(record, line, waterFromMs, film?.record.toMs ?? Number.NEGATIVE_INFINITY, nowMs),
    conditions,
    slopes,
    hand,
    staleAfterMs,
    slabAgeMs,
    airAgeMs,
    slabVoices,
    airVoices,
    unknownVote,
  };
}
