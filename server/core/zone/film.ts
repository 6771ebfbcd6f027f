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

/** Places for what was already reckoned; a power of two. A floor takes a few hundred different temperatures in a day. */
const KNOWN = 512;

/** Share earned an hour at a surface temperature, 1/h: what was asked lately is not reckoned again, and is the same number. */
class Rates {
  private readonly atC = new Float64Array(KNOWN).fill(Number.NaN);
  private readonly perHour = new Float64Array(KNOWN);
  constructor(private readonly curve: CureCurve) {}

  at(slabC: number): number {
    // By steps of a hundredth, which most probes count in.
    const place = (slabC * 100) & (KNOWN - 1);
    if (this.atC[place] !== slabC) {
      this.atC[place] = slabC;
      this.perHour[place] = 1 / this.curve.hours(slabC);
    }
    return this.perHour[place] as number;
  }
}

/** The last point not after a time at which the column was known; 0 where there is none. */
function lastKnown(line: Timeline, column: Float64Array, atMs: number): number {
  let low = 0;
  let high = line.readings;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((line.atMs[middle] as number) <= atMs) low = middle + 1;
    else high = middle;
  }
  let last = low - 1;
  while (last > 0 && Number.isNaN(column[last])) last--;
  return Math.max(0, last);
}

/** Integrates `dt / hours(coldest slab)` from the end of the pour over readings; a gap earns nothing. */
export function earnedBy(curve: CureCurve, line: Timeline, fromMs: number): Earned {
  const { atMs, slabColdC, readings } = line;
  const rates = new Rates(curve);
  let share = 0;
  let reachedMs: number | null = null;
  let estimated = false;
  let lastMs = Number.NaN;
  let lastC = Number.NaN;
  for (let index = lastKnown(line, slabColdC, fromMs); index < readings; index++) {
    const slabC = slabColdC[index] as number;
    if (Number.isNaN(slabC)) continue;
    const takenMs = atMs[index] as number;
    if (takenMs > fromMs && takenMs - lastMs <= HOLD_MS) {
      const lastRate = rates.at(lastC);
      const nowRate = rates.at(slabC);
      const startMs = Math.max(lastMs, fromMs);
      const startRate = lastRate + ((nowRate - lastRate) * (startMs - lastMs)) / (takenMs - lastMs);
      const gain = ((startRate + nowRate) / 2) * ((takenMs - startMs) / HOUR_MS);
      if (reachedMs === null && share + gain >= 1) reachedMs = startMs + ((1 - share) / gain) * (takenMs - startMs);
      share += gain;
      if (!estimated && gain > 0 && curve.estimated(slabC)) estimated = true;
    }
    lastMs = takenMs;
    lastC = slabC;
  }
  return { share, reachedMs, estimated };
}

/** Means of the last hour of a course that is straight between its points, °C: a running integral over them. */
class HourMeans {
  private readonly atMs: Float64Array;
  private readonly kMs: Float64Array;
  private last = 0;
  private tail = 0;
  constructor(
    private readonly fromMs: number,
    mostPoints: number,
  ) {
    this.atMs = new Float64Array(mostPoints + 1);
    this.kMs = new Float64Array(mostPoints + 1);
    this.atMs[0] = fromMs;
  }

  /** Goes on from `startC` to `endC`; gives the mean of the hour before `toMs`, or of what there is. */
  to(toMs: number, startC: number, endC: number): number {
    const { atMs, kMs, fromMs } = this;
    const whole = (kMs[this.last] as number) + ((startC + endC) / 2) * (toMs - (atMs[this.last] as number));
    this.last++;
    atMs[this.last] = toMs;
    kMs[this.last] = whole;
    const hourAgoMs = Math.max(toMs - HOUR_MS, fromMs);
    while ((atMs[this.tail + 1] as number) <= hourAgoMs) this.tail++;
    const [lowMs, highMs] = [atMs[this.tail] as number, atMs[this.tail + 1] as number];
    const into = highMs > lowMs ? (hourAgoMs - lowMs) / (highMs - lowMs) : 0;
    const lowKMs = kMs[this.tail] as number;
    const before = lowKMs + into * ((kMs[this.tail + 1] as number) - lowKMs);
    return (whole - before) / (toMs - hourAgoMs);
  }
}

/** Runs the maximum from the start of the pour: strict by the hottest hour, and integrated; the earlier governs. */
function closingOf(sheet: Sheet, record: FilmRecord, line: Timeline, nowMs: number): Closing {
  const open = sheet.window === "open" || (record.fullBroadcast && sheet.broadcastWaiver);
  const curve = cureCurve(sheet, "recoatUntilH");
  const rates = new Rates(curve);
  const { fromMs } = record;
  const { atMs, slabHotC, readings } = line;
  const begin = lastKnown(line, slabHotC, fromMs);
  const means = new HourMeans(fromMs, readings + 1 - begin);
  let spent = 0;
  let closesMs: number | null = null;
  let hottestHourC = Number.NEGATIVE_INFINITY;
  let strictMs = Number.POSITIVE_INFINITY;
  let lastHotC = Number.NaN;
  let lastMs = fromMs;
  // After the readings the last one is held to now.
  for (let index = begin; index <= readings; index++) {
    const hotC = index < readings ? (slabHotC[index] as number) : lastHotC;
    if (Number.isNaN(hotC)) continue;
    const toMs = index < readings ? (atMs[index] as number) : nowMs;
    const stretchMs = toMs - lastMs;
    const startC = Number.isNaN(lastHotC) ? hotC : lastHotC;
    lastHotC = hotC;
    if (stretchMs <= 0) continue;
    const endC = stretchMs > HOLD_MS ? startC : hotC;
    const share = ((rates.at(startC) + rates.at(endC)) / 2) * (stretchMs / HOUR_MS);
    if (!open && closesMs === null && spent + share >= 1) closesMs = lastMs + ((1 - spent) / share) * stretchMs;
    spent += share;
    const meanC = means.to(toMs, startC, endC);
    const wholeHour = toMs - fromMs >= HOUR_MS;
    if (hottestHourC === Number.NEGATIVE_INFINITY || (wholeHour && meanC > hottestHourC)) {
      hottestHourC = meanC;
      strictMs = fromMs + curve.hours(hottestHourC) * HOUR_MS;
    }
    // Found to have closed earlier than the last point: it closes when that became known.
    if (!open && closesMs === null && strictMs <= toMs) closesMs = strictMs < lastMs ? toMs : strictMs;
    lastMs = toMs;
  }
  return {
    open,
    closesMs,
    hottestHourC: Number.isFinite(hottestHourC) ? hottestHourC : null,
    spent,
    lastHotC: Number.isNaN(lastHotC) ? null : lastHotC,
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
