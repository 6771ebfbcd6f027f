// The queue of zones to judge: one packet and its neighbours give one look, and zones take turns with everything else.
export interface ZoneRef {
  readonly site: string;
  readonly zone: string;
}

export interface JudgeQueue {
  /** Looks at the zone soon; `sinceMs` is when the packet for it arrived (wall time). */
  heard(zone: ZoneRef, sinceMs: number): void;
  /** Judges the zone soon. */
  wake(zone: ZoneRef): void;
  /** Judges the zone in the round of the minute: when nothing else waits. */
  round(zone: ZoneRef): void;
  /** Judges the zone at the next turn and resolves after that. */
  now(zone: ZoneRef): Promise<void>;
  /** Lets go of what it remembers of zones whose key is not among these. */
  forgetOthers(known: ReadonlySet<string>): void;
  waiting(): number;
  close(): void;
}

export const keyOf = ({ site, zone }: ZoneRef): string => `${site}/${zone}`;

export interface QueueWork {
  /** False where the zone must be judged whole. Must not throw. */
  readonly look: (zone: ZoneRef, sinceMs: number | null) => boolean;
  /** Must not throw. */
  readonly judge: (zone: ZoneRef, sinceMs: number | null) => void;
}

/** Packets of one node arrive within this, ms: a look costs little. */
const LOOK_GATHER_MS = 50;
/** Packets of one round arrive within this, and no zone is judged more often for them. A call is due within a second. */
const GATHER_MS = 150;
/**
 * Where packet after packet needs a whole judging (a node brings what it buffered), the gathering doubles up to this, ms:
 * with a few dozen such zones judgings would else take the time in which packets land.
 */
const LONGEST_GATHER_MS = 600;
/** A whole judging takes as long as hundreds of looks: those that are due go first, but no longer than this, ms. */
const PATIENCE_MS = 250;
/**
 * Where a turn came late, since packets without end land between two of them, it takes more than one zone that they speak
 * for: for this share of the time that it waited, and no longer than that, ms.
 */
const LATE_SHARE = 0.5;
const LONGEST_TURN_MS = 100;

interface Waiting {
  readonly zone: ZoneRef;
  dueMs: number;
  sinceMs: number | null;
  /** Judged whole: something else than readings may have changed. */
  whole: boolean;
  /** A look was not enough. */
  looked: boolean;
  readonly told: (() => void)[];
}

export function createJudgeQueue({ look, judge }: QueueWork, wallMs: () => number): JudgeQueue {
  /** Zones of which something was heard, and those whose turn it merely is: a thousand of these must not keep a packet waiting. */
  const soon = new Map<string, Waiting>();
  const round = new Map<string, ZoneRef>();
  /** When a zone was judged whole, and for how long packets are gathered after that. */
  const wholes = new Map<string, { readonly atMs: number; readonly gatherMs: number }>();
  let timer: NodeJS.Timeout | null = null;
  let turn: NodeJS.Immediate | null = null;
  let closed = false;
  /** Since when the next turn is asked for. */
  let askedMs = 0;
  /** Whether the turn before was a whole judging. */
  let wasWhole = false;

  const plan = (): void => {
    if (closed || turn !== null) return;
    if (timer !== null) clearTimeout(timer);
    timer = null;
    let inMs = round.size > 0 ? 0 : Number.POSITIVE_INFINITY;
    for (const { dueMs } of soon.values()) inMs = Math.min(inMs, dueMs - wallMs());
    if (inMs <= 0) {
      askedMs = wallMs();
      turn = setImmediate(next);
    } else if (inMs < Number.POSITIVE_INFINITY) timer = setTimeout(plan, inMs);
  };
  const isForWhole = ({ whole, looked, told }: Waiting): boolean => (whole || looked) && told.length === 0;
  /** Of what is due: a whole judging that has waited long enough, else a look, else a whole judging. */
  const firstDue = (): readonly [string, Waiting] | null => {
    const nowMs = wallMs();
    let overdue: readonly [string, Waiting] | null = null;
    let patient: readonly [string, Waiting] | null = null;
    let light: readonly [string, Waiting] | null = null;
    for (const entry of soon) {
      const [, waiting] = entry;
      if (waiting.dueMs > nowMs) continue;
      if (!isForWhole(waiting)) light ??= entry;
      else if (nowMs - waiting.dueMs >= PATIENCE_MS) overdue ??= entry;
      else patient ??= entry;
    }
    // However many are overdue, every other turn is one of a look.
    if (wasWhole) return light ?? overdue ?? patient;
    return overdue ?? light ?? patient;
  };
  const judgeWhole = (key: string, { zone, sinceMs, whole }: Pick<Waiting, "zone" | "sinceMs" | "whole">): void => {
    const before = wholes.get(key) ?? { atMs: Number.NEGATIVE_INFINITY, gatherMs: 0 };
    const goesOn = wallMs() <= before.atMs + 2 * before.gatherMs;
    judge(zone, sinceMs);
    wasWhole = true;
    const longer = Math.max(GATHER_MS, Math.min(2 * before.gatherMs, LONGEST_GATHER_MS));
    const afterPacket = goesOn ? longer : GATHER_MS;
    // Where no packet asked for it, the next one need not wait: it may do with a look.
    const afterOther = goesOn ? before.gatherMs : 0;
    wholes.set(key, { atMs: wallMs(), gatherMs: sinceMs !== null && !whole ? afterPacket : afterOther });
    round.delete(key);
  };
  const take = (key: string, waiting: Waiting): void => {
    soon.delete(key);
    if (!waiting.whole && !waiting.looked) {
      if (look(waiting.zone, waiting.sinceMs)) return;
      waiting.looked = true;
      const other = firstDue();
      if (other !== null && !isForWhole(other[1])) {
        soon.set(key, waiting);
        return;
      }
    }
    judgeWhole(key, waiting);
    for (const tell of waiting.told) tell();
  };
  const takeOne = (): void => {
    const due = firstDue();
    wasWhole = false;
    if (due !== null) return take(...due);
    const [first] = round;
    if (first === undefined) return;
    round.delete(first[0]);
    judgeWhole(first[0], { zone: first[1], sinceMs: null, whole: true });
  };
  /** One zone a turn, mostly: a judging takes tens of milliseconds, and readings must land in between. */
  const next = (): void => {
    turn = null;
    const startMs = wallMs();
    const untilMs = startMs + Math.min((startMs - askedMs) * LATE_SHARE, LONGEST_TURN_MS);
    do takeOne();
    while (!closed && wallMs() < untilMs && (firstDue()?.[1].sinceMs ?? null) !== null);
    plan();
  };
  const put = (zone: ZoneRef, dueMs: number, sinceMs: number | null, whole: boolean): Waiting => {
    const key = keyOf(zone);
    const waiting = soon.get(key) ?? { zone, dueMs, sinceMs, whole, looked: false, told: [] };
    waiting.dueMs = Math.min(waiting.dueMs, dueMs);
    waiting.sinceMs ??= sinceMs;
    waiting.whole ||= whole;
    soon.set(key, waiting);
    plan();
    return waiting;
  };

  return {
    heard(zone, sinceMs) {
      const { atMs, gatherMs } = wholes.get(keyOf(zone)) ?? { atMs: Number.NEGATIVE_INFINITY, gatherMs: 0 };
      put(zone, Math.max(wallMs() + LOOK_GATHER_MS, atMs + gatherMs), sinceMs, false);
    },
    wake: (zone) => void put(zone, wallMs() + GATHER_MS, null, true),
    round(zone) {
      const key = keyOf(zone);
      if (soon.get(key)?.whole !== true) round.set(key, zone);
      plan();
    },
    now: (zone) =>
      closed ? Promise.resolve() : new Promise((resolve) => put(zone, wallMs(), null, true).told.push(resolve)),
    forgetOthers(known) {
      for (const key of wholes.keys()) if (!known.has(key)) wholes.delete(key);
    },
    waiting: () => soon.size + round.size,
    close() {
      closed = true;
      if (timer !== null) clearTimeout(timer);
      if (turn !== null) clearImmediate(turn);
      for (const { told } of soon.values()) for (const tell of told) tell();
      soon.clear();
      round.clear();
    },
  };
}
