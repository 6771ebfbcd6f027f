// One member of the outlook walked forward: what the film earns, when its window closes, and how a new coat would fare.
import { cureCurve } from "#core/cure/curve.ts";
import { rateAt, rateTable, type RateTable } from "#core/cure/rate-table.ts";
import type { Milestone, Sheet } from "#core/cure/sheet.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import type { Earned, FilmState } from "#core/zone/film.ts";

const HOUR_MS = 3_600_000;
/** Ten-minute steps in the hottest hour. */
const HOUR_STEPS = 6;

/** When something happens along a member, epoch ms; null if not within the member. */
export type Moment = number | null;

export interface FilmAhead {
  readonly opensMs: Moment;
  readonly closesMs: Moment;
  readonly dewSafeMs: Moment;
  readonly footMs: Moment;
  readonly trafficMs: Moment;
}

/** What a sheet earns an hour at any temperature: read out many times, so it is laid out once for an outlook. */
export interface FilmRates {
  readonly recoat: RateTable;
  readonly until: RateTable;
  /** The curve that `until` is laid out from, hours. */
  readonly untilHours: (slabC: number) => number;
  readonly dewSafe: RateTable;
  readonly foot: RateTable;
  readonly traffic: RateTable;
}

/** What was reached already is not asked for again. */
const NOT_ASKED: RateTable = new Float64Array(0);

export function filmRates(film: FilmState): FilmRates {
  const { sheet, closing } = film;
  const until = cureCurve(sheet, "recoatUntilH");
  const ahead = ({ reachedMs }: Earned, milestone: Milestone) =>
    reachedMs === null ? rateTable(cureCurve(sheet, milestone)) : NOT_ASKED;
  return {
    recoat: ahead(film.recoat, "recoatFromH"),
    until: closing.closesMs !== null || closing.open ? NOT_ASKED : rateTable(until),
    untilHours: until.hours,
    dewSafe: ahead(film.dewSafe, "dewSafeH"),
    foot: ahead(film.foot, "footH"),
    traffic: ahead(film.traffic, "trafficH"),
  };
}

function reached(earned: Earned, column: Float64Array, rates: RateTable, outlook: Outlook, errorK: number): Moment {
  if (earned.reachedMs !== null) return earned.reachedMs;
  const { fromMs, stepMs } = outlook;
  const stepH = stepMs / HOUR_MS;
  const { length } = column;
  // What was earned so far was earned by readings with the same error.
  const nowC = column[0] as number;
  const read = rateAt(rates, nowC);
  let share = earned.share * (read > 0 ? rateAt(rates, nowC + errorK) / read : 1);
  for (let step = 1; step < length; step++) {
    const gain = stepH * rateAt(rates, (column[step] as number) + errorK);
    if (share + gain >= 1) return fromMs + (step - 1 + (1 - share) / gain) * stepMs;
    share += gain;
  }
  return null;
}

function closes(film: FilmState, member: OutlookMember, rates: FilmRates, outlook: Outlook): Moment {
  const { closing, record } = film;
  if (closing.closesMs !== null || closing.open) return closing.closesMs;
  const { fromMs, stepMs } = outlook;
  const { until } = rates;
  const hot = member.slabHotC;
  const { length } = hot;
  const stepH = stepMs / HOUR_MS;
  let spent = closing.spent;
  let hottestC = closing.hottestHourC ?? Number.NEGATIVE_INFINITY;
  let strictMs = Number.isFinite(hottestC)
    ? record.fromMs + rates.untilHours(hottestC) * HOUR_MS
    : Number.POSITIVE_INFINITY;
  let sum = 0;
  for (let step = 1; step < length; step++) {
    const beforeMs = fromMs + (step - 1) * stepMs;
    const hotC = hot[step] as number;
    sum += hotC;
    if (step > HOUR_STEPS) sum -= hot[step - HOUR_STEPS] as number;
    if (step >= HOUR_STEPS && sum / HOUR_STEPS > hottestC) {
      hottestC = sum / HOUR_STEPS;
      strictMs = record.fromMs + HOUR_MS / rateAt(until, hottestC);
    }
    const gain = stepH * rateAt(until, hotC);
    // Neither comes within this step, as in all but the last.
    if (spent + gain < 1 && strictMs > beforeMs + stepMs) {
      spent += gain;
      continue;
    }
    const integratedMs = spent + gain >= 1 ? beforeMs + ((1 - spent) / gain) * stepMs : Number.POSITIVE_INFINITY;
    const closesMs = Math.min(integratedMs, strictMs);
    if (closesMs <= beforeMs + stepMs) return Math.max(closesMs, beforeMs);
    spent += gain;
  }
  return null;
}

/** The film's milestones along one member. `errorK`: how much warmer the coldest spot truly is than it reads. */
export function filmAhead(
  film: FilmState,
  rates: FilmRates,
  member: OutlookMember,
  outlook: Outlook,
  errorK: number,
): FilmAhead {
  const cold = member.slabColdC;
  return {
    opensMs: reached(film.recoat, cold, rates.recoat, outlook, errorK),
    closesMs: closes(film, member, rates, outlook),
    dewSafeMs: reached(film.dewSafe, cold, rates.dewSafe, outlook, errorK),
    footMs: reached(film.foot, cold, rates.foot, outlook, errorK),
    trafficMs: reached(film.traffic, cold, rates.traffic, outlook, errorK),
  };
}

/** How a coat of `sheet` would fare along a member, for a pour that starts at each step. */
export interface PourAhead {
  /** 1 if margin and minimum slab temperature hold through pour and dew-sensitive time. Not to be written to: many share one. */
  readonly holds: Uint8Array;
  /** Step at which the dew-sensitive time of a pour that starts now ends; the member's length if it does not. */
  readonly endStep: number;
  /** Up to there: lowest margin, K, its step, and the coldest slab, °C. */
  readonly lowMarginK: number;
  readonly lowStep: number;
  readonly coldC: number;
}

/** What all members of an outlook are walked with for the pours of one sheet. */
export interface Pours {
  readonly sheet: Sheet;
  readonly dewSafe: RateTable;
  /** Length of the pour. */
  readonly pourSteps: number;
  /** Memory as long as a member, which all of them use in turn: asking for it is dear. */
  readonly gain: Float64Array;
  /** What members in which every start holds, and in which none does, have in common. */
  readonly all: Uint8Array;
  readonly none: Uint8Array;
}

/** `length` is the number of steps of a member. */
export function poursOf(sheet: Sheet, pourSteps: number, steps: number, length: number): Pours {
  return {
    sheet,
    dewSafe: rateTable(cureCurve(sheet, "dewSafeH")),
    pourSteps,
    gain: new Float64Array(length),
    all: new Uint8Array(steps).fill(1),
    none: new Uint8Array(steps),
  };
}

/** Share that counts as all of it: sums are not exact. */
const ALL_EARNED = 1 - 1e-9;
/** A sum of this is above that, in whatever order it is added up. */
const SURELY_EARNED = 1 + 1e-6;

/**
 * The dew-sensitive time runs from the first square metre of a pour until the dew-safe share, earned from the end of the
 * pour by the coldest spot, is 1.
 */
export function pourAhead(pours: Pours, member: OutlookMember, outlook: Outlook): PourAhead {
  const { sheet, dewSafe, pourSteps, gain } = pours;
  const { slabColdC, dewPointC } = member;
  const { length } = slabColdC;
  const minC = sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY;
  const limitK = sheet.limits.dewMarginK;
  const stepH = outlook.stepMs / HOUR_MS;
  let end = pourSteps;
  let earned = 0;
  while (earned < ALL_EARNED && end + 1 < length) {
    end++;
    const won = stepH * rateAt(dewSafe, slabColdC[end] as number);
    gain[end] = won;
    earned += won;
  }
  const ends = earned >= ALL_EARNED;
  const endStep = ends ? end : length;
  const night = Math.min(endStep, length - 1);
  let lowMarginK = Number.POSITIVE_INFINITY;
  let lowStep = 0;
  let coldC = Number.POSITIVE_INFINITY;
  let lastBad = -1;
  for (let step = 0; step <= night; step++) {
    const slabC = slabColdC[step] as number;
    const marginK = slabC - (dewPointC[step] as number);
    if (marginK < lowMarginK) {
      lowMarginK = marginK;
      lowStep = step;
    }
    coldC = Math.min(coldC, slabC);
    if (!(marginK >= limitK && slabC >= minC)) lastBad = step;
  }
  const fares = (holds: Uint8Array): PourAhead => ({ holds, endStep, lowMarginK, lowStep, coldC });
  // A later start earns no more than this one.
  if (!ends) return fares(pours.none);
  if (lastBad < 0 && lastStartHolds(pours, member, outlook, end + 1)) return fares(pours.all);
  return fares(startsThatHold(pours, member, outlook, { end, earned, lastBad }));
}

/** Whether nothing is bad from step `looked` on up to where the dew-sensitive time of the last start has surely ended. */
function lastStartHolds(
  { sheet, dewSafe, pourSteps }: Pours,
  { slabColdC, dewPointC }: OutlookMember,
  { steps, stepMs }: Outlook,
  looked: number,
): boolean {
  const { length } = slabColdC;
  const stepH = stepMs / HOUR_MS;
  let end = steps - 1 + pourSteps;
  let earned = 0;
  while (earned < SURELY_EARNED && end + 1 < length) {
    end++;
    earned += stepH * rateAt(dewSafe, slabColdC[end] as number);
  }
  if (!(earned >= SURELY_EARNED)) return false;
  const minC = sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY;
  const limitK = sheet.limits.dewMarginK;
  for (let step = looked; step <= end; step++) {
    const slabC = slabColdC[step] as number;
    if (!(slabC - (dewPointC[step] as number) >= limitK && slabC >= minC)) return false;
  }
  return true;
}

/** Each start looked at: from what is known of the first one on. */
function startsThatHold(
  { sheet, dewSafe, pourSteps, gain }: Pours,
  { slabColdC, dewPointC }: OutlookMember,
  { steps, stepMs }: Outlook,
  first: { readonly end: number; readonly earned: number; readonly lastBad: number },
): Uint8Array {
  const { length } = slabColdC;
  const minC = sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY;
  const limitK = sheet.limits.dewMarginK;
  const stepH = stepMs / HOUR_MS;
  const holds = new Uint8Array(steps);
  // Starts and their ends only move on, so each step is looked at once: the last one that was bad, and what was looked at.
  let { end, earned, lastBad } = first;
  let looked = end + 1;
  if (lastBad < 0) holds[0] = 1;
  for (let start = 1; start < steps; start++) {
    const finish = start + pourSteps;
    // Within `end`, and so reckoned already.
    if (end >= finish) earned -= gain[finish] as number;
    else {
      end = finish;
      earned = 0;
    }
    while (earned < ALL_EARNED && end + 1 < length) {
      end++;
      // Reckoned as it is reached: a warm night ends long before the member does.
      const won = stepH * rateAt(dewSafe, slabColdC[end] as number);
      gain[end] = won;
      earned += won;
    }
    // A later start earns no more than this one.
    if (!(earned >= ALL_EARNED)) break;
    for (; looked <= end; looked++) {
      const slabC = slabColdC[looked] as number;
      if (!(slabC - (dewPointC[looked] as number) >= limitK && slabC >= minC)) lastBad = looked;
    }
    if (lastBad < start) holds[start] = 1;
  }
  return holds;
}
