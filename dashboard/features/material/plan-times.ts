// The clock of a coat for the screen: its schedule from a start, against the times of the call. Pure.
import type { CallBody } from "#contract/call.ts";
import type { CoatTakeoffBody } from "#contract/takeoff.ts";
import {
  type Late,
  lateOf,
  latestStartMs,
  type PourTimes,
  type Schedule,
  scheduleFrom,
  type ScheduleTerms,
} from "#core/takeoff/schedule.ts";

const ms = (iso: string | null) => (iso === null ? null : Date.parse(iso));

/** null without batches. */
export function termsOf(coat: CoatTakeoffBody, areaM2: number): ScheduleTerms | null {
  if (coat.batches === null) return null;
  return {
    areaM2,
    placeM2PerH: coat.placeM2PerH,
    volumesL: coat.batches.rows.map(({ volumeL }) => volumeL),
    lifeMin: coat.batches.lifeMin,
    mixMin: coat.mixMin,
    restMin: coat.restMin,
  };
}

/** The times that a pour of the next coat must keep. Without a latest start the call's finish is that of a start now. */
export function timesOf({ pour }: CallBody): PourTimes {
  const latestStartAtMs = ms(pour?.latestStartAt ?? null);
  return {
    latestStartAtMs,
    lastMixAtMs: ms(pour?.lastMixAt ?? null),
    finishByMs: latestStartAtMs === null ? null : ms(pour?.finishBy ?? null),
  };
}

export type Start = "now" | "latest" | "next";

/** Starts that can be looked at: now, the latest that fits, and when a pour is likely to open. */
export function startsOf(terms: ScheduleTerms, call: CallBody, atMs: number): Readonly<Partial<Record<Start, number>>> {
  // Begun now, the first batch is on the floor once it is mixed.
  const nowMs = atMs + (terms.mixMin + terms.restMin) * 60_000;
  if (call.call !== "pour") {
    const likely = call.next?.call === "pour" ? Date.parse(call.next.likely) : null;
    return likely === null ? { now: nowMs } : { next: likely, now: nowMs };
  }
  const latest = latestStartMs(terms, timesOf(call));
  return latest === null || latest < nowMs ? { now: nowMs } : { now: nowMs, latest };
}

export interface PlannedPour extends Schedule {
  /** Of a pour that the call allows now; empty when it fits, or when the call names no times. */
  readonly late: readonly Late[];
}

export function plannedPour(terms: ScheduleTerms, call: CallBody, startMs: number): PlannedPour {
  const schedule = scheduleFrom(terms, startMs);
  return { ...schedule, late: call.call === "pour" ? lateOf(schedule, timesOf(call)) : [] };
}

/** The mix that comes next: one more than the highest that anybody has written, or that was begun on this device. */
export function nextBatch(coat: CoatTakeoffBody, keptHere: number): number {
  return Math.max(keptHere, ...coat.mixed.map(({ batch }) => batch), 0) + 1;
}
