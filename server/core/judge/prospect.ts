// What lies ahead of a zone before it is judged: the film along each member, the night of a coat poured now, the finish.
import { cureCurve } from "#core/cure/curve.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import { type FilmAhead, filmAhead, filmRates, type PourAhead, pourAhead, poursOf } from "#core/judge/member-walk.ts";
import { type Night, nightOf } from "#core/judge/night.ts";
import { emptyReach, measure, type Reach } from "#core/judge/reach.ts";
import { luckOf, readingErrorOf } from "#core/judge/reading-error.ts";
import { ABRASION_HOLDS_H } from "#core/judge/rules/abrasion-stale.ts";
import { abradedMsOf } from "#core/judge/surface-work.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { weightedQuantile } from "#core/outlook/quantile.ts";
import type { FilmState } from "#core/zone/film.ts";
import type { ZoneState } from "#core/zone/state.ts";

const HOUR_MS = 3_600_000;

export interface Prospect {
  readonly films: readonly FilmAhead[];
  readonly pours: readonly PourAhead[];
  /** How far each member goes; empty without an outlook. */
  readonly reach: Reach;
  readonly night: Night | null;
  /** Hours from now to the end of the dew-sensitive time of a coat poured now, at present slab temperature. */
  readonly nightHours: number | null;
  readonly pourH: number;
  readonly finishInH: number;
  /** When the film's own window closes; null if it does not within the outlook. */
  readonly closesMs: number | null;
  /** The same with the credit of abrading. */
  readonly effectiveClosesMs: number | null;
  readonly fitsM2: number;
}

/** The sheet of the coat to come (or going down now). */
export function nextSheetOf(state: ZoneState): Sheet | null {
  const { record } = state;
  return record.nextCoat === null ? null : (record.system[record.nextCoat] ?? null);
}

/** Hours of pouring that are left: the whole zone, or what is not down yet. */
function pourHoursLeft(state: ZoneState): number {
  const wholeH = state.zone.areaM2 / state.zone.pourM2PerH;
  const since = state.record.pouring;
  return since === null ? wholeH : Math.max(0, wholeH - (state.moment.nowMs - since.atMs) / HOUR_MS);
}

/** Closing at present conditions, for a zone without an outlook: strict and integrated, held as they are. */
function closesAsNow(film: FilmState, nowMs: number): number | null {
  const { closing, record, sheet } = film;
  if (closing.closesMs !== null) return closing.closesMs;
  if (closing.open || closing.lastHotC === null) return null;
  const curve = cureCurve(sheet, "recoatUntilH");
  const strictMs =
    record.fromMs + curve.hours(Math.max(closing.hottestHourC ?? closing.lastHotC, closing.lastHotC)) * HOUR_MS;
  const integratedMs = nowMs + (1 - closing.spent) * curve.hours(closing.lastHotC) * HOUR_MS;
  return Math.max(nowMs, Math.min(strictMs, integratedMs));
}

/** The early side of the foreseen closings: one in ten members closes sooner. */
function closesOf(state: ZoneState, outlook: Outlook | null, films: readonly FilmAhead[]): number | null {
  if (state.film === null) return null;
  if (outlook === null || state.film.closing.closesMs !== null) return closesAsNow(state.film, state.moment.nowMs);
  const times = films.map((film) => film.closesMs ?? Number.POSITIVE_INFINITY);
  const early = weightedQuantile(
    times,
    outlook.members.map((member) => member.weight),
    0.1,
  );
  return Number.isFinite(early) ? early : null;
}

function nightHoursAsNow(sheet: Sheet | null, slabC: number | null, pourH: number): number | null {
  if (sheet === null || slabC === null) return null;
  const hours = cureCurve(sheet, "dewSafeH").hours(slabC);
  return Number.isFinite(hours) ? pourH + hours : null;
}

/** What lies ahead of each member. */
interface Walked {
  readonly films: readonly FilmAhead[];
  readonly pours: readonly PourAhead[];
  readonly reach: Reach;
}

/** All of a member before the next one: it lies at hand then. */
function walked(state: ZoneState, outlook: Outlook, sheet: Sheet | null, pourH: number, slabErrorK: number): Walked {
  const { film } = state;
  const { members, steps, stepMs } = outlook;
  const rates = film === null ? null : filmRates(film);
  const pourSteps = Math.max(1, Math.ceil((pourH * HOUR_MS) / stepMs));
  const length = members[0]?.slabColdC.length ?? 0;
  const coats = sheet === null ? null : poursOf(sheet, pourSteps, steps, length);
  const films: FilmAhead[] = [];
  const pours: PourAhead[] = [];
  const reach = emptyReach(members.length);
  for (let index = 0; index < members.length; index++) {
    const member = members[index] as OutlookMember;
    if (film !== null && rates !== null)
      films.push(filmAhead(film, rates, member, outlook, slabErrorK * luckOf(index, 1)));
    if (coats !== null) pours.push(pourAhead(coats, member, outlook));
    measure(reach, index, member, outlook);
  }
  return { films, pours, reach };
}

const NOT_WALKED: Walked = { films: [], pours: [], reach: emptyReach(0) };

/** Walks every member once. */
export function prospectOf(state: ZoneState, outlook: Outlook | null): Prospect {
  const { film, record, conditions } = state;
  const { nowMs } = state.moment;
  const sheet = nextSheetOf(state);
  const pourH = pourHoursLeft(state);
  const error = readingErrorOf(state);
  const { films, pours, reach } = outlook === null ? NOT_WALKED : walked(state, outlook, sheet, pourH, error.slabK);
  const closesMs = closesOf(state, outlook, films);
  const abradedMs = abradedMsOf(record, film);
  const creditMs = film === null || abradedMs === null ? null : abradedMs + ABRASION_HOLDS_H * HOUR_MS;
  // Credit reopens a closed window and outlasts an open one; it never shortens it.
  const effectiveClosesMs = closesMs === null || creditMs === null ? closesMs : Math.max(closesMs, creditMs);
  const leftH =
    effectiveClosesMs === null ? Number.POSITIVE_INFINITY : Math.max(0, (effectiveClosesMs - nowMs) / HOUR_MS);
  const doneM2 = record.pouring === null ? 0 : state.zone.areaM2 - pourH * state.zone.pourM2PerH;
  return {
    films,
    pours,
    reach,
    night:
      outlook === null || sheet === null
        ? null
        : nightOf(outlook, pours, sheet.limits.dewMarginK, sheet.limits.slabC[0], error),
    nightHours: nightHoursAsNow(sheet, conditions.slabColdC, pourH),
    pourH,
    finishInH: pourH,
    closesMs,
    effectiveClosesMs,
    fitsM2: Math.min(state.zone.areaM2 - doneM2, leftH * state.zone.pourM2PerH),
  };
}
