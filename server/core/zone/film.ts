// The film on the floor: what it has earned towards each milestone, and when its window closes.
import { type CureCurve, cureCurve } from "#core/cure/curve.ts";
import type { Milestone, Sheet } from "#core/cure/sheet.ts";
import type { FilmRecord } from "#core/zone/record.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Timeline } from "#core/zone/timeline.ts";

const HOUR_MS = 3_600_000;

/** Progress of one minimum: earned share (1 = reached) and when it was reached. */
export interface Earned {
  readonly share: number;
  readonly reachedMs: number | null;
  readonly estimated: boolean;
}

/** The recoat maximum. `closesMs` null = it has not closed; `open` = it never does. */
export interface Closing {
  readonly open: boolean;
  readonly closesMs: number | null;
  /** Hottest 60-minute mean of the hottest probe so far; null before any reading. */
  readonly hottestHourC: number | null;
  /** Integrated share of the maximum that is spent. */
  readonly spent: number;
  /** Last hottest value, at which a gap runs. */
  readonly lastHotC: number | null;
}

export interface FilmState {
  readonly record: FilmRecord;
  readonly sheet: Sheet;
  readonly recoat: Earned;
  readonly dewSafe: Earned;
  readonly foot: Earned;
  readonly traffic: Earned;
  readonly closing: Closing;
}

function rate(curve: CureCurve, slabC: number): number {
  return 1 / curve.hours(slabC);
}

/** Integrates `dt / hours(coldest slab)` from the end of the pour over readings; a gap earns nothing. */
export function earnedBy(curve: CureCurve, line: Timeline, fromMs: number): Earned {
  const { atMs, slabColdC, readings } = line;
  let share = 0;
  let reachedMs: number | null = null;
  let estimated = false;
  let lastMs = Number.NaN;
  let lastC = Number.NaN;
  // Of the last reading, once it is needed: what lies before the film earns nothing and costs nothing.
  let lastRate: number | null = null;
  for (let index = 0; index < readings; index++) {
    const slabC = slabColdC[index] as number;
    if (Number.isNaN(slabC)) continue;
    const takenMs = atMs[index] as number;
    let nowRate: number | null = null;
    if (takenMs > fromMs && takenMs - lastMs <= HOLD_MS) {
      lastRate ??= rate(curve, lastC);
      nowRate = slabC === lastC ? lastRate : rate(curve, slabC);
      const startMs = Math.max(lastMs, fromMs);
      const startRate = lastRate + ((nowRate - lastRate) * (startMs - lastMs)) / (takenMs - lastMs);
      const gain = ((startRate + nowRate) / 2) * ((takenMs - startMs) / HOUR_MS);
      if (reachedMs === null && share + gain >= 1) reachedMs = startMs + ((1 - share) / gain) * (takenMs - startMs);
      share += gain;
      if (gain > 0 && curve.estimated(slabC)) estimated = true;
    }
    lastMs = takenMs;
    lastC = slabC;
    lastRate = nowRate;
  }
  return { share, reachedMs, estimated };
}

interface Spending {
  spent: number;
  closesMs: number | null;
  hottestHourC: number;
  lastHotC: number;
}

/** Runs the maximum from the start of the pour: strict by the hottest hour, and integrated; the earlier governs. */
function closingOf(sheet: Sheet, record: FilmRecord, line: Timeline, nowMs: number): Closing {
  const open = sheet.window === "open" || (record.fullBroadcast && sheet.broadcastWaiver);
  const curve = cureCurve(sheet, "recoatUntilH");
  const { atMs, slabHotC, readings } = line;
  const state: Spending = { spent: 0, closesMs: null, hottestHourC: Number.NEGATIVE_INFINITY, lastHotC: Number.NaN };
  // Hot hours as a running integral from the pour on: times and integrals of the points passed.
  const passedMs: number[] = [record.fromMs];
  const passedKMs: number[] = [0];
  let tail = 0;
  let lastMs = record.fromMs;
  let lastC = Number.NaN;
  let lastRate = 0;
  const advance = (toMs: number, hotC: number) => {
    const stretchMs = toMs - lastMs;
    if (stretchMs <= 0) return;
    const gap = stretchMs > HOLD_MS;
    const startC = Number.isNaN(state.lastHotC) ? hotC : state.lastHotC;
    const endC = gap ? startC : hotC;
    const startRate = startC === lastC ? lastRate : rate(curve, startC);
    const endRate = endC === startC ? startRate : rate(curve, endC);
    [lastC, lastRate] = [endC, endRate];
    const share = ((startRate + endRate) / 2) * (stretchMs / HOUR_MS);
    if (!open && state.closesMs === null && state.spent + share >= 1)
      state.closesMs = lastMs + ((1 - state.spent) / share) * stretchMs;
    state.spent += share;
    passedMs.push(toMs);
    passedKMs.push((passedKMs.at(-1) as number) + ((startC + endC) / 2) * stretchMs);
    const hourAgoMs = Math.max(toMs - HOUR_MS, record.fromMs);
    while ((passedMs[tail + 1] as number) <= hourAgoMs) tail++;
    const spanMs = (passedMs[tail + 1] as number) - (passedMs[tail] as number);
    const into = spanMs > 0 ? (hourAgoMs - (passedMs[tail] as number)) / spanMs : 0;
    const before = (passedKMs[tail] as number) + into * ((passedKMs[tail + 1] as number) - (passedKMs[tail] as number));
    const meanC = ((passedKMs.at(-1) as number) - before) / (toMs - hourAgoMs);
    const wholeHour = toMs - record.fromMs >= HOUR_MS;
    if (wholeHour || state.hottestHourC === Number.NEGATIVE_INFINITY)
      state.hottestHourC = wholeHour ? Math.max(state.hottestHourC, meanC) : meanC;
    if (!open && state.closesMs === null) {
      const strictMs = record.fromMs + curve.hours(state.hottestHourC) * HOUR_MS;
      // Found to have closed earlier than the last point: it closes when that became known.
      if (strictMs <= toMs) state.closesMs = strictMs < lastMs ? toMs : strictMs;
    }
    lastMs = toMs;
  };
  for (let index = 0; index < readings; index++) {
    const hotC = slabHotC[index] as number;
    if (Number.isNaN(hotC)) continue;
    advance(atMs[index] as number, hotC);
    state.lastHotC = hotC;
  }
  if (!Number.isNaN(state.lastHotC)) advance(nowMs, state.lastHotC);
  return {
    open,
    closesMs: state.closesMs,
    hottestHourC: Number.isFinite(state.hottestHourC) ? state.hottestHourC : null,
    spent: state.spent,
    lastHotC: Number.isNaN(state.lastHotC) ? null : state.lastHotC,
  };
}

function earnedOf(sheet: Sheet, milestone: Milestone, line: Timeline, fromMs: number): Earned {
  return earnedBy(cureCurve(sheet, milestone), line, fromMs);
}

/** The state of the film at `nowMs`; null without a film or without its sheet. */
export function filmOf(record: FilmRecord | null, line: Timeline, nowMs: number): FilmState | null {
  const sheet = record?.sheet ?? null;
  if (record === null || sheet === null) return null;
  return {
    record,
    sheet,
    recoat: earnedOf(sheet, "recoatFromH", line, record.toMs),
    dewSafe: earnedOf(sheet, "dewSafeH", line, record.toMs),
    foot: earnedOf(sheet, "footH", line, record.toMs),
    traffic: earnedOf(sheet, "trafficH", line, record.toMs),
    closing: closingOf(sheet, record, line, nowMs),
  };
}
