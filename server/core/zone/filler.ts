// Crack filler on the floor: when it is hard, by typed hours or by what its sheet's hours have earned at the coldest slab.
import { hardCurve } from "#core/cure/curve.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import { earnedBy } from "#core/zone/film.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import type { Timeline } from "#core/zone/timeline.ts";

const HOUR_MS = 3_600_000;
/** Filler is followed this far back; one that was filled earlier is reckoned by what it earned since. */
const FOLLOWED_MS = 7 * 24 * HOUR_MS;

/** One filling that is earned by its sheet. */
export interface EarningFiller {
  readonly sheet: Sheet;
  readonly filledMs: number;
  /** Earned share: 1 = hard. */
  readonly share: number;
  readonly reachedMs: number | null;
  readonly estimated: boolean;
}

export interface FillerState {
  /** When the last one with typed hours is hard; null without one. */
  readonly typedHardMs: number | null;
  readonly earning: readonly EarningFiller[];
  /** A filling names a sheet that is not there. */
  readonly unknownSheet: boolean;
}

/** Fillings by a sheet that count: all since the last pour began, and all of the last days. */
function countedOf(record: ZoneRecord, nowMs: number) {
  const sinceMs = Math.min(record.film?.fromMs ?? Number.NEGATIVE_INFINITY, nowMs - FOLLOWED_MS);
  return record.fillings.filter(({ atMs }) => atMs >= sinceMs);
}

/** From when on readings are needed to tell whether the filler is hard; infinite without any. */
export function fillerFromMs(record: ZoneRecord, nowMs: number): number {
  const oldestMs = Math.min(...countedOf(record, nowMs).map(({ atMs }) => atMs), Number.POSITIVE_INFINITY);
  return Math.max(oldestMs, nowMs - FOLLOWED_MS);
}

/** The state of the filler; null where nothing was filled. */
export function fillerOf(record: ZoneRecord, line: Timeline, nowMs: number): FillerState | null {
  const counted = countedOf(record, nowMs);
  if (counted.length === 0 && record.fillerHardAtMs === null) return null;
  return {
    typedHardMs: record.fillerHardAtMs,
    earning: counted.flatMap(({ sheet, atMs }) =>
      sheet === null ? [] : [{ sheet, filledMs: atMs, ...earnedBy(hardCurve(sheet), line, atMs) }],
    ),
    unknownSheet: counted.some(({ sheet }) => sheet === null),
  };
}

/** Hours until all filler is hard if the slab stays as cold as now: 0 = hard, Infinity = it earns nothing. */
export function fillerLeftH(filler: FillerState, slabColdC: number | null, nowMs: number): number {
  if (filler.unknownSheet) return Number.POSITIVE_INFINITY;
  const typedH = filler.typedHardMs === null ? 0 : (filler.typedHardMs - nowMs) / HOUR_MS;
  const earnedH = filler.earning.map(({ sheet, share }) => {
    if (share >= 1) return 0;
    return slabColdC === null ? Number.POSITIVE_INFINITY : (1 - share) * hardCurve(sheet).hours(slabColdC);
  });
  return Math.max(0, typedH, ...earnedH);
}
