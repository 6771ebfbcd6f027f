// One member of the outlook walked forward: what the film earns, when its window closes, and how a new coat would fare.
import { type CureCurve, cureCurve } from "#core/cure/curve.ts";
import type { Sheet } from "#core/cure/sheet.ts";
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

/** Hours of a curve along a column, as gain per step. */
function gains(column: Float64Array, curve: CureCurve, stepMs: number): Float64Array {
  const out = new Float64Array(column.length);
  for (let step = 0; step < column.length; step++) out[step] = stepMs / HOUR_MS / curve.hours(column[step] as number);
  return out;
}

function reached(
  earned: Earned,
  column: Float64Array,
  sheet: Sheet,
  milestone: "recoatFromH" | "dewSafeH" | "footH" | "trafficH",
  outlook: Outlook,
): Moment {
  if (earned.reachedMs !== null) return earned.reachedMs;
  const curve = cureCurve(sheet, milestone);
  let share = earned.share;
  for (let step = 1; step < column.length; step++) {
    const gain = outlook.stepMs / HOUR_MS / curve.hours(column[step] as number);
    if (share + gain >= 1) return outlook.fromMs + (step - 1 + (1 - share) / gain) * outlook.stepMs;
    share += gain;
  }
  return null;
}

function closes(film: FilmState, member: OutlookMember, outlook: Outlook): Moment {
  const { closing, record, sheet } = film;
  if (closing.closesMs !== null || closing.open) return closing.closesMs;
  const curve = cureCurve(sheet, "recoatUntilH");
  const hot = member.slabHotC;
  let spent = closing.spent;
  let hottestC = closing.hottestHourC ?? Number.NEGATIVE_INFINITY;
  let sum = 0;
  for (let step = 1; step < hot.length; step++) {
    const beforeMs = outlook.fromMs + (step - 1) * outlook.stepMs;
    sum += hot[step] as number;
    if (step > HOUR_STEPS) sum -= hot[step - HOUR_STEPS] as number;
    if (step >= HOUR_STEPS) hottestC = Math.max(hottestC, sum / HOUR_STEPS);
    const gain = outlook.stepMs / HOUR_MS / curve.hours(hot[step] as number);
    const integratedMs =
      spent + gain >= 1 ? beforeMs + ((1 - spent) / gain) * outlook.stepMs : Number.POSITIVE_INFINITY;
    const strictMs = Number.isFinite(hottestC)
      ? record.fromMs + curve.hours(hottestC) * HOUR_MS
      : Number.POSITIVE_INFINITY;
    const closesMs = Math.min(integratedMs, strictMs);
    if (closesMs <= beforeMs + outlook.stepMs) return Math.max(closesMs, beforeMs);
    spent += gain;
  }
  return null;
}

/** The film's milestones along one member. */
export function filmAhead(film: FilmState, member: OutlookMember, outlook: Outlook): FilmAhead {
  const { sheet } = film;
  const cold = member.slabColdC;
  return {
    opensMs: reached(film.recoat, cold, sheet, "recoatFromH", outlook),
    closesMs: closes(film, member, outlook),
    dewSafeMs: reached(film.dewSafe, cold, sheet, "dewSafeH", outlook),
    footMs: reached(film.foot, cold, sheet, "footH", outlook),
    trafficMs: reached(film.traffic, cold, sheet, "trafficH", outlook),
  };
}

/** How a coat of `sheet` would fare along a member, for a pour that starts at each step. */
export interface PourAhead {
  /** 1 if margin and minimum slab temperature hold through pour and dew-sensitive time. */
  readonly holds: Uint8Array;
  /** Step at which the dew-sensitive time ends; the member's length if it does not. */
  readonly endStep: Int32Array;
}

/**
 * `pourSteps` is the length of the pour. The dew-sensitive time runs from its first square metre until the dew-safe
 * share, earned from the end of the pour by the coldest spot, is 1.
 */
export function pourAhead(sheet: Sheet, member: OutlookMember, outlook: Outlook, pourSteps: number): PourAhead {
  const { slabColdC, dewPointC } = member;
  const length = slabColdC.length;
  const minC = sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY;
  const gain = gains(slabColdC, cureCurve(sheet, "dewSafeH"), outlook.stepMs);
  const holds = new Uint8Array(outlook.steps);
  const endStep = new Int32Array(outlook.steps);
  const nextBad = new Int32Array(length + 1);
  nextBad[length] = length;
  for (let step = length - 1; step >= 0; step--) {
    const slabC = slabColdC[step] as number;
    const fits = slabC - (dewPointC[step] as number) >= sheet.limits.dewMarginK && slabC >= minC;
    nextBad[step] = fits ? (nextBad[step + 1] as number) : step;
  }
  let end = pourSteps;
  let earned = 0;
  for (let start = 0; start < outlook.steps; start++) {
    const finish = start + pourSteps;
    if (start > 0 && end >= finish) earned -= gain[finish] ?? 0;
    if (end < finish) {
      end = finish;
      earned = 0;
    }
    while (earned < 1 - 1e-9 && end + 1 < length) {
      end++;
      earned += gain[end] as number;
    }
    const done = earned >= 1 - 1e-9;
    endStep[start] = done ? end : length;
    holds[start] = done && (nextBad[start] as number) > end ? 1 : 0;
  }
  return { holds, endStep };
}
