// The queue of zones to judge: one packet and its neighbours give one judging, and zones take turns with everything else.
export interface ZoneRef {
  readonly site: string;
  readonly zone: string;
}

export interface JudgeQueue {
  /** Judges the zone soon; `sinceMs` is when the reason for it arrived (wall time), null for none. */
  wake(zone: ZoneRef, sinceMs: number | null): void;
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
  const queue = new Map<string, Waiting>();
  let timer: NodeJS.Timeout | null = null;
  let turn: NodeJS.Immediate | null = null;
  let closed = false;

  const plan = (): void => {
    if (closed || turn !== null) return;
    if (timer !== null) clearTimeout(timer);
    timer = null;
    if (queue.size === 0) return;
    const inMs = Math.min(...[...queue.values()].map(({ dueMs }) => dueMs)) - wallMs();
    if (inMs <= 0) turn = setImmediate(next);
    else timer = setTimeout(plan, inMs);
  };
  /** One zone a turn: a judging takes tens of milliseconds, and readings must land in between. */
  const next = (): void => {
    turn = null;
    const nowMs = wallMs();
    const due = [...queue.entries()].find(([, { dueMs }]) => dueMs <= nowMs);
    if (due !== undefined) {
      const [key, { zone, sinceMs, told }] = due;
      queue.delete(key);
      judge(zone, sinceMs);
      for (const tell of told) tell();
    }
    plan();
  };
  const put = (zone: ZoneRef, dueMs: number, sinceMs: number | null): Waiting => {
    const key = `${zone.site}/${zone.zone}`;
    const waiting = queue.get(key) ?? { zone, dueMs, sinceMs, told: [] };
    waiting.dueMs = Math.min(waiting.dueMs, dueMs);
    waiting.sinceMs ??= sinceMs;
    queue.set(key, waiting);
    plan();
    return waiting;
  };

  return {
    wake: (zone, sinceMs) => void put(zone, wallMs() + GATHER_MS, sinceMs),
    now: (zone) =>
      closed ? Promise.resolve() : new Promise((resolve) => put(zone, wallMs(), null).told.push(resolve)),
    waiting: () => queue.size,
    close() {
      closed = true;
      if (timer !== null) clearTimeout(timer);
      if (turn !== null) clearImmediate(turn);
      for (const { told } of queue.values()) for (const tell of told) tell();
      queue.clear();
    },
  };
}
