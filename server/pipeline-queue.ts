// The queue of zones to judge: one packet and its neighbours give one judging, and zones take turns with everything else.
export interface ZoneRef {
  readonly site: string;
  readonly zone: string;
}

export interface JudgeQueue {
  /** Judges the zone soon; `sinceMs` is when the reason for it arrived (wall time), null for none. */
  wake(zone: ZoneRef, sinceMs: number | null): void;
  /** Judges the zone in the round of the minute: when nothing else waits. */
  round(zone: ZoneRef): void;
  /** Judges the zone at the next turn and resolves after that. */
  now(zone: ZoneRef): Promise<void>;
  waiting(): number;
  close(): void;
}

/** Packets of one round arrive within this, ms. A call is due within a second of its packet. */
const GATHER_MS = 150;

interface Waiting {
  readonly zone: ZoneRef;
  dueMs: number;
  sinceMs: number | null;
  readonly told: (() => void)[];
}

/** `judge` must not throw. */
export function createJudgeQueue(
  judge: (zone: ZoneRef, sinceMs: number | null) => void,
  wallMs: () => number,
): JudgeQueue {
  /** Zones of which something was heard, and those whose turn it merely is: a thousand of these must not keep a packet waiting. */
  const soon = new Map<string, Waiting>();
  const round = new Map<string, ZoneRef>();
  let timer: NodeJS.Timeout | null = null;
  let turn: NodeJS.Immediate | null = null;
  let closed = false;

  const plan = (): void => {
    if (closed || turn !== null) return;
    if (timer !== null) clearTimeout(timer);
    timer = null;
    let inMs = round.size > 0 ? 0 : Number.POSITIVE_INFINITY;
    for (const { dueMs } of soon.values()) inMs = Math.min(inMs, dueMs - wallMs());
    if (inMs <= 0) turn = setImmediate(next);
    else if (inMs < Number.POSITIVE_INFINITY) timer = setTimeout(plan, inMs);
  };
  const firstDue = (): readonly [string, Waiting] | null => {
    const nowMs = wallMs();
    for (const entry of soon) if (entry[1].dueMs <= nowMs) return entry;
    return null;
  };
  /** One zone a turn: a judging takes tens of milliseconds, and readings must land in between. */
  const next = (): void => {
    turn = null;
    const due = firstDue();
    if (due !== null) {
      const [key, { zone, sinceMs, told }] = due;
      soon.delete(key);
      judge(zone, sinceMs);
      for (const tell of told) tell();
    } else {
      const [first] = round;
      if (first !== undefined) {
        round.delete(first[0]);
        judge(first[1], null);
      }
    }
    plan();
  };
  const keyOf = ({ site, zone }: ZoneRef) => `${site}/${zone}`;
  const put = (zone: ZoneRef, dueMs: number, sinceMs: number | null): Waiting => {
    const key = keyOf(zone);
    round.delete(key);
    const waiting = soon.get(key) ?? { zone, dueMs, sinceMs, told: [] };
    waiting.dueMs = Math.min(waiting.dueMs, dueMs);
    waiting.sinceMs ??= sinceMs;
    soon.set(key, waiting);
    plan();
    return waiting;
  };

  return {
    wake: (zone, sinceMs) => void put(zone, wallMs() + GATHER_MS, sinceMs),
    round(zone) {
      const key = keyOf(zone);
      if (!soon.has(key)) round.set(key, zone);
      plan();
    },
    now: (zone) =>
      closed ? Promise.resolve() : new Promise((resolve) => put(zone, wallMs(), null).told.push(resolve)),
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
