// The clock of a coat: when each batch is mixed, until when it lives, and whether all of it fits the times of the call.

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

/** What the schedule is made from. */
export interface ScheduleTerms {
  readonly areaM2: number;
  readonly placeM2PerH: number;
  readonly volumesL: readonly number[];
  readonly lifeMin: number;
  readonly mixMin: number;
  readonly restMin: number;
}

export interface ScheduleRow {
  /** From 1. */
  readonly batch: number;
  readonly volumeL: number;
  readonly areaM2: number;
  readonly mixFromMs: number;
  /** Out of the pail and on the floor from then on. */
  readonly pourFromMs: number;
  readonly laidByMs: number;
  /** The pail is dead: its life counts from the first turn of the mixer. */
  readonly diesAtMs: number;
}

export interface Schedule {
  readonly rows: readonly ScheduleRow[];
  readonly lastMixAtMs: number;
  readonly finishMs: number;
}

/** Times of the call that a pour must keep; null = the call names none. */
export interface PourTimes {
  readonly latestStartAtMs: number | null;
  readonly lastMixAtMs: number | null;
  readonly finishByMs: number | null;
}

/** The batches one after the other, the first square metre at `startMs`; each is mixed in time for the one before to end. */
export function scheduleFrom(terms: ScheduleTerms, startMs: number): Schedule {
  const { areaM2, placeM2PerH, volumesL, lifeMin, mixMin, restMin } = terms;
  const sumL = volumesL.reduce((sum, volumeL) => sum + volumeL, 0);
  const rows: ScheduleRow[] = [];
  let doneL = 0;
  const atMs = (volumeL: number) => startMs + ((areaM2 / placeM2PerH) * HOUR_MS * volumeL) / sumL;
  for (const [index, volumeL] of volumesL.entries()) {
    const pourFromMs = atMs(doneL);
    const mixFromMs = pourFromMs - (mixMin + restMin) * MINUTE_MS;
    doneL += volumeL;
    rows.push({
      batch: index + 1,
      volumeL,
      areaM2: (areaM2 * volumeL) / sumL,
      mixFromMs,
      pourFromMs,
      laidByMs: atMs(doneL),
      diesAtMs: mixFromMs + lifeMin * MINUTE_MS,
    });
  }
  const last = rows.at(-1);
  return { rows, lastMixAtMs: last?.mixFromMs ?? startMs, finishMs: atMs(sumL) };
}

export type Late = "start" | "last-mix" | "finish";

/** What of a schedule is later than the call allows; empty when all of it fits. */
export function lateOf(schedule: Schedule, times: PourTimes): readonly Late[] {
  const startMs = schedule.rows[0]?.pourFromMs ?? schedule.finishMs;
  const after = (atMs: number, limitMs: number | null) => limitMs !== null && atMs > limitMs;
  const late: Late[] = [];
  if (after(startMs, times.latestStartAtMs)) late.push("start");
  if (after(schedule.lastMixAtMs, times.lastMixAtMs)) late.push("last-mix");
  if (after(schedule.finishMs, times.finishByMs)) late.push("finish");
  return late;
}

/** The latest start at which all of it still fits; null when the call names no time. */
export function latestStartMs(terms: ScheduleTerms, times: PourTimes): number | null {
  const { lastMixAtMs, finishMs } = scheduleFrom(terms, 0);
  const limits = [
    times.latestStartAtMs,
    times.lastMixAtMs === null ? null : times.lastMixAtMs - lastMixAtMs,
    times.finishByMs === null ? null : times.finishByMs - finishMs,
  ].filter((atMs) => atMs !== null);
  return limits.length === 0 ? null : Math.min(...limits);
}
