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
  const stepH = outlook.stepMs / HOUR_MS;
  // What was earned so far was earned by readings with the same error.
  const nowC = column[0] as number;
  const read = rateAt(rates, nowC);
  let share = earned.share * (read > 0 ? rateAt(rates, nowC + errorK) / read : 1);
  for (let step = 1; step < column.length; step++) {
    const gain = stepH * rateAt(rates, (column[step] as number) + errorK);
    if (share + gain >= 1) return outlook.fromMs + (step - 1 + (1 - share) / gain) * outlook.stepMs;
    share += gain;
  }
  return null;
}

function closes(film: FilmState, member: OutlookMember, rates: FilmRates, outlook: Outlook): Moment {
  const { closing, record } = film;
  if (closing.closesMs !== null || closing.open) return closing.closesMs;
  const hot = member.slabHotC;
  const stepH = outlook.stepMs / HOUR_MS;
  let spent = closing.spent;
  let hottestC = closing.hottestHourC ?? Number.NEGATIVE_INFINITY;
  let strictMs = Number.isFinite(hottestC)
    ? record.fromMs + rates.untilHours(hottestC) * HOUR_MS
    : Number.POSITIVE_INFINITY;
  let sum = 0;
  for (let step = 1; step < hot.length; step++) {
    const beforeMs = outlook.fromMs + (step - 1) * outlook.stepMs;
    sum += hot[step] as number;
    if (step > HOUR_STEPS) sum -= hot[step - HOUR_STEPS] as number;
    if (step >= HOUR_STEPS && sum / HOUR_STEPS > hottestC) {
      hottestC = sum / HOUR_STEPS;
      strictMs = record.fromMs + HOUR_MS / rateAt(rates.until, hottestC);
    }
    const gain = stepH * rateAt(rates.until, hot[step] as number);
    const integratedMs =
      spent + gain >= 1 ? beforeMs + ((1 - spent) / gain) * outlook.stepMs : Number.POSITIVE_INFINITY;
    const closesMs = Math.min(integratedMs, strictMs);
    if (closesMs <= beforeMs + outlook.stepMs) return Math.max(closesMs, beforeMs);
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
  /** 1 if margin and minimum slab temperature hold through pour and dew-sensitive time. */
  readonly holds: Uint8Array;
  /** Step at which the dew-sensitive time of a pour that starts now ends; the member's length if it does not. */
  readonly endStep: number;
}

/**
 * `pourSteps` is the length of the pour. The dew-sensitive time runs from its first square metre until the dew-safe
 * share, earned from the end of the pour by the coldest spot, is 1. `gain` is memory as long as a member, which all of
 * them use in turn: asking for it is dear.
 */
export function pourAhead(
  sheet: Sheet,
  dewSafe: RateTable,
  member: OutlookMember,
  outlook: Outlook,
  pourSteps: number,
  gain: Float64Array = new Float64Array(member.slabColdC.length),
): PourAhead {
  const { slabColdC, dewPointC } = member;
  const { steps } = outlook;
  const length = slabColdC.length;
  const minC = sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY;
  const limitK = sheet.limits.dewMarginK;
  const stepH = outlook.stepMs / HOUR_MS;
  const holds = new Uint8Array(steps);
  let endStep = length;
  let end = pourSteps;
  let earned = 0;
  // Starts and their ends only move on, so each step is looked at once: the last one that was bad, and what was looked at.
  let lastBad = -1;
  let looked = 0;
  for (let start = 0; start < steps; start++) {
    const finish = start + pourSteps;
    // Within `end`, and so reckoned already.
    if (start > 0 && end >= finish) earned -= gain[finish] ?? 0;
    if (end < finish) {
      end = finish;
      earned = 0;
    }
    while (earned < 1 - 1e-9 && end + 1 < length) {
      end++;
      // Reckoned as it is reached: a warm night ends long before the member does.
      const won = stepH * rateAt(dewSafe, slabColdC[end] as number);
      gain[end] = won;
      earned += won;
    }
    // A later start earns no more than this one.
    if (!(earned >= 1 - 1e-9)) break;
    if (start === 0) endStep = end;
    for (; looked <= end; looked++) {
      const slabC = slabColdC[looked] as number;
      if (!(slabC - (dewPointC[looked] as number) >= limitK && slabC >= minC)) lastBad = looked;
    }
    if (lastBad < start) holds[start] = 1;
  }
  return { holds, endStep };
}
