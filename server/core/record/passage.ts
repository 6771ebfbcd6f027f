// What a film went through until the next coat: elapsed, earned, the hottest hour, the lowest margin and how long it was low.
import { type Earned } from "#core/zone/film.ts";
import { type Exposure, exposureOf } from "#core/zone/exposure.ts";
import type { ZoneState } from "#core/zone/state.ts";

const HOUR_MS = 3_600_000;

export interface Passage {
  readonly coat: number;
  readonly sheet: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly untilMs: number;
  readonly untilNextCoat: boolean;
  /** From the last square metre to `untilMs`, hours. */
  readonly elapsedH: number;
  readonly recoat: Earned;
  readonly dewSafe: Earned;
  readonly foot: Earned;
  readonly traffic: Earned;
  readonly noMaximum: boolean;
  readonly closedMs: number | null;
  readonly hottestHourC: number | null;
  readonly marginLimitK: number;
  /** Lowest margin read from the pour until the film was past dew, K. */
  readonly lowestMarginK: number | null;
  readonly lowestMarginMs: number | null;
  readonly exposure: Exposure;
}

/**
 * The passage of the film of `state`, whose moment is its end. Made by the code that judges: nothing here is reckoned a
 * second way. No finding clears anything: the record says what was read. null without a film or its sheet.
 */
export function passageOf(state: ZoneState, untilNextCoat: boolean): Passage | null {
  const { film, line, moment } = state;
  if (film === null) return null;
  const { fromMs, toMs } = film.record;
  const untilMs = moment.nowMs;
  const sensitiveMs = Math.min(film.dewSafe.reachedMs ?? untilMs, untilMs);
  let lowestMarginK: number | null = null;
  let lowestMarginMs: number | null = null;
  for (let index = 0; index < line.readings; index++) {
    const atMs = line.atMs[index] as number;
    const marginK = line.marginK[index] as number;
    if (atMs < fromMs || atMs > sensitiveMs || Number.isNaN(marginK)) continue;
    if (lowestMarginK !== null && marginK >= lowestMarginK) continue;
    lowestMarginK = marginK;
    lowestMarginMs = atMs;
  }
  return {
    coat: film.record.coat,
    sheet: film.sheet.id,
    fromMs,
    toMs,
    untilMs,
    untilNextCoat,
    elapsedH: Math.max(0, (untilMs - toMs) / HOUR_MS),
    recoat: film.recoat,
    dewSafe: film.dewSafe,
    foot: film.foot,
    traffic: film.traffic,
    noMaximum: film.closing.open,
    closedMs: film.closing.closesMs,
    hottestHourC: film.closing.hottestHourC,
    marginLimitK: film.sheet.limits.dewMarginK,
    lowestMarginK,
    lowestMarginMs,
    exposure: exposureOf(line, fromMs, sensitiveMs, film.sheet.limits.dewMarginK, Number.NEGATIVE_INFINITY),
  };
}
