// What the night brought, and in which order to work now. Pure.
import type { AlarmBody } from "#contract/alarm.ts";
import type { BoardBody, BoardZoneBody, PastCallBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { WorkWhy } from "../../text/en-tonight.ts";

/** What a zone asks of people and when: the list of when to come back, as far as it is needed here. */
export interface Errand {
  readonly zone: string;
  /** There is work: now, or at `atMs`. */
  readonly works: boolean;
  /** null = it waits already. */
  readonly atMs: number | null;
  readonly startByMs: number | null;
  readonly closesMs: number | null;
}

export interface Work {
  readonly item: BoardZoneBody;
  readonly why: WorkWhy;
  /** Of `closing`: the last moment to begin, or else the closing; of `later`: when it opens. */
  readonly atMs: number | null;
}

export interface Change {
  readonly item: BoardZoneBody;
  readonly atMs: number;
  readonly from: PastCallBody["call"];
  readonly to: PastCallBody["call"];
  readonly limiting: PastCallBody["limiting"];
  /** Nobody was shown it then. */
  readonly hindsight: boolean;
}

export interface ZoneNight {
  readonly item: BoardZoneBody;
  readonly dewMin: number;
  /** Above the dew point and below the limit of the coat. */
  readonly nearMin: number;
  /** The call waited for cold. */
  readonly coldMin: number;
  readonly gapMin: number;
}

export interface Morning {
  /** From here on the board knows calls and margins, where that is later than the evening; null where it knows all. */
  readonly knownFromMs: number | null;
  /** Oldest first. */
  readonly changes: readonly Change[];
  /** Only zones of which there is something to tell. */
  readonly nights: readonly ZoneNight[];
  /** Raised since the evening, newest first; null = not known. */
  readonly rang: readonly AlarmBody[] | null;
  /** What people wrote down since the evening, oldest first; null = not known. */
  readonly written: readonly EntryBody[] | null;
  /** In the order in which to work. */
  readonly work: readonly Work[];
}

const HOUR_MS = 3_600_000;
/** A strip that begins this little after the evening leaves nothing out. */
const STEP_MS = 900_000;
const COLD: readonly string[] = ["slab-cold", "air-cold", "night-cold", "frost"];

function changesOf(item: BoardZoneBody, sinceMs: number, nowMs: number): Change[] {
  return item.past.flatMap((stretch, index) => {
    const before = item.past[index - 1];
    const atMs = Date.parse(stretch.from);
    if (before === undefined || before.call === stretch.call || atMs < sinceMs || atMs > nowMs) return [];
    const { call: to, limiting, hindsight } = stretch;
    return [{ item, atMs, from: before.call, to, limiting, hindsight }];
  });
}

function nightOf(item: BoardZoneBody, sinceMs: number, nowMs: number): ZoneNight {
  const { pastMargin, marginLimitK } = item;
  const stepMin = pastMargin.stepS / 60;
  let dewMin = 0;
  let nearMin = 0;
  let gapMin = 0;
  pastMargin.marginK.forEach((marginK, step) => {
    const atMs = Date.parse(pastMargin.from) + step * pastMargin.stepS * 1000;
    if (atMs < sinceMs || atMs > nowMs) return;
    if (marginK === null) gapMin += stepMin;
    else if (!(marginK > 0)) dewMin += stepMin;
    else if (marginLimitK !== null && marginK < marginLimitK) nearMin += stepMin;
  });
  const coldMs = item.past
    .filter(({ limiting }) => limiting !== null && COLD.includes(limiting))
    .reduce((sum, { from, to }) => {
      const endMs = Math.min(nowMs, to === null ? nowMs : Date.parse(to));
      return sum + Math.max(0, endMs - Math.max(sinceMs, Date.parse(from)));
    }, 0);
  const whole = (minutes: number) => Math.round(minutes);
  return {
    ...{ item, dewMin: whole(dewMin), nearMin: whole(nearMin), coldMin: whole(coldMs / 60_000), gapMin: whole(gapMin) },
  };
}

const ORDER: Readonly<Record<WorkWhy, number>> = { closing: 0, now: 1, later: 2, rest: 3 };

/** Closing windows first, by the last moment to begin; then what waits already, what opens later, and the rest. */
export function workOrder(zones: readonly BoardZoneBody[], errands: readonly Errand[], nowMs: number): Work[] {
  const work = errands.flatMap((errand): Work[] => {
    const item = zones.find(({ zone }) => zone.id === errand.zone);
    if (item === undefined) return [];
    if (!errand.works) return [{ item, why: "rest", atMs: null }];
    const ready = errand.atMs === null || errand.atMs <= nowMs + HOUR_MS;
    // What only opens later cannot be begun first, however soon it closes.
    if (ready && errand.closesMs !== null) return [{ item, why: "closing", atMs: errand.startByMs ?? errand.closesMs }];
    return [ready ? { item, why: "now", atMs: null } : { item, why: "later", atMs: errand.atMs }];
  });
  const key = ({ atMs }: Work) => atMs ?? Number.POSITIVE_INFINITY;
  // Equal ones stay in walking order.
  return work.sort((a, b) => ORDER[a.why] - ORDER[b.why] || (key(a) === key(b) ? 0 : key(a) - key(b)));
}

interface Heard {
  readonly alarms: readonly AlarmBody[] | null;
  readonly entries: readonly EntryBody[] | null;
}

/** The night from `sinceMs` to `nowMs`; `errands` in walking order. */
export function morningOf(
  board: BoardBody,
  errands: readonly Errand[],
  { alarms, entries }: Heard,
  sinceMs: number,
  nowMs: number,
): Morning {
  const since = (iso: string) => Date.parse(iso) >= sinceMs;
  const knownFromMs = Math.max(sinceMs, ...board.zones.map(({ pastMargin }) => Date.parse(pastMargin.from)));
  return {
    knownFromMs: knownFromMs - sinceMs > STEP_MS ? knownFromMs : null,
    changes: board.zones.flatMap((item) => changesOf(item, sinceMs, nowMs)).sort((a, b) => a.atMs - b.atMs),
    nights: board.zones
      .map((item) => nightOf(item, sinceMs, nowMs))
      .filter(({ dewMin, nearMin, coldMin, gapMin }) => dewMin + nearMin + coldMin + gapMin > 0),
    rang: alarms?.filter(({ raisedAt }) => since(raisedAt)) ?? null,
    written: entries?.filter(({ at }) => since(at)) ?? null,
    work: workOrder(board.zones, errands, nowMs),
  };
}
